/* Typed fields of YAML maps. */
#include "files/walk.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const node *map_get(const node *map, const char *key) {
    for (int i = 0; map->kind == NODE_MAP && i < map->n_child; i++)
        if (strcmp(map->key[i], key) == 0) return map->child[i];
    return NULL;
}

static const char *kind_name(node_kind kind) {
    return kind == NODE_TEXT ? "a single value" : kind == NODE_LIST ? "a list" : "a map";
}

static bool is_kind(reader *r, const node *at, node_kind kind) {
    if (at->kind == kind) return true;
    complain(r, at, "must be %s, not %s", kind_name(kind), kind_name(at->kind));
    return false;
}

void complain_unknown(reader *r, const node *at, const char *what, const char *name,
                      const char *const *names, int n_name) {
    int near = gradin_nearest_name(name, names, n_name);
    if (near >= 0)
        complain(r, at, "unknown %s '%s'; did you mean '%s'?", what, name, names[near]);
    else if (n_name == 0)
        complain(r, at, "unknown %s '%s'; there is none", what, name);
    else {
        char list[GRADIN_TEXT_CHARS / 2] = "";
        size_t used = 0;
        for (int i = 0; i < n_name && used < sizeof list - 40; i++)
            used +=
                (size_t)snprintf(list + used, sizeof list - used, "%s%s", i ? ", " : "", names[i]);
        complain(r, at, "unknown %s '%s'; allowed: %s%s", what, name, list,
                 used < sizeof list - 40 ? "" : ", ...");
    }
}

enum { MOST_FIELDS = 64 };

/* Complains of each unknown key where it stands; is_meant[n_field] gets the keys that one of them
 * seems to stand for. */
static bool check_keys(reader *r, const node *map, const field *fields, int n_field,
                       bool is_meant[MOST_FIELDS]) {
    const char *names[MOST_FIELDS];
    int n_name = 0, before = r->c.n_error;
    for (int i = 0; i < n_field && n_name < MOST_FIELDS; i++) names[n_name++] = fields[i].key;
    for (int i = 0; i < map->n_child; i++) {
        bool is_known = false;
        for (int k = 0; k < n_name; k++) is_known |= strcmp(map->key[i], names[k]) == 0;
        if (is_known) continue;
        node at = *map->child[i];
        at.place.line = at.key_line;
        at.place.column = at.key_column;
        complain_unknown(r, &at, "key", map->key[i], names, n_name);
        int near = gradin_nearest_name(map->key[i], names, n_name);
        if (near >= 0) is_meant[near] = true;
    }
    return r->c.n_error == before;
}

static char *show(char *out, size_t size, double value) {
    gradin_format_fixed(out, size, value, 4);
    size_t n = strlen(out);
    if (strchr(out, '.'))
        while (n > 1 && (out[n - 1] == '0' || out[n - 1] == '.')) {
            bool is_point = out[--n] == '.';
            out[n] = '\0';
            if (is_point) break;
        }
    return out;
}

static bool within(reader *r, const node *at, double value, double least, double most,
                   double unit) {
    if ((least == 0.0 && most == 0.0) || (value >= least && value <= most)) return true;
    char low[64], high[64];
    if (isinf(most))
        complain(r, at, "is %s; at least %s is allowed", at->text, show(low, 64, least / unit));
    else
        complain(r, at, "is %s; allowed: %s to %s", at->text, show(low, 64, least / unit),
                 show(high, 64, most / unit));
    return false;
}

bool read_number(reader *r, const node *at, double least, double most, double unit, double *out) {
    double value;
    if (!is_kind(r, at, NODE_TEXT)) return false;
    if (at->is_quoted || !gradin_parse_number(at->text, &value)) {
        complain(r, at, "is '%s'; a plain finite number is needed", at->text);
        return false;
    }
    if (!within(r, at, value * unit, least, most, unit)) return false;
    *out = value * unit;
    return true;
}

static bool read_integer(reader *r, const node *at, double least, double most, int *out) {
    double value;
    if (!read_number(r, at, least, most, 1.0, &value)) return false;
    if (value != floor(value) || fabs(value) > 1e9) {
        complain(r, at, "is %s; a whole number is needed", at->text);
        return false;
    }
    *out = (int)value;
    return true;
}

bool read_numbers(reader *r, const node *list, int n_least, int n_most, double least, double most,
                  double unit, double *out, int *n_out) {
    if (!is_kind(r, list, NODE_LIST)) return false;
    if (list->n_child < n_least || list->n_child > n_most) {
        if (n_least == n_most)
            complain(r, list, "has %d values; %d are needed", list->n_child, n_least);
        else
            complain(r, list, "has %d values; %d to %d are allowed", list->n_child, n_least,
                     n_most);
        return false;
    }
    bool good = true;
    for (int i = 0; i < list->n_child; i++)
        good &= read_number(r, list->child[i], least, most, unit, &out[i]);
    if (n_out) *n_out = list->n_child;
    return good;
}

static const double FAR_M = 1e5; /* nothing in a hall's plan lies farther from its origin */

static bool read_point(reader *r, const node *at, gradin_vec2 *out) {
    double xy[2];
    if (!read_numbers(r, at, 2, 2, -FAR_M, FAR_M, r->unit_m, xy, NULL)) return false;
    *out = (gradin_vec2){xy[0], xy[1]};
    return true;
}

bool read_points(reader *r, const node *list, int n_least, gradin_vec2 **point_m, int *n_point) {
    if (!is_kind(r, list, NODE_LIST)) return false;
    if (list->n_child < n_least || list->n_child > 1000) {
        complain(r, list, "has %d points; %d to 1000 are allowed", list->n_child, n_least);
        return false;
    }
    gradin_vec2 *points = alloc(&r->c, list->n_child, sizeof *points);
    if (!points) return false;
    bool good = true;
    for (int i = 0; i < list->n_child; i++) good &= read_point(r, list->child[i], &points[i]);
    *point_m = points;
    *n_point = list->n_child;
    return good;
}

static bool read_polygon(reader *r, const node *at, gradin_polygon *out) {
    gradin_vec2 *corner_m;
    int n_corner;
    if (!read_points(r, at, 3, &corner_m, &n_corner)) return false;
    gradin_polygon polygon = {corner_m, n_corner};
    if (!gradin_polygon_is_simple(polygon) || gradin_polygon_area_m2(polygon) < 1e-6) {
        complain(r, at, "is no simple polygon; edges cross, corners repeat or it has no area");
        return false;
    }
    *out = polygon;
    return true;
}

static bool read_flag(reader *r, const node *at, bool *out) {
    if (!is_kind(r, at, NODE_TEXT)) return false;
    bool is_yes = !strcmp(at->text, "yes") || !strcmp(at->text, "true");
    bool is_no = !strcmp(at->text, "no") || !strcmp(at->text, "false");
    if (is_yes || is_no)
        *out = is_yes;
    else
        complain(r, at, "is '%s'; allowed: yes, no", at->text);
    return is_yes || is_no;
}

static bool read_choice(reader *r, const node *at, const char *const *choice, int *out) {
    if (!is_kind(r, at, NODE_TEXT)) return false;
    int n = 0;
    for (; choice[n]; n++)
        if (strcmp(at->text, choice[n]) == 0) {
            *out = n;
            return true;
        }
    complain_unknown(r, at, "value", at->text, choice, n);
    return false;
}

static bool read_range(reader *r, const node *at, double least, double most, double *out) {
    if (!read_numbers(r, at, 2, 2, least, most, r->unit_m, out, NULL)) return false;
    if (out[0] <= out[1]) return true;
    complain(r, at, "runs from more to less; write [least, most]");
    return false;
}

static bool read_text(reader *r, const node *at, const char **out) {
    if (!is_kind(r, at, NODE_TEXT)) return false;
    if (at->text[0] == '\0' || strlen(at->text) > 200) {
        complain(r, at, "is empty or longer than 200 characters");
        return false;
    }
    for (const char *c = at->text; *c; c++)
        if ((unsigned char)*c < 0x20 || *c == 0x7F) {
            complain(r, at, "holds a control character; one line of plain text is needed");
            return false;
        }
    *out = at->text;
    return true;
}

static bool read_child(reader *r, const node *at, node_kind kind, const node **out) {
    if (!is_kind(r, at, kind)) return false;
    *out = at;
    return true;
}

static bool read_field(reader *r, const node *at, const field *f) {
    switch (f->kind) {
    case FIELD_LENGTH:
        return read_number(r, at, f->least, f->most, r->unit_m, f->out);
    case FIELD_NUMBER:
        return read_number(r, at, f->least, f->most, 1.0, f->out);
    case FIELD_INTEGER:
        return read_integer(r, at, f->least, f->most, f->out);
    case FIELD_TEXT:
        return read_text(r, at, f->out);
    case FIELD_FLAG:
        return read_flag(r, at, f->out);
    case FIELD_CHOICE:
        return read_choice(r, at, f->choice, f->out);
    case FIELD_POINT:
        return read_point(r, at, f->out);
    case FIELD_POLYGON:
        return read_polygon(r, at, f->out);
    case FIELD_RANGE:
        return read_range(r, at, f->least, f->most, f->out);
    case FIELD_LIST:
        return read_child(r, at, NODE_LIST, f->out);
    case FIELD_MAP:
        return read_child(r, at, NODE_MAP, f->out);
    case FIELD_NAME:
        return read_child(r, at, NODE_TEXT, f->out);
    case FIELD_ANY:
        *(const node **)f->out = at;
        return true;
    }
    return false;
}

bool read_fields(reader *r, const node *map, const field *fields, int n_field) {
    if (!is_kind(r, map, NODE_MAP)) return false;
    bool is_meant[MOST_FIELDS] = {false};
    bool good = check_keys(r, map, fields, n_field, is_meant);
    for (int i = 0; i < n_field; i++) {
        const node *at = map_get(map, fields[i].key);
        if (at)
            good &= read_field(r, at, &fields[i]);
        else if (fields[i].is_required) {
            good = false;
            /* A slip in the key is told once, where it stands. */
            if (i >= MOST_FIELDS || !is_meant[i]) complain_key(r, map, fields[i].key, "is missing");
        }
    }
    return good;
}

bool read_head(reader *r, const node *root, const char *format) {
    const char *found = NULL, *units = NULL;
    if (!is_kind(r, root, NODE_MAP)) return false;
    const node *format_at = map_get(root, "format"), *units_at = map_get(root, "units");
    if (!format_at) complain_key(r, root, "format", "is missing; write 'format: %s'", format);
    if (!units_at) complain_key(r, root, "units", "is missing; write 'units: m' or 'units: ft'");
    if (!format_at || !units_at) return false;
    if (!read_text(r, format_at, &found) || !read_text(r, units_at, &units)) return false;
    if (strcmp(found, format) != 0)
        complain(r, format_at, "is '%s'; '%s' is needed", found, format);
    bool is_feet = strcmp(units, "ft") == 0;
    if (!is_feet && strcmp(units, "m") != 0)
        complain(r, units_at, "is '%s'; allowed: m, ft", units);
    r->unit_m = is_feet ? GRADIN_FOOT_M : 1.0;
    r->unit_name = is_feet ? "ft" : "m";
    return r->c.n_error == 0;
}
