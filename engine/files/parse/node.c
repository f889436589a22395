/* YAML to nodes through libyaml's event interface: depth is capped and aliases are refused as they
 * come, before anything deep or cyclic is built. */
#include "files/parse/node.h"

#include "base/digest.h"
#include "files/parse/changes.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <yaml.h>

const gradin_place *place_of(const node *at) {
    return at ? &at->place : NULL;
}

void complain(reader *r, const node *at, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    refuse_list(&r->c, place_of(at), format, arguments);
    va_end(arguments);
}

void complain_key(reader *r, const node *at, const char *key, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    refuse_key_list(&r->c, &at->place, key, format, arguments);
    va_end(arguments);
}

void complain_line(reader *r, const char *file, int line, const char *text) {
    refuse(&r->c, &(gradin_place){.file = file, .line = line, .column = 1}, "%s", text);
}

/* A copy: readers of CSV cut their bytes up. */
static void keep_bytes(reader *r, const void *bytes, size_t size) {
    folded *f = r->folded;
    void *copy = note_failure(&r->c, gradin_arena_alloc(r->c.arena, size, 1));
    if (!copy || !grow(&r->c, (void **)&f->file, f->n, &f->capacity, sizeof *f->file)) return;
    memcpy(copy, bytes, size);
    f->file[f->n++] = (gradin_bytes){copy, size};
}

void reader_digest(reader *r, const void *bytes, size_t size) {
    if (r->digest) gradin_digest_fold(r->digest, bytes, size);
    if (r->folded) keep_bytes(r, bytes, size);
}

typedef struct parse {
    reader *r;
    yaml_parser_t *parser;
} parse;

static node *parse_node(parse *p, const yaml_event_t *event, const char *path, int depth);

static node mark_node(yaml_mark_t mark, const char *path) {
    return (node){
        .place = {.line = (int)mark.line + 1, .column = (int)mark.column + 1, .key = path}};
}

/* libyaml's own complaint, at its place. */
static void complain_parser(parse *p) {
    node at = mark_node(p->parser->problem_mark, "");
    if (p->parser->error == YAML_MEMORY_ERROR)
        note_failure(&p->r->c, NULL);
    else
        complain(p->r, at.place.line > 0 ? &at : NULL, "is no valid YAML: %s",
                 p->parser->problem ? p->parser->problem : "unreadable");
}

static bool next_event(parse *p, yaml_event_t *event) {
    if (yaml_parser_parse(p->parser, event)) return true;
    complain_parser(p);
    return false;
}

static node *new_node(parse *p, const yaml_event_t *event, const char *path, node_kind kind) {
    node *made = alloc(&p->r->c, 1, sizeof *made);
    if (!made) return NULL;
    *made = mark_node(event->start_mark, path);
    made->place.file = p->r->c.file;
    made->kind = kind;
    return made;
}

static node *parse_text(parse *p, const yaml_event_t *event, const char *path) {
    node *made = new_node(p, event, path, NODE_TEXT);
    if (!made) return NULL;
    made->is_quoted = event->data.scalar.style != YAML_PLAIN_SCALAR_STYLE;
    made->text = print_text(&p->r->c, "%s", (const char *)event->data.scalar.value);
    if (strlen((const char *)event->data.scalar.value) != event->data.scalar.length)
        complain(p->r, made, "holds a NUL character");
    if (event->data.scalar.length > MAX_TEXT_CHARS)
        complain(p->r, made, "is longer than %d characters", MAX_TEXT_CHARS);
    return made->text ? made : NULL;
}

static bool append_child(parse *p, node *to, int *capacity, const char *key, node *child) {
    int keys = *capacity;
    if (!grow(&p->r->c, (void **)&to->child, to->n_child, capacity, sizeof *to->child))
        return false;
    if (to->kind == NODE_MAP &&
        !grow(&p->r->c, (void **)&to->key, to->n_child, &keys, sizeof *to->key))
        return false;
    to->child[to->n_child] = child;
    if (to->kind == NODE_MAP) to->key[to->n_child] = key;
    to->n_child++;
    return true;
}

static node *parse_list(parse *p, const yaml_event_t *event, const char *path, int depth) {
    node *list = new_node(p, event, path, NODE_LIST);
    int capacity = 0;
    while (list) {
        yaml_event_t item;
        if (!next_event(p, &item)) return NULL;
        bool is_end = item.type == YAML_SEQUENCE_END_EVENT;
        node *child = NULL;
        if (!is_end) {
            const char *below = print_text(&p->r->c, "%s[%d]", path, list->n_child + 1);
            child = below ? parse_node(p, &item, below, depth + 1) : NULL;
        }
        yaml_event_delete(&item);
        if (is_end) return list;
        if (!child || !append_child(p, list, &capacity, NULL, child)) return NULL;
    }
    return NULL;
}

/* The key of a map entry as text; NULL when it is none or stands twice. */
static const char *parse_key(parse *p, const node *map, const yaml_event_t *event) {
    node at = mark_node(event->start_mark, map->place.key);
    if (event->type != YAML_SCALAR_EVENT || event->data.scalar.anchor) {
        complain(p->r, &at, "has a key that is not plain text");
        return NULL;
    }
    const char *key = (const char *)event->data.scalar.value;
    for (int i = 0; i < map->n_child; i++)
        if (strcmp(map->key[i], key) == 0) {
            at.place.key = map->child[i]->place.key;
            complain(p->r, &at, "stands twice; first in line %d", map->child[i]->key_line);
            return NULL;
        }
    return print_text(&p->r->c, "%s", key);
}

static node *parse_entry(parse *p, const node *map, const char *key, int depth) {
    yaml_event_t value;
    if (!next_event(p, &value)) return NULL;
    const char *below =
        print_text(&p->r->c, "%s%s%s", map->place.key, map->place.key[0] ? "." : "", key);
    node *child = below ? parse_node(p, &value, below, depth + 1) : NULL;
    yaml_event_delete(&value);
    return child;
}

static node *parse_map(parse *p, const yaml_event_t *event, const char *path, int depth) {
    node *map = new_node(p, event, path, NODE_MAP);
    int capacity = 0;
    while (map) {
        yaml_event_t item;
        if (!next_event(p, &item)) return NULL;
        bool is_end = item.type == YAML_MAPPING_END_EVENT;
        const char *name = is_end ? NULL : parse_key(p, map, &item);
        node key = mark_node(item.start_mark, NULL);
        yaml_event_delete(&item);
        if (is_end) return map;
        node *child = name ? parse_entry(p, map, name, depth) : NULL;
        if (child) {
            child->key_line = key.place.line;
            child->key_column = key.place.column;
        }
        if (!child || !append_child(p, map, &capacity, name, child)) return NULL;
    }
    return NULL;
}

static bool has_anchor(const yaml_event_t *event) {
    switch (event->type) {
    case YAML_SCALAR_EVENT:
        return event->data.scalar.anchor != NULL;
    case YAML_SEQUENCE_START_EVENT:
        return event->data.sequence_start.anchor != NULL;
    case YAML_MAPPING_START_EVENT:
        return event->data.mapping_start.anchor != NULL;
    default:
        return event->type == YAML_ALIAS_EVENT;
    }
}

static node *parse_node(parse *p, const yaml_event_t *event, const char *path, int depth) {
    node at = mark_node(event->start_mark, path);
    if (has_anchor(event)) {
        complain(p->r, &at, "uses an anchor or alias; write the value out");
        return NULL;
    }
    if (depth > MAX_DEPTH) {
        complain(p->r, &at, "is nested deeper than %d levels", MAX_DEPTH);
        return NULL;
    }
    switch (event->type) {
    case YAML_SCALAR_EVENT:
        return parse_text(p, event, path);
    case YAML_SEQUENCE_START_EVENT:
        return parse_list(p, event, path, depth);
    case YAML_MAPPING_START_EVENT:
        return parse_map(p, event, path, depth);
    default:
        complain(p->r, &at, "is not expected here");
        return NULL;
    }
}

/* Steps over stream and document start to the root's event; false at an error or an empty file. */
static bool root_event(parse *p, yaml_event_t *event) {
    for (;;) {
        if (!next_event(p, event)) return false;
        if (event->type == YAML_STREAM_END_EVENT) {
            complain(p->r, NULL, "is empty");
            yaml_event_delete(event);
            return false;
        }
        if (event->type != YAML_STREAM_START_EVENT && event->type != YAML_DOCUMENT_START_EVENT)
            return true;
        yaml_event_delete(event);
    }
}

static bool ends_here(parse *p) {
    for (;;) {
        yaml_event_t event;
        if (!next_event(p, &event)) return false;
        yaml_event_type_t type = event.type;
        node at = mark_node(event.start_mark, "");
        yaml_event_delete(&event);
        if (type == YAML_STREAM_END_EVENT) return true;
        if (type == YAML_DOCUMENT_START_EVENT) {
            complain(p->r, &at, "starts a second document; one file holds one");
            return false;
        }
    }
}

static node *parse_document(parse *p) {
    yaml_event_t event;
    if (!root_event(p, &event)) return NULL;
    node *root = parse_node(p, &event, "", 0);
    yaml_event_delete(&event);
    return root && ends_here(p) ? root : NULL;
}

static bool is_free_of_tabs(reader *r, const char *bytes, size_t size) {
    const char *tab = memchr(bytes, '\t', size);
    if (!tab) return true;
    node at = {.place = {.line = 1, .column = 1, .key = ""}};
    for (const char *c = bytes; c < tab; c++) {
        at.place.column = *c == '\n' ? 1 : at.place.column + 1;
        at.place.line += *c == '\n';
    }
    complain(r, &at, "holds a tab; indent with spaces");
    return false;
}

bool was_read(reader *r, const node *at, const char *path, gradin_status status,
              const gradin_error *reason) {
    const char *text = reason->n_diagnostic > 0 ? reason->diagnostic[0].text : "";
    if (status == GRADIN_OK) return true;
    if (status == GRADIN_NO_MEMORY)
        note_failure(&r->c, NULL);
    else if (status != GRADIN_BAD_INPUT)
        r->c.failed =
            gradin_error_add(r->c.error, status, &(gradin_place){.file = path}, "%s", text);
    else if (at)
        complain(r, at, "%s %s", path, text);
    else
        refuse(&r->c, &(gradin_place){.file = path}, "%s", text);
    return false;
}

/* The whole file, or the text given for it; one that cannot be read is an error where another file
 * names it. */
static bool read_bytes(reader *r, const char *path, char **bytes, size_t *size) {
    gradin_error reason = {0};
    if (r->given && path == r->given_path) {
        *bytes = note_failure(&r->c, gradin_arena_copy_text(r->c.arena, r->given));
        *size = strlen(r->given);
        return *bytes != NULL;
    }
    return was_read(r, r->named_by, path,
                    gradin_read_file(r->c.arena, path, MAX_FILE_BYTES, bytes, size, &reason),
                    &reason);
}

static void digest_changes(reader *r) {
    for (int i = 0; i < r->changes->n; i++) {
        const value_change *c = &r->changes->change[i];
        reader_digest(r, c->path, strlen(c->path) + 1);
        reader_digest(r, c->value, strlen(c->value) + 1);
    }
}

node *node_read(reader *r, const char *path) {
    char *bytes = NULL;
    size_t size = 0;
    r->c.file = path;
    if (!read_bytes(r, path, &bytes, &size) || !is_free_of_tabs(r, bytes, size)) return NULL;
    reader_digest(r, bytes, size);
    yaml_parser_t parser;
    if (!yaml_parser_initialize(&parser)) return note_failure(&r->c, NULL);
    yaml_parser_set_encoding(&parser, YAML_UTF8_ENCODING);
    yaml_parser_set_input_string(&parser, (const unsigned char *)bytes, size);
    node *root = parse_document(&(parse){r, &parser});
    yaml_parser_delete(&parser);
    if (root && r->changes) {
        changes_apply(r, root);
        digest_changes(r);
    }
    return root;
}
