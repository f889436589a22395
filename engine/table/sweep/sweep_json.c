/* The points of a study as JSON (reference/sweep-schema.json). */
#include "base/use.h"
#include "gradin/studies/sweep_write.h"
#include "studies/shared/complete.h"
#include "table/shared/cautions.h"
#include "table/shared/report.h"
#include "table/sweep/sweep.h"

static void put_keys(table_json *json, const gradin_study *s) {
    json_t *array = table_json_array(json, json->root, "keys");
    for (int k = 0; k < s->n_varied; k++) {
        const gradin_varied *v = &s->varied[k];
        json_t *key = table_json_append_object(json, array);
        table_json_text(json, key, "name", v->name);
        table_json_text(json, key, "file", gradin_varied_file_name(v->file));
        json_t *paths = table_json_array(json, key, "paths");
        for (int i = 0; i < v->n_path; i++) table_json_append_text(json, paths, v->path[i]);
    }
}

static void put_columns(table_json *json, const gradin_study *s) {
    json_t *array = table_json_array(json, json->root, "figures");
    for (int i = 0; i < s->n_figure; i++) {
        const gradin_study_figure_form *form = table_sweep_form(s, i);
        json_t *figure = table_json_append_object(json, array);
        table_json_text(json, figure, "name", form->word);
        table_json_text(json, figure, "unit", form->unit);
        table_json_text(json, figure, "meaning", form->meaning);
    }
}

/* NULL: none. */
static void put_figures(table_json *json, json_t *parent, const char *key, const gradin_study *s,
                        const gradin_known *figure) {
    json_t *figures = table_json_object(json, parent, key);
    for (int c = 0; c < s->n_figure && figure; c++) {
        table_quantity quantity = table_sweep_quantity(s, c);
        json_t *known = table_json_object(json, figures, table_sweep_form(s, c)->word);
        table_json_number(json, known, "value", quantity, figure[c].value);
        table_json_number(json, known, "low", quantity, figure[c].low);
        table_json_number(json, known, "high", quantity, figure[c].high);
    }
}

static void put_search(table_json *json, const gradin_sweep_result *r) {
    if (!r->sought) {
        table_json_null(json, json->root, "search");
        return;
    }
    json_t *search = table_json_object(json, json->root, "search");
    table_json_integer(json, search, "evaluations", r->sought->n_tried);
    table_json_number(json, search, "combinations", TABLE_COUNT, r->sought->n_all);
    table_json_boolean(json, search, "all_tried", r->sought->is_all);
    table_json_boolean(json, search, "steps_tried", r->sought->is_polished);
    table_json_integer(json, search, "seed", r->study->search.seed);
    put_figures(json, search, "as_written", r->study, r->sought->as_written.figure);
}

static void put_point(table_json *json, json_t *array, const gradin_sweep_result *r, int i) {
    const gradin_sweep_row *row = &r->row[i];
    const gradin_study *s = r->study;
    json_t *point = table_json_append_object(json, array);
    table_json_integer(json, point, "point", row->point);
    json_t *values = table_json_object(json, point, "values");
    for (int k = 0; k < s->n_varied; k++)
        table_json_text(json, values, s->varied[k].name, table_sweep_value(r, i, k));
    table_json_text(json, point, "refused", row->refused);
    table_json_text(json, point, "keeps_needs",
                    row->refused ? NULL : table_sweep_keeps(r->verdict[i]));
    put_figures(json, point, "figures", s, row->figure);
}

static void put_effects(table_json *json, const gradin_sweep_result *r) {
    json_t *array = table_json_array(json, json->root, "effects");
    const gradin_study *s = r->study;
    for (int e = 0; e < r->n_effect; e++) {
        json_t *effect = table_json_append_object(json, array);
        table_json_text(json, effect, "key", s->varied[r->effect[e].key].name);
        table_json_text(json, effect, "value", r->effect[e].value);
        table_json_integer(json, effect, "points", r->effect[e].n_point);
        json_t *means = table_json_object(json, effect, "means");
        for (int c = 0; c < s->n_figure; c++)
            table_json_number(json, means, table_sweep_form(s, c)->word, table_sweep_quantity(s, c),
                              r->effect[e].mean[c]);
    }
}

static void put_best(table_json *json, const char *key, const gradin_sweep_result *r, int row) {
    if (row >= 0 && r->study->n_aim > 0)
        table_json_integer(json, json->root, key, r->row[row].point);
    else
        table_json_null(json, json->root, key);
}

gradin_status gradin_sweep_json(gradin_arena *arena, const gradin_sweep_result *result, char **text,
                                size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK || sweep_complete(result, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    const gradin_study *s = result->study;
    table_json json = table_json_begin("gradin-sweep-1", NULL);
    table_json_text(&json, json.root, "name", s->name);
    table_json_text(&json, json.root, "digest", s->digest);
    put_search(&json, result);
    put_keys(&json, s);
    put_columns(&json, s);
    table_json_integer(&json, json.root, "refused", result->n_refused);
    put_best(&json, "best", result, result->best_sure);
    put_best(&json, "best_as_stated", result, result->best_stated);
    put_best(&json, "nearest", result, result->nearest);
    json_t *front = table_json_array(&json, json.root, "front");
    for (int i = 0; i < result->n_front; i++)
        table_json_append_integer(&json, front, result->row[result->front[i]].point);
    put_effects(&json, result);
    json_t *points = table_json_array(&json, json.root, "points");
    for (int i = 0; i < result->n_row; i++) put_point(&json, points, result, i);
    table_json_cautions(&json, table_caution, 0, TABLE_N_CAUTION);
    return table_json_end(arena, &json, text, size, error);
}
