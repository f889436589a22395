/* Every key of every kind of file: filled with random values within its limits, written, read back.
 * And the tables in themselves: sizes, defaults, words. */
#include "files/schema/read.h"
#include "files/schema/write.h"
#include "files/stated/files.h"
#include "files/stated/layout.h"
#include "files/stated/noise.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

typedef struct filler {
    gradin_arena *arena;
    uint64_t state;
    double unit_m;
    int n_name;
} filler;

static uint32_t draw(filler *f) {
    f->state = f->state * 6364136223846793005u + 1442695040888963407u;
    return (uint32_t)(f->state >> 33);
}

static int below(filler *f, int n) {
    return (int)(draw(f) % (uint32_t)n);
}

/* A number of few digits within the limits, as a file would state it. */
static double number(filler *f, const schema_key *key) {
    bool is_free = key->least == 0.0 && key->most == 0.0;
    double unit = key->unit == UNIT_LENGTH ? f->unit_m : 1.0;
    double least = (is_free ? -90.0 : key->least) / unit;
    double most = (is_free ? 90.0 : fmin(key->most, 1e9)) / unit;
    double share = 0.05 + 0.9 * (below(f, 1000) / 1000.0), written;
    char text[64];
    snprintf(text, sizeof text, "%.4g", least + share * (most - least));
    gradin_parse_number(text, &written);
    return schema_from_file(key->unit, f->unit_m, written);
}

static const char *name(filler *f) {
    int n = f->n_name++;
    return gradin_arena_print(f->arena, n % 3 ? "N %d" : "no, %d", n);
}

static void fill_map(filler *f, const schema_table *table, char *item);

static int list_length(filler *f, const schema_key *key) {
    int least = key->n_least > 0 ? key->n_least : 1;
    int most = key->n_most > 0 && key->n_most < least + 3 ? key->n_most : least + 2;
    return least + below(f, most - least + 1);
}

static void *list(filler *f, const schema_key *key, char *item, size_t size, int *n) {
    *n = list_length(f, key);
    char *made = gradin_arena_alloc(f->arena, (size_t)*n, size);
    memcpy(item + key->offset, &made, sizeof made);
    memcpy(item + key->count_offset, n, sizeof *n);
    return made;
}

static void fill_numbers(filler *f, const schema_key *key, double *value, int n) {
    for (int i = 0; i < n; i++) value[i] = number(f, key);
    if (key->kind == SCHEMA_RANGE && value[0] > value[1]) {
        double swap = value[0];
        value[0] = value[1];
        value[1] = swap;
    }
}

static void fill_polygon(filler *f, gradin_polygon *polygon) {
    gradin_vec2 *corner = gradin_arena_alloc(f->arena, 3, sizeof *corner);
    double size_m = (1 + below(f, 50)) * 0.5 * f->unit_m;
    corner[1].x = size_m;
    corner[2] = (gradin_vec2){0.1 * f->unit_m, size_m};
    *polygon = (gradin_polygon){corner, 3};
}

static void fill_integer(filler *f, const schema_key *key, void *at) {
    int n = key->choice ? 0 : (int)ceil(key->least) + below(f, 3);
    while (key->choice && key->choice[n]) n++;
    int value = key->choice ? below(f, n) : n;
    memcpy(at, &value, sizeof value);
}

static void fill_lists(filler *f, const schema_key *key, char *item) {
    int n;
    if (key->kind == SCHEMA_NUMBERS) {
        double *value = list(f, key, item, sizeof *value, &n);
        fill_numbers(f, key, value, n);
    } else if (key->kind == SCHEMA_POINTS) {
        gradin_vec2 *point = list(f, key, item, sizeof *point, &n);
        fill_numbers(f, key, &point[0].x, 2 * n);
    } else if (key->kind == SCHEMA_NAMES) {
        const char **names = list(f, key, item, sizeof *names, &n);
        for (int i = 0; i < n; i++) names[i] = name(f);
    } else if (key->kind == SCHEMA_CHOICES) {
        int *choice = list(f, key, item, sizeof *choice, &n);
        for (int i = 0; i < n; i++) fill_integer(f, key, &choice[i]);
    } else {
        char *made = list(f, key, item, key->below->size, &n);
        for (int i = 0; i < n; i++) fill_map(f, key->below, made + (size_t)i * key->below->size);
    }
}

static void fill_value(filler *f, const schema_key *key, char *item) {
    char *at = item + key->offset;
    const char *text = key->kind == SCHEMA_CLOCK ? "19:30" : name(f);
    bool flag = below(f, 2);
    switch (key->kind) {
    case SCHEMA_NUMBER:
        fill_numbers(f, key, (double *)(void *)at, 1);
        return;
    case SCHEMA_POINT:
    case SCHEMA_RANGE:
        fill_numbers(f, key, (double *)(void *)at, 2);
        return;
    case SCHEMA_ROW:
        fill_numbers(f, key, (double *)(void *)at, key->n_most);
        return;
    case SCHEMA_SPECTRUM:
        fill_numbers(f, key, (double *)(void *)at, GRADIN_N_BAND);
        return;
    case SCHEMA_INTEGER:
    case SCHEMA_CHOICE:
        fill_integer(f, key, at);
        return;
    case SCHEMA_FLAG:
        memcpy(at, &flag, sizeof flag);
        return;
    case SCHEMA_TEXT:
    case SCHEMA_NAME:
    case SCHEMA_FILE:
    case SCHEMA_CLOCK:
        memcpy(at, &text, sizeof text);
        return;
    case SCHEMA_POLYGON:
        fill_polygon(f, (gradin_polygon *)(void *)at);
        return;
    case SCHEMA_MAP:
        fill_map(f, key->below, at);
        return;
    case SCHEMA_MAP_PTR: {
        char *made = gradin_arena_alloc(f->arena, 1, key->below->size);
        fill_map(f, key->below, made);
        memcpy(at, &made, sizeof made);
        return;
    }
    case SCHEMA_FORMAT:
    case SCHEMA_UNITS:
        return;
    default:
        fill_lists(f, key, item);
    }
}

/* Would this key break a rule beside those that are filled already? */
static bool is_barred(const schema_table *table, const char *word, const bool *is_filled) {
    for (int r = 0; r < table->n_rule; r++) {
        const schema_rule *rule = &table->rule[r];
        bool is_exclusive = rule->kind == RULE_ONE_OF || rule->kind == RULE_CLASH;
        bool is_in = false, is_other = false;
        for (int i = 0; i < MAX_RULE_KEY && rule->key[i]; i++) {
            is_in |= strcmp(rule->key[i], word) == 0;
            for (int k = 0; k < table->n_key; k++)
                is_other |= is_filled[k] && strcmp(table->key[k].key, rule->key[i]) == 0 &&
                            strcmp(rule->key[i], word) != 0;
        }
        if (is_exclusive && is_in && is_other) return true;
    }
    return false;
}

/* What a key needs beside it, or NULL. */
static const char *needed(const schema_table *table, const char *word) {
    for (int r = 0; r < table->n_rule; r++)
        if (table->rule[r].kind == RULE_NEEDS && strcmp(table->rule[r].key[0], word) == 0)
            return table->rule[r].key[1];
    return NULL;
}

static int index_of_key(const schema_table *table, const char *word) {
    for (int i = 0; word && i < table->n_key; i++)
        if (strcmp(table->key[i].key, word) == 0) return i;
    return -1;
}

/* Each key with one chance in four left out, unless it must be there. */
static void fill_map(filler *f, const schema_table *table, char *item) {
    const schema_table *form = table;
    bool is_filled[64] = {false};
    int n_form = 0;
    while (table->form && table->form[n_form]) n_form++;
    if (n_form > 0) form = table->form[below(f, n_form)];
    schema_set_presets(form, item);
    for (int i = 0, next; i < form->n_key; i = next) {
        next = schema_next_key(form, i);
        const schema_key *key = &form->key[i + below(f, next - i)];
        int beside = index_of_key(form, needed(form, key->key));
        bool is_skipped = !key->is_required && form->n_rule == 0 && below(f, 4) == 0;
        bool is_impossible = beside > i || (beside >= 0 && !is_filled[beside]);
        if (key->refused || is_skipped || is_impossible || is_barred(form, key->key, is_filled))
            continue;
        fill_value(f, key, item);
        is_filled[i] = true;
    }
    int kind = table->form_key ? index_of_key(form, table->form_key) : -1;
    for (int c = 0; kind >= 0 && form->key[kind].choice[c]; c++)
        if (!form->form_value ? c == 0 : strcmp(form->key[kind].choice[c], form->form_value) == 0)
            memcpy(item + form->key[kind].offset, &c, sizeof c);
}

static char *write_file(gradin_arena *arena, const schema_file *file, const void *item,
                        double unit_m) {
    schema_text out = {
        .arena = arena, .unit_m = unit_m, .unit_name = unit_m == 1.0 ? "m" : "ft", .decimals = -1};
    schema_write(&out, file->root, item, file->root->size, 0);
    cr_assert(!out.has_failed && !out.missing, "%s: %s", file->kind, out.missing);
    return out.bytes;
}

static void round_trip(const schema_file *file, uint64_t seed, double unit_m) {
    gradin_arena *arena = gradin_arena_create();
    filler f = {.arena = arena, .state = seed, .unit_m = unit_m};
    gradin_error error = {0};
    char *item = gradin_arena_alloc(arena, 1, file->root->size), line[1000] = "";
    char *again = gradin_arena_alloc(arena, 1, file->root->size);
    fill_map(&f, file->root, item);
    char *text = write_file(arena, file, item, unit_m);
    reader r = {.c = {.arena = arena, .error = &error}, .unit_m = 1.0, .given = text};
    r.given_path = "made.yaml";
    schema_read_file(&r, r.given_path, file, again, file->root->size);
    if (error.n_diagnostic > 0) gradin_diagnostic_format(&error.diagnostic[0], line, sizeof line);
    cr_assert_eq(error.n_diagnostic, 0, "%s\n%s", line, text);
    char *twice = write_file(arena, file, again, unit_m);
    cr_assert_str_eq(twice, text);
    gradin_arena_destroy(arena);
}

Test(tables, what_is_written_reads_back) {
    for (int i = 0; schema_files[i]; i++)
        for (uint64_t seed = 1; seed <= 40; seed++) {
            round_trip(schema_files[i], seed, 1.0);
            round_trip(schema_files[i], seed, GRADIN_FOOT_M);
        }
}

static int collect(const schema_table *table, const schema_table **found, int n) {
    for (int i = 0; i < n; i++)
        if (found[i] == table) return n;
    found[n++] = table;
    cr_assert_lt(n, 160);
    for (int f = 0; table->form && table->form[f]; f++) n = collect(table->form[f], found, n);
    for (int i = 0; i < table->n_key; i++)
        if (table->key[i].below) n = collect(table->key[i].below, found, n);
    return n;
}

static void check_key(const schema_table *table, const schema_key *key) {
    const char *where = table->name;
    if (key->refused) return;
    cr_assert(key->meaning && key->meaning[0], "%s.%s has no meaning", where, key->key);
    cr_assert(!key->is_required || !key->preset_note, "%s.%s: required, yet with a default", where,
              key->key);
    cr_assert(key->least <= key->most, "%s.%s", where, key->key);
    cr_assert_lt(key->offset, table->size);
    if (key->kind == SCHEMA_NUMBER && isnan(key->preset) && !key->is_required)
        cr_assert(key->preset_note, "%s.%s: what holds without it?", where, key->key);
}

Test(tables, each_key_is_whole) {
    const schema_table *found[160];
    int n = 0;
    for (int i = 0; schema_files[i]; i++) n = collect(schema_files[i]->root, found, n);
    for (int t = 0; t < n; t++) {
        cr_assert_leq(found[t]->n_key, 64, "%s", found[t]->name);
        for (int other = 0; other < t; other++)
            cr_assert_str_neq(found[t]->name, found[other]->name);
        for (int i = 0; i < found[t]->n_key; i++) check_key(found[t], &found[t]->key[i]);
        for (int f = 0; found[t]->form && found[t]->form[f]; f++)
            cr_assert_eq(found[t]->form[f]->size, found[t]->size, "%s", found[t]->name);
    }
}

static bool same(double a, double b) {
    return a == b || (isnan(a) && isnan(b));
}

/* The defaults of the tables are those of the library. */
Test(tables, defaults_are_the_library_s) {
    gradin_audience audience, own = gradin_audience_defaults();
    stated_rating rating;
    gradin_limits limits = gradin_limits_defaults(GRADIN_FORM_CUSTOM);
    gradin_rail_entry rail, own_rail = gradin_rail_entry_defaults();
    gradin_focus focus, own_focus = gradin_focus_defaults();
    schema_set_presets(&audience_table, &audience);
    schema_set_presets(&rating_table, &rating);
    schema_set_presets(&rail_table, &rail);
    schema_set_presets(&focus_table, &focus);
    cr_assert_arr_eq(&audience, &own, sizeof own);
    for (int i = 0; i < 3; i++) { /* those of distance depend on the form, of two rows on C's */
        cr_assert(isnan(rating.limits.distance_max_m[i]));
        cr_assert(isnan(rating.limits.two_row_c_min_m[i]));
        rating.limits.distance_max_m[i] = limits.distance_max_m[i];
        rating.limits.two_row_c_min_m[i] = limits.two_row_c_min_m[i];
    }
    cr_assert_arr_eq(&rating.limits, &limits, offsetof(gradin_limits, is_left_out));
    cr_assert(rail.thickness_m == own_rail.thickness_m && rail.n_bar == own_rail.n_bar &&
              rail.post_spacing_m == own_rail.post_spacing_m && same(rail.foot_m, own_rail.foot_m));
    cr_assert(focus.weight == own_focus.weight && same(focus.z_m, own_focus.z_m));
}

Test(tables, defaults_of_files_are_the_library_s) {
    stated_pass pass;
    gradin_pass own = gradin_pass_defaults();
    schema_set_presets(pass_schema.root, &pass);
    cr_assert(pass.air.temperature_c == own.temperature_c &&
              pass.air.humidity_pct == own.humidity_pct &&
              pass.air.pressure_kpa == own.pressure_kpa);
    gradin_venue venue = gradin_venue_defaults();
    stated_crew crew;
    stated_loads loads;
    schema_set_presets(&crew_table, &crew);
    schema_set_presets(&loads_table, &loads);
    cr_assert(crew.rail_crew == venue.crew.rail_crew && crew.power_kw == venue.crew.power_kw);
    cr_assert_eq(loads.person_kg, venue.occupancy.person_kg);
}
