/* Single values of a file replaced, after it is parsed and before anything reads it: so a changed
 * value is held to all that holds for a written one, and is complained of in its place. */
#include "files/parse/changes.h"

#include <stdlib.h>
#include <string.h>

static bool is_end(const char *at) {
    return *at == '\0' || *at == '.' || *at == '[';
}

/* Takes one step from *at; false when there is none that could be taken. */
static bool take_step(reader *r, const char **at, path_step *step) {
    const char *from = *at, *to = from;
    step->is_entry = *from == '[';
    if (step->is_entry) {
        to = strchr(++from, ']');
        if (!to || to == from) return false;
        *at = to + 1;
    } else {
        while (!is_end(to)) to++;
        if (to == from) return false;
        *at = to;
    }
    step->text = print_text(&r->c, "%.*s", (int)(to - from), from);
    return step->text && is_end(*at);
}

int path_steps(reader *r, const gradin_place *at, const char *path,
               path_step step[MOST_PATH_STEPS]) {
    const char *rest = path;
    int n = 0;
    while (n < MOST_PATH_STEPS && take_step(r, &rest, &step[n])) {
        n++;
        if (*rest == '\0') return step[0].is_entry ? 0 : n;
        if (*rest == '.') rest++;
    }
    if (r->c.failed == GRADIN_OK)
        refuse(&r->c, at, "'%s' is no path of a key; write key.key[entry].key", path);
    return 0;
}

typedef struct walk {
    reader *r;
    value_change *change;
    path_step step[MOST_PATH_STEPS];
    int n;
} walk;

static void lacks(walk *w, const char *what, const char *name) {
    w->r->changes->has_failed = true;
    refuse(&w->r->c, w->change->at, "%s: %s has no %s '%s'", w->change->path, w->r->c.file, what,
           name);
}

static node *new_child(walk *w, const node *parent, const char *key, node_kind kind) {
    node *made = alloc(&w->r->c, 1, sizeof *made);
    if (!made) return NULL;
    made->kind = kind;
    made->place = parent->place;
    made->place.key =
        print_text(&w->r->c, "%s%s%s", parent->place.key, parent->place.key[0] ? "." : "", key);
    made->key_line = parent->place.line;
    made->key_column = parent->place.column;
    return made;
}

static void append(walk *w, node *map, const char *key, node *child) {
    size_t n = (size_t)map->n_child;
    node **children = alloc(&w->r->c, map->n_child + 1, sizeof(node *));
    const char **keys = alloc(&w->r->c, map->n_child + 1, sizeof(char *));
    if (!children || !keys || !child) return;
    if (n > 0) memcpy(children, map->child, n * sizeof *children);
    if (n > 0) memcpy(keys, map->key, n * sizeof *keys);
    children[n] = child;
    keys[n] = key;
    map->child = children;
    map->key = keys;
    map->n_child++;
}

static int find_child(const node *map, const char *key) {
    for (int i = 0; i < map->n_child; i++)
        if (strcmp(map->key[i], key) == 0) return i;
    return -1;
}

/* By its name, or where it has none by what it goes `from`. */
static const char *entry_name(const node *entry) {
    static const char *const key[] = {"name", "from"};
    for (int k = 0; k < 2 && entry->kind == NODE_MAP; k++) {
        int i = find_child(entry, key[k]);
        if (i >= 0 && entry->child[i]->kind == NODE_TEXT) return entry->child[i]->text;
    }
    return NULL;
}

static int find_entry(const node *list, const char *name) {
    char *end;
    for (int i = 0; i < list->n_child; i++) {
        const char *own = entry_name(list->child[i]);
        if (own && strcmp(own, name) == 0) return i;
    }
    long count = strtol(name, &end, 10);
    return *end == '\0' && count >= 1 && count <= list->n_child ? (int)count - 1 : -1;
}

static void follow(walk *w, node *at, int i);

static node *make_text(walk *w, const node *old, const char *text) {
    node *made = alloc(&w->r->c, 1, sizeof *made);
    if (!made) return NULL;
    *made = *old;
    made->kind = NODE_TEXT;
    made->text = text;
    made->is_quoted = false;
    made->n_child = 0;
    return made;
}

/* "[1, 2, 3]": values without brackets or commas of their own. */
static node *make_list(walk *w, const node *old, const char *text) {
    node *list = make_text(w, old, NULL);
    int capacity = 0;
    if (!list) return NULL;
    list->kind = NODE_LIST;
    list->child = NULL;
    for (const char *at = text + 1; *at && *at != ']';) {
        size_t blanks = strspn(at, " "), length = strcspn(at + blanks, ",]");
        int end = (int)length;
        while (end > 0 && at[blanks + (size_t)end - 1] == ' ') end--;
        char *item = print_text(&w->r->c, "%.*s", end, at + blanks);
        if (!item ||
            !grow(&w->r->c, (void **)&list->child, list->n_child, &capacity, sizeof *list->child))
            return NULL;
        list->child[list->n_child++] = make_text(w, old, item);
        at += blanks + length;
        if (*at == ',') at++;
    }
    return list;
}

/* The value itself stands where the old one stood. */
static void replace(walk *w, node **child) {
    const char *value = w->change->value;
    node *made = value[0] == '[' ? make_list(w, *child, value) : make_text(w, *child, value);
    if (!made) return;
    *child = made;
    w->change->n_done++;
}

static void go_on(walk *w, node **child, int i) {
    if (i + 1 == w->n)
        replace(w, child);
    else
        follow(w, *child, i + 1);
}

static void follow_entries(walk *w, node *list, int i) {
    const char *name = w->step[i].text;
    if (list->kind != NODE_LIST) {
        lacks(w, "entry", name);
        return;
    }
    if (strcmp(name, "*") == 0) {
        for (int k = 0; k < list->n_child; k++) go_on(w, &list->child[k], i);
        return;
    }
    int k = find_entry(list, name);
    if (k < 0)
        lacks(w, "entry", name);
    else
        go_on(w, &list->child[k], i);
}

/* A key that the file leaves out is put in; a list that it leaves out has no entries. */
static void follow(walk *w, node *at, int i) {
    const char *key = w->step[i].text;
    if (w->step[i].is_entry) {
        follow_entries(w, at, i);
        return;
    }
    if (at->kind != NODE_MAP) {
        lacks(w, "map with the key", key);
        return;
    }
    int k = find_child(at, key);
    bool is_last = i + 1 == w->n, wants_list = !is_last && w->step[i + 1].is_entry;
    if (k < 0 && wants_list) {
        lacks(w, "list", key);
        return;
    }
    if (k < 0) {
        append(w, at, key, new_child(w, at, key, is_last ? NODE_TEXT : NODE_MAP));
        k = find_child(at, key);
    }
    if (k >= 0) go_on(w, &at->child[k], i);
}

void changes_apply(reader *r, node *root) {
    int at = root->kind == NODE_MAP ? find_child(root, "format") : -1;
    const char *format = at >= 0 ? root->child[at]->text : NULL;
    for (int i = 0; format && i < r->changes->n; i++) {
        walk w = {.r = r, .change = &r->changes->change[i]};
        if (strcmp(w.change->format, format) != 0) continue;
        w.n = path_steps(r, w.change->at, w.change->path, w.step);
        if (w.n > 0) follow(&w, root, 0);
    }
}
