/* Maps of a file into structs. */
#include "files/schema/read.h"

#include "files/schema/values.h"

#include <string.h>

enum { MOST_KEYS = 64 };

/* A map of a partial table must have its first key, a map below that none: the rest may stand
 * elsewhere. */
typedef enum part_of { WHOLE, PART, BELOW_PART } part_of;

static part_of below_of(part_of part) {
    return part == WHOLE ? WHOLE : BELOW_PART;
}

static bool read_map(reader *r, const node *map, const schema_table *table, part_of part,
                     char *item);

/* The value of the key under its own or its former word, or NULL. */
static const node *value_of(reader *r, const node *map, const schema_key *key) {
    const node *at = map_get(map, key->key);
    const node *old = key->old ? map_get(map, key->old) : NULL;
    if (!old) return at;
    if (at)
        complain_key(r, map, key->old, "is the old word for '%s', which stands here too", key->key);
    else
        note_old_word(r, "key", key->old, key->key);
    return at ? at : old;
}

/* Structs whose first key is their name. */
static void check_unique(reader *r, const node *list) {
    for (int i = 0; i < list->n_child; i++) {
        const node *name = map_get(list->child[i], "name");
        for (int k = 0; name && name->kind == NODE_TEXT && k < i; k++) {
            const node *other = map_get(list->child[k], "name");
            if (!other || other->kind != NODE_TEXT || strcmp(other->text, name->text) != 0)
                continue;
            complain(r, list->child[i], "has the name '%s' of entry %d", name->text, k + 1);
            break;
        }
    }
}

static bool read_list(reader *r, const node *at, const schema_key *key, char *item) {
    if (!value_count(r, at, key)) return false;
    char *made = alloc(&r->c, at->n_child, key->below->size);
    int before = r->c.n_error;
    if (!made) return false;
    for (int i = 0; i < at->n_child; i++)
        read_map(r, at->child[i], key->below, WHOLE, made + (size_t)i * key->below->size);
    if (key->are_names_unique) check_unique(r, at);
    memcpy(item + key->offset, &made, sizeof made);
    memcpy(item + key->count_offset, &at->n_child, sizeof(int));
    return r->c.n_error == before;
}

static bool read_map_apart(reader *r, const node *at, const schema_key *key, part_of part,
                           char *item) {
    char *made = alloc(&r->c, 1, key->below->size);
    if (!made) return false;
    memcpy(item + key->offset, &made, sizeof made);
    return read_map(r, at, key->below, below_of(part), made);
}

static bool read_value(reader *r, const node *at, const schema_key *key, part_of part, char *item) {
    void *out = item + key->offset;
    switch (key->kind) {
    case SCHEMA_NUMBER:
        return value_number(r, at, key, out);
    case SCHEMA_INTEGER:
        return value_integer(r, at, key, out);
    case SCHEMA_TEXT:
        return value_text(r, at, out);
    case SCHEMA_NAME:
        return value_name(r, at, out);
    case SCHEMA_NAMES:
        return list_names(r, at, key, item);
    case SCHEMA_FILE:
        return value_file(r, at, key, out);
    case SCHEMA_CLOCK:
        return value_clock(r, at, out);
    case SCHEMA_FLAG:
        return value_flag(r, at, key, out);
    case SCHEMA_CHOICE:
        return value_choice(r, at, key, out);
    case SCHEMA_CHOICES:
        return list_choices(r, at, key, item);
    case SCHEMA_POINT:
        return value_point(r, at, key, out);
    case SCHEMA_POLYGON:
        return value_polygon(r, at, key, out);
    case SCHEMA_POINTS:
        return list_points(r, at, key, item);
    case SCHEMA_RANGE:
        return value_range(r, at, key, out);
    case SCHEMA_ROW:
        return value_numbers(r, at, key, out);
    case SCHEMA_NUMBERS:
        return list_numbers(r, at, key, item);
    case SCHEMA_SPECTRUM:
        return value_spectrum(r, at, key, out);
    case SCHEMA_MAP:
        return value_is_kind(r, at, NODE_MAP) && read_map(r, at, key->below, below_of(part), out);
    case SCHEMA_MAP_PTR:
        return value_is_kind(r, at, NODE_MAP) && read_map_apart(r, at, key, part, item);
    case SCHEMA_LIST:
        return read_list(r, at, key, item);
    case SCHEMA_FORMAT:
    case SCHEMA_UNITS:
        return true;
    }
    return false;
}

static node_kind node_kind_of(schema_kind kind) {
    switch (kind) {
    case SCHEMA_MAP:
    case SCHEMA_MAP_PTR:
        return NODE_MAP;
    case SCHEMA_NAMES:
    case SCHEMA_CHOICES:
    case SCHEMA_POINT:
    case SCHEMA_POLYGON:
    case SCHEMA_POINTS:
    case SCHEMA_RANGE:
    case SCHEMA_ROW:
    case SCHEMA_NUMBERS:
    case SCHEMA_SPECTRUM:
    case SCHEMA_LIST:
        return NODE_LIST;
    default:
        return NODE_TEXT;
    }
}

/* Of the rows key[0..n) for one word, the one that the value's kind asks for. */
static const schema_key *alternative(const schema_key *key, int n, const node *at) {
    for (int i = 0; i < n; i++)
        if (node_kind_of(key[i].kind) == at->kind) return &key[i];
    return key;
}

/* Complains of each unknown key where it stands; is_meant[] gets the keys that one of them seems
 * to stand for. */
static void check_keys(reader *r, const node *map, const schema_table *table,
                       bool is_meant[MOST_KEYS]) {
    const char *names[MOST_KEYS];
    int row[MOST_KEYS], n_name = 0;
    for (int i = 0; i < table->n_key && n_name < MOST_KEYS; i = schema_next_key(table, i)) {
        row[n_name] = i;
        names[n_name++] = table->key[i].key;
    }
    for (int i = 0; i < map->n_child; i++) {
        bool is_known = false;
        for (int k = 0; k < n_name; k++) {
            const char *old = table->key[row[k]].old;
            is_known |= strcmp(map->key[i], names[k]) == 0 || (old && !strcmp(map->key[i], old));
        }
        if (is_known) continue;
        node at = *map->child[i];
        at.place.line = at.key_line;
        at.place.column = at.key_column;
        complain_unknown(r, &at, "key", map->key[i], names, n_name);
        int near = gradin_nearest_name(map->key[i], names, n_name);
        if (near >= 0) is_meant[row[near]] = true;
    }
}

/* What has no place in this map is told once for the map, or at each key. */
static bool is_refused(reader *r, const node *map, const schema_key *key, const char **told) {
    if (!key->refused) return false;
    if (!map_get(map, key->key)) return true;
    if (key->is_refused_at_key)
        complain_key(r, map, key->key, "%s", key->refused);
    else if (*told != key->refused)
        complain(r, map, "%s", key->refused);
    *told = key->refused;
    return true;
}

static bool is_nested(schema_kind kind) {
    return kind == SCHEMA_MAP || kind == SCHEMA_MAP_PTR || kind == SCHEMA_LIST;
}

/* How many complaints are of this map itself, and not of maps below it. */
static int read_keys(reader *r, const node *map, const schema_table *table, part_of part,
                     char *item) {
    bool is_meant[MOST_KEYS] = {false};
    int before = r->c.n_error, below = 0;
    const char *told = NULL;
    check_keys(r, map, table, is_meant);
    for (int i = 0, next; i < table->n_key; i = next) {
        const schema_key *key = &table->key[i];
        next = schema_next_key(table, i);
        if (is_refused(r, map, key, &told)) continue;
        const node *at = value_of(r, map, key);
        int so_far = r->c.n_error;
        if (at) {
            key = alternative(key, next - i, at);
            read_value(r, at, key, part, item);
            if (is_nested(key->kind)) below += r->c.n_error - so_far;
        } else if (key->is_required && !is_meant[i] && (part == WHOLE || (part == PART && i == 0)))
            /* A slip in the key is told once, where it stands. */
            complain_key(r, map, key->key, "is missing");
    }
    return r->c.n_error - before - below;
}

static bool keeps_rule(const node *map, const schema_rule *rule) {
    int n = 0;
    for (int i = 0; i < MAX_RULE_KEY && rule->key[i]; i++) n += map_get(map, rule->key[i]) != NULL;
    bool has_first = map_get(map, rule->key[0]) != NULL;
    switch (rule->kind) {
    case RULE_ONE_OF:
        return n == 1;
    case RULE_ANY_OF:
        return n > 0;
    case RULE_NEEDS:
        return !has_first || n == 2;
    case RULE_CLASH:
        return !has_first || n == 1;
    case RULE_AS_MANY:
        return n < 2 || map_get(map, rule->key[0])->n_child == map_get(map, rule->key[1])->n_child;
    }
    return false;
}

static bool check_rules(reader *r, const node *map, const schema_table *table) {
    bool good = true;
    for (int i = 0; i < table->n_rule; i++) {
        const schema_rule *rule = &table->rule[i];
        if (keeps_rule(map, rule)) continue;
        good = false;
        if (rule->is_at_key)
            complain_key(r, map, rule->key[0], "%s", rule->text);
        else
            complain(r, map, "%s", rule->text);
    }
    return good;
}

/* The table itself, or the form that the map asks for; NULL after a complaint. */
static const schema_table *form_of(reader *r, const node *map, const schema_table *table) {
    if (!table->form) return table;
    const node *value = table->form_key ? map_get(map, table->form_key) : NULL;
    for (int i = 0; table->form[i]; i++) {
        const schema_table *form = table->form[i];
        if (table->form_key ? value && value->kind == NODE_TEXT && form->form_value &&
                                  strcmp(value->text, form->form_value) == 0
                            : map_get(map, form->key[form->decider].key) != NULL)
            return form;
    }
    if (table->form_key) return table->form[0];
    complain(r, map, "%s", table->form_text);
    return NULL;
}

static bool read_map(reader *r, const node *map, const schema_table *table, part_of part,
                     char *item) {
    schema_set_presets(table, item);
    if (!value_is_kind(r, map, NODE_MAP)) return false;
    const schema_table *form = form_of(r, map, table);
    if (!form) return false;
    if (form != table) schema_set_presets(form, item);
    int before = r->c.n_error;
    if (table->partial_of) part = PART;
    bool good = read_keys(r, map, form, part, item) == 0 && check_rules(r, map, form);
    const gradin_place *place = place_of(map);
    if (table->has_node && good) memcpy(item + table->at_offset, &map, sizeof map);
    if (table->has_place && good) memcpy(item + table->at_offset, &place, sizeof place);
    return r->c.n_error == before && r->c.failed == GRADIN_OK;
}

bool schema_read(reader *r, const node *map, const schema_table *table, void *item, size_t size) {
    if (size != table->size) {
        r->c.failed = GRADIN_BAD_USE;
        return false;
    }
    return read_map(r, map, table, WHOLE, item) && r->c.failed == GRADIN_OK;
}

bool schema_read_head(reader *r, const node *root, const char *format) {
    const char *found = NULL, *units = NULL;
    if (!value_is_kind(r, root, NODE_MAP)) return false;
    const node *format_at = map_get(root, "format"), *units_at = map_get(root, "units");
    if (!format_at) complain_key(r, root, "format", "is missing; write 'format: %s'", format);
    if (!units_at) complain_key(r, root, "units", "is missing; write 'units: m' or 'units: ft'");
    if (!format_at || !units_at) return false;
    if (!value_text(r, format_at, &found) || !value_text(r, units_at, &units)) return false;
    if (strcmp(found, format) != 0)
        complain(r, format_at, "is '%s'; '%s' is needed", found, format);
    bool is_feet = strcmp(units, "ft") == 0;
    if (!is_feet && strcmp(units, "m") != 0)
        complain(r, units_at, "is '%s'; allowed: m, ft", units);
    r->unit_m = is_feet ? GRADIN_FOOT_M : 1.0;
    r->unit_name = is_feet ? "ft" : "m";
    return r->c.n_error == 0;
}

const node *schema_read_file(reader *r, const char *path, const schema_file *file, void *item,
                             size_t size) {
    const node *root = node_read(r, path);
    if (!root || !schema_read_head(r, root, file->format)) return NULL;
    schema_read(r, root, file->root, item, size);
    return root;
}
