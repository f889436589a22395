/* Structs as YAML text. */
#include "files/schema/write.h"

#include "files/schema/values.h"

#include <string.h>

static void write_flow(schema_text *out, const schema_table *table, const char *item);

/* What is left out */

static int count_of(const schema_key *key, const char *item) {
    int n;
    memcpy(&n, item + key->count_offset, sizeof n);
    return n;
}

static const void *pointer_of(const schema_key *key, const char *item) {
    const void *pointer;
    memcpy(&pointer, item + key->offset, sizeof pointer);
    return pointer;
}

static bool same(double a, double b) {
    return a == b || (isnan(a) && isnan(b));
}

static bool is_row_preset(const schema_key *key, const double *value, int n) {
    for (int i = 0; i < n; i++)
        if (!same(value[i], schema_preset(key, i))) return false;
    return true;
}

static const schema_table *form_of(const schema_table *table, const char *item);

static bool is_map_preset(const schema_table *table, const char *item);

static bool is_preset(const schema_key *key, const char *item) {
    const double *value = (const double *)(const void *)(item + key->offset);
    switch (key->kind) {
    case SCHEMA_NUMBER:
        return is_row_preset(key, value, 1);
    case SCHEMA_POINT:
    case SCHEMA_RANGE:
        return is_row_preset(key, value, 2);
    case SCHEMA_ROW:
        return is_row_preset(key, value, key->n_most);
    case SCHEMA_SPECTRUM:
        return is_row_preset(key, value, GRADIN_N_BAND);
    case SCHEMA_INTEGER:
    case SCHEMA_CHOICE:
        return *(const int *)(const void *)(item + key->offset) == (int)key->preset;
    case SCHEMA_FLAG:
        return !isnan(key->preset) && *(const bool *)(item + key->offset) == (key->preset != 0.0);
    case SCHEMA_POLYGON:
        return ((const gradin_polygon *)(const void *)(item + key->offset))->n_corner == 0;
    case SCHEMA_MAP:
        return is_map_preset(key->below, item + key->offset);
    case SCHEMA_NAMES:
    case SCHEMA_CHOICES:
    case SCHEMA_POINTS:
    case SCHEMA_NUMBERS:
    case SCHEMA_LIST:
        return count_of(key, item) == 0;
    case SCHEMA_FORMAT:
    case SCHEMA_UNITS:
        return false;
    default:
        return pointer_of(key, item) == NULL;
    }
}

/* A map whose keys all stand at their defaults says nothing. */
static bool is_map_preset(const schema_table *table, const char *item) {
    const schema_table *form = form_of(table, item);
    for (int i = 0; form && i < form->n_key; i++)
        if (!form->key[i].refused && !is_preset(&form->key[i], item)) return false;
    return true;
}

bool schema_says_nothing(const schema_table *table, const void *item) {
    return is_map_preset(table, item);
}

static const schema_table *form_of(const schema_table *table, const char *item) {
    if (!table->form) return table;
    for (int i = 0; table->form[i]; i++) {
        const schema_table *form = table->form[i];
        const schema_key *key = &form->key[form->decider];
        if (!table->form_key && !is_preset(key, item)) return form;
        for (int k = 0; table->form_key && form->form_value && k < form->n_key; k++) {
            if (strcmp(form->key[k].key, table->form_key) != 0) continue;
            int choice = *(const int *)(const void *)(item + form->key[k].offset);
            if (strcmp(form->key[k].choice[choice], form->form_value) == 0) return form;
        }
    }
    return table->form[0];
}

/* Values */

static void put_numbers(schema_text *out, const schema_key *key, const double *value, int n) {
    schema_put(out, "[");
    for (int i = 0; i < n; i++) {
        if (i > 0) schema_put(out, ", ");
        schema_put_number(out, key, value[i]);
    }
    schema_put(out, "]");
}

static void put_points(schema_text *out, const schema_key *key, const gradin_vec2 *point, int n) {
    schema_put(out, "[");
    for (int i = 0; i < n; i++) {
        if (i > 0) schema_put(out, ", ");
        put_numbers(out, key, (const double[]){point[i].x, point[i].y}, 2);
    }
    schema_put(out, "]");
}

/* Six octaves where they say the same. */
static void put_spectrum(schema_text *out, const schema_key *key, const double *band) {
    double octave[6], spread[GRADIN_N_BAND];
    for (int i = 0; i < 6; i++) octave[i] = band[3 * i + 3];
    octaves_to_thirds(octave, spread);
    if (memcmp(spread, band, sizeof spread) == 0)
        put_numbers(out, key, octave, 6);
    else if (key->takes_rated && isnan(band[0]))
        put_numbers(out, key, band + GRADIN_BAND_100_HZ, GRADIN_N_RATED_BAND);
    else
        put_numbers(out, key, band, GRADIN_N_BAND);
}

static void put_choices(schema_text *out, const schema_key *key, const int *choice, int n) {
    for (int i = 0; i < n; i++) schema_put(out, "%s%s", i > 0 ? ", " : "[", key->choice[choice[i]]);
    schema_put(out, "]");
}

static void put_names(schema_text *out, const char *const *name, int n) {
    for (int i = 0; i < n; i++) {
        schema_put(out, i > 0 ? ", " : "[");
        schema_put_text(out, name[i]);
    }
    schema_put(out, "]");
}

static void put_list(schema_text *out, const schema_key *key, const char *items, int n) {
    for (int i = 0; i < n; i++) {
        schema_put(out, i > 0 ? ", " : "[");
        write_flow(out, key->below, items + (size_t)i * key->below->size);
    }
    schema_put(out, "]");
}

static void put_integer(schema_text *out, const schema_key *key, int value) {
    if (key->word && value == key->word_value)
        schema_put(out, "%s", key->word);
    else
        schema_put(out, "%d", value);
}

static void put_text(schema_text *out, const schema_key *key, const char *text) {
    if (!text)
        out->missing = key->key;
    else if (key->kind == SCHEMA_CLOCK)
        schema_put(out, "\"%s\"", text);
    else
        schema_put_text(out, text);
}

/* Any value within a line. */
static void put_value(schema_text *out, const schema_key *key, const char *item) {
    const void *at = item + key->offset;
    const gradin_polygon *polygon = at;
    switch (key->kind) {
    case SCHEMA_NUMBER:
        schema_put_number(out, key, *(const double *)at);
        return;
    case SCHEMA_INTEGER:
        put_integer(out, key, *(const int *)at);
        return;
    case SCHEMA_TEXT:
    case SCHEMA_NAME:
    case SCHEMA_FILE:
    case SCHEMA_CLOCK:
        put_text(out, key, pointer_of(key, item));
        return;
    case SCHEMA_FLAG:
        schema_put(out, *(const bool *)at ? "yes" : "no");
        return;
    case SCHEMA_CHOICE:
        schema_put(out, "%s", key->choice[*(const int *)at]);
        return;
    case SCHEMA_NAMES:
        put_names(out, pointer_of(key, item), count_of(key, item));
        return;
    case SCHEMA_CHOICES:
        put_choices(out, key, pointer_of(key, item), count_of(key, item));
        return;
    case SCHEMA_POINT:
    case SCHEMA_RANGE:
        put_numbers(out, key, at, 2);
        return;
    case SCHEMA_POLYGON:
        put_points(out, key, polygon->corner_m, polygon->n_corner);
        return;
    case SCHEMA_POINTS:
        put_points(out, key, pointer_of(key, item), count_of(key, item));
        return;
    case SCHEMA_ROW:
        put_numbers(out, key, at, key->n_most);
        return;
    case SCHEMA_NUMBERS:
        put_numbers(out, key, pointer_of(key, item), count_of(key, item));
        return;
    case SCHEMA_SPECTRUM:
        put_spectrum(out, key, at);
        return;
    case SCHEMA_MAP:
        write_flow(out, key->below, at);
        return;
    case SCHEMA_MAP_PTR:
        write_flow(out, key->below, pointer_of(key, item));
        return;
    case SCHEMA_LIST:
        put_list(out, key, pointer_of(key, item), count_of(key, item));
        return;
    case SCHEMA_FORMAT:
        schema_put(out, "%s", key->choice[0]);
        return;
    case SCHEMA_UNITS:
        schema_put(out, "%s", out->unit_name);
        return;
    }
}

/* Maps */

/* The row of the word that says something; the first when it must be there; NULL: left out. */
static const schema_key *to_write(const schema_table *form, int first, int next, const char *item) {
    for (int i = first; i < next; i++)
        if (!form->key[i].refused && !is_preset(&form->key[i], item)) return &form->key[i];
    const schema_key *key = &form->key[first];
    bool is_needed = (key->is_required || key->is_always_written) && !key->refused;
    return is_needed ? &form->key[first] : NULL;
}

static void write_flow(schema_text *out, const schema_table *table, const char *item) {
    const schema_table *form = form_of(table, item);
    bool is_first = true;
    schema_put(out, "{");
    for (int i = 0, next; i < form->n_key; i = next) {
        next = schema_next_key(form, i);
        const schema_key *key = to_write(form, i, next, item);
        if (!key) continue;
        schema_put(out, "%s%s: ", is_first ? "" : ", ", key->key);
        put_value(out, key, item);
        is_first = false;
    }
    schema_put(out, "}");
}

/* Is it written on lines of its own below the key? */
static bool is_spread(const schema_key *key) {
    bool is_map = key->kind == SCHEMA_MAP || key->kind == SCHEMA_MAP_PTR;
    if (is_map) return key->below->style == STYLE_BLOCK;
    return key->kind == SCHEMA_LIST && (key->below->style == STYLE_BLOCK || key->below->is_line);
}

static void write_key(schema_text *out, const schema_key *key, const char *item, int indent) {
    schema_put(out, "%s:", key->key);
    if (!is_spread(key)) {
        schema_put(out, " ");
        put_value(out, key, item);
        schema_put(out, "\n");
        return;
    }
    schema_put(out, "\n");
    const char *below = key->kind == SCHEMA_MAP ? item + key->offset : pointer_of(key, item);
    if (key->kind != SCHEMA_LIST) {
        schema_write(out, key->below, below, key->below->size, indent + 2);
        return;
    }
    for (int i = 0; i < count_of(key, item); i++)
        schema_write_item(out, key->below, below + (size_t)i * key->below->size, key->below->size,
                          indent + 2);
}

/* The first line may follow a dash. */
static void write_lines(schema_text *out, const schema_table *table, const char *item, int indent,
                        bool is_first_indented) {
    const schema_table *form = form_of(table, item);
    bool is_indented = is_first_indented;
    for (int i = 0, next; i < form->n_key; i = next) {
        next = schema_next_key(form, i);
        const schema_key *key = to_write(form, i, next, item);
        if (!key) continue;
        if (is_indented) schema_put(out, "%*s", indent, "");
        is_indented = true;
        write_key(out, key, item, indent);
    }
}

void schema_write(schema_text *out, const schema_table *table, const void *item, size_t size,
                  int indent) {
    if (size != table->size) {
        out->has_failed = true;
        return;
    }
    write_lines(out, table, item, indent, true);
}

void schema_write_item(schema_text *out, const schema_table *table, const void *item, size_t size,
                       int indent) {
    if (size != table->size) {
        out->has_failed = true;
        return;
    }
    schema_put(out, "%*s- ", indent, "");
    if (table->style == STYLE_BLOCK) {
        write_lines(out, table, item, indent + 2, false);
        return;
    }
    write_flow(out, table, item);
    schema_put(out, "\n");
}
