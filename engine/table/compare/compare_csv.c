/* One line per seat of the first layout beside each other one, then the seats that only the other
 * has. RFC 4180; a figure that does not apply leaves its cell empty. */
#include "base/use.h"
#include "studies/shared/complete.h"
#include "table/compare/words.h"

#include "gradin/studies/compare_write.h"

#include <string.h>

/* One pass writes the names (change NULL) or the cells of a line. */
typedef struct line {
    table_text *text;
    const gradin_comparison *c;
    const gradin_compared_pair *pair;
    const gradin_seat_change *change;
    int n_cell;
} line;

static bool is_head(line *l) {
    if (l->n_cell++ > 0) table_put(l->text, ",");
    return !l->change;
}

static void put_name(line *l, int of, const char *name) {
    table_put(l->text, of == 1 ? "other_" : "");
    table_put_columns(l->text, name);
}

static void number_cell(line *l, int of, const char *name, table_quantity quantity, double value) {
    if (is_head(l))
        put_name(l, of, name);
    else
        table_put_number(l->text, quantity, value);
}

static void text_cell(line *l, int of, const char *name, const char *value) {
    if (is_head(l))
        put_name(l, of, name);
    else
        table_put_quoted(l->text, value);
}

static const gradin_assessment *side_of(const line *l, int of) {
    return l->c->layout[of == 0 ? l->pair->first : l->pair->second].assessment;
}

static void put_seat(line *l, int of) {
    int i = l->change ? l->change->seat[of] : -1;
    const gradin_assessment *a = i >= 0 ? side_of(l, of) : NULL;
    const gradin_seats *s = a ? &a->model->seats : NULL;
    text_cell(l, of, "seat", a ? s->id[i] : "");
    text_cell(l, of, "block", a ? a->model->block_name[s->block[i]] : "");
    text_cell(l, of, "kind", a ? gradin_seat_kind_name(s->kind[i]) : "");
    number_cell(l, of, "x_m", TABLE_METRE, a ? s->floor_m[i].x : NAN);
    number_cell(l, of, "y_m", TABLE_METRE, a ? s->floor_m[i].y : NAN);
    number_cell(l, of, "floor_z_m", TABLE_METRE, a ? s->floor_m[i].z : NAN);
    text_cell(l, of, "rating", a ? gradin_rating_name(a->sight.rating[i]) : "");
    bool is_judged = a && a->has_noise;
    text_cell(l, of, "noise_verdict", is_judged ? gradin_verdict_name(a->noise.verdict[i]) : "");
}

static void put_figure_number(line *l, gradin_figure figure, const char *before, const char *what,
                              double value) {
    if (is_head(l))
        table_print(l->text, "%s%s%s_%s", before, table_figure_key(figure), what,
                    table_figure_unit_key(figure));
    else
        table_put_number(l->text, table_figure_quantity(figure),
                         table_figure_scale(figure) * value);
}

static void put_figure(line *l, gradin_figure figure) {
    const gradin_seat_change *c = l->change;
    put_figure_number(l, figure, "", "", c ? c->value[0][figure] : NAN);
    put_figure_number(l, figure, "other_", "", c ? c->value[1][figure] : NAN);
    put_figure_number(l, figure, "", "_change", c ? c->change[figure] : NAN);
    put_figure_number(l, figure, "", "_told_from", c ? c->tells[figure] : NAN);
    if (is_head(l))
        table_print(l->text, "%s_effect", table_figure_key(figure));
    else
        table_put(l->text, table_effect_name(c->effect[figure]));
}

static void put_line(table_text *text, const gradin_comparison *c, const gradin_compared_pair *pair,
                     const gradin_seat_change *change) {
    line l = {text, c, pair, change, 0};
    bool is_matched = change && change->matched != GRADIN_MATCHED_NOT;
    text_cell(&l, 0, "layout", change ? table_compare_name(c, pair->first) : "");
    text_cell(&l, 1, "layout", change ? table_compare_name(c, pair->second) : "");
    text_cell(&l, 0, "matched_by", change ? table_matched_name(change->matched) : "");
    number_cell(&l, 0, "apart_m", TABLE_METRE, change ? change->apart_m : NAN);
    put_seat(&l, 0);
    put_seat(&l, 1);
    number_cell(&l, 0, "classes_better", TABLE_COUNT,
                is_matched ? (double)change->steps : (double)NAN);
    text_cell(&l, 0, "cause",
              is_matched && change->steps != 0 ? table_figure_name(change->cause) : "");
    for (int k = 0; k < GRADIN_N_FIGURE; k++) put_figure(&l, (gradin_figure)k);
    table_put(text, "\r\n");
}

gradin_status gradin_compare_csv(gradin_arena *arena, const gradin_comparison *comparison,
                                 gradin_csv_units units, char **text, size_t *size,
                                 gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        comparison_complete(comparison, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena, .is_in_feet = units == GRADIN_CSV_FEET};
    put_line(&out, comparison, NULL, NULL);
    for (int p = 0; p + 1 < comparison->n_layout; p++)
        for (int i = 0; i < comparison->pair[p].n_change; i++)
            put_line(&out, comparison, &comparison->pair[p], &comparison->pair[p].change[i]);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the seat table");
    *text = out.bytes;
    *size = out.size;
    return GRADIN_OK;
}

static gradin_status write_both(gradin_arena *arena, const gradin_comparison *comparison,
                                gradin_csv_units units, const char *dir, gradin_error *error) {
    char *csv = NULL, *json = NULL;
    size_t csv_size = 0, json_size = 0;
    gradin_status status = gradin_compare_csv(arena, comparison, units, &csv, &csv_size, error);
    if (status == GRADIN_OK)
        status = gradin_compare_json(arena, comparison, &json, &json_size, error);
    if (status == GRADIN_OK)
        status = table_write_file(arena, dir, "compare.csv", csv, csv_size, error);
    if (status == GRADIN_OK)
        status = table_write_file(arena, dir, "compare.json", json, json_size, error);
    return status;
}

gradin_status gradin_compare_tables_write(const gradin_comparison *comparison,
                                          gradin_csv_units units, const char *dir,
                                          gradin_error *error) {
    if (NEEDS(error, dir) != GRADIN_OK || comparison_complete(comparison, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_arena *arena = gradin_arena_create();
    if (!arena) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the tables");
    gradin_status status = write_both(arena, comparison, units, dir, error);
    gradin_arena_destroy(arena);
    return status;
}
