/* Layouts compared as JSON, keys in a fixed order: reference/compare-schema.json. */
#include "base/use.h"
#include "studies/shared/complete.h"
#include "table/assess/summary_limits.h"
#include "table/compare/words.h"
#include "table/shared/cautions.h"
#include "table/shared/report.h"

#include "gradin/studies/compare_write.h"

static void put_layout(table_json *json, json_t *array, const gradin_comparison *c, int i) {
    const gradin_compared_layout *l = &c->layout[i];
    const gradin_model *m = l->assessment->model;
    char letter[2] = {table_compare_letter(i), '\0'};
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "letter", letter);
    table_json_text(json, object, "layout", m->layout_name);
    table_json_text(json, object, "venue", m->venue_name);
    table_json_text(json, object, "input_digest", m->digest);
    table_json_integer(json, object, "samples", l->assessment->sight.n_sample);
    table_json_integer(json, object, "draws",
                       l->assessment->has_crowd ? l->assessment->crowd.n_draw : 0);
    table_json_boolean(json, object, "beaten", !l->is_on_front);
    table_json_number(json, object, "clear_pct", TABLE_PERCENT, 100.0 * l->aim[GRADIN_AIM_CLEAR]);
    table_json_number(json, object, "clear_or_good_pct", TABLE_PERCENT,
                      100.0 * l->aim[GRADIN_AIM_GOOD]);
    table_json_number(json, object, "changeover_into_s", TABLE_COUNT,
                      l->aim[GRADIN_AIM_CHANGEOVER]);
    table_json_sums(json, table_json_object(json, object, "all"), &l->all);
    json_t *blocks = table_json_array(json, object, "blocks");
    for (int k = 0; k < c->n_block; k++) {
        if (l->block[k].n_seat == 0) continue;
        json_t *block = table_json_append_object(json, blocks);
        table_json_text(json, block, "block", c->block_name[k]);
        table_json_sums(json, table_json_object(json, block, "sums"), &l->block[k]);
    }
    table_summary_limits_json(json, object, l->assessment);
    json_t *noise = table_json_object(json, object, "noise_limits");
    table_json_number(json, noise, "nc", TABLE_NOISE_CRITERION, m->criterion.nc);
    table_json_number(json, noise, "lamax_dba", TABLE_DECIBEL, m->criterion.lamax_dba);
    table_json_number(json, noise, "confidence", TABLE_SECOND, m->criterion.confidence);
}

static void put_way(table_json *json, json_t *array, const gradin_comparison *c, int k) {
    const gradin_compared_changeover *way = &c->changeover[k];
    int n = c->n_layout;
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "from", table_compare_name(c, k / n));
    table_json_text(json, object, "to", table_compare_name(c, k % n));
    table_json_text(json, object, "why_not", way->is_planned ? NULL : way->why_not);
    double none = way->is_planned ? 0.0 : (double)NAN;
    table_json_number(json, object, "total_s", TABLE_COUNT, none + way->plan.total_s);
    table_json_number(json, object, "lower_bound_s", TABLE_COUNT, none + way->plan.lower_bound_s);
    table_json_number(json, object, "person_hours", TABLE_SECOND, none + way->plan.person_hours);
    table_json_number(json, object, "crew_peak", TABLE_COUNT, none + way->plan.crew_peak);
}

static void put_verdicts(table_json *json, gradin_arena *arena, const gradin_comparison *c) {
    json_t *verdict = table_json_array(json, json->root, "verdict");
    for (int p = 0; p + 1 < c->n_layout; p++) {
        table_text text = {.arena = arena};
        table_compare_verdict(&text, c, p);
        json->failed |= text.failed;
        if (!text.failed) table_json_append_text(json, verdict, text.bytes);
    }
    table_text text = {.arena = arena};
    table_compare_front(&text, c);
    json->failed |= text.failed;
    if (!text.failed) table_json_append_text(json, verdict, text.bytes);
}

gradin_status gradin_compare_json(gradin_arena *arena, const gradin_comparison *comparison,
                                  char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        comparison_complete(comparison, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    int n = comparison->n_layout;
    table_json json = table_json_begin("gradin-compare-1", NULL);
    put_verdicts(&json, arena, comparison);
    json_t *layouts = table_json_array(&json, json.root, "layouts");
    for (int i = 0; i < n; i++) put_layout(&json, layouts, comparison, i);
    json_t *pairs = table_json_array(&json, json.root, "pairs");
    for (int p = 0; p + 1 < n; p++) table_compare_pair_json(&json, pairs, comparison, p);
    json_t *ways = table_json_array(&json, json.root, "changeovers");
    for (int k = 0; k < n * n; k++)
        if (k / n != k % n) put_way(&json, ways, comparison, k);
    table_json_cautions(&json, table_caution, 0, TABLE_N_CAUTION);
    return table_json_end(arena, &json, text, size, error);
}
