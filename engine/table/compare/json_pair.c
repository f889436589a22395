/* Two layouts seat by seat, as JSON. */
#include "table/compare/words.h"
#include "table/shared/json_spread.h"

#include <stdio.h>
#include <string.h>

static void put_ratings(table_json *json, json_t *parent, const gradin_seat_sums *sum) {
    json_t *object = table_json_object(json, parent, "rating");
    for (int k = 0; k < GRADIN_N_RATING; k++)
        table_json_integer(json, object, gradin_rating_name((gradin_rating)k), sum->n_rating[k]);
}

/* "visible_pct" ... */
static char *key_of(gradin_figure figure, char key[64]) {
    snprintf(key, 64, "%s_%s", table_figure_key(figure), table_figure_unit_key(figure));
    return key;
}

void table_json_sums(table_json *json, json_t *parent, const gradin_seat_sums *sum) {
    char key[64];
    table_json_integer(json, parent, "seats", sum->n_seat);
    table_json_integer(json, parent, "wheelchair_places", sum->n_wheelchair);
    table_json_integer(json, parent, "companion_seats", sum->n_companion);
    put_ratings(json, parent, sum);
    json_t *reasons = table_json_object(json, parent, "not_clear_by");
    for (int k = 0; k < GRADIN_FIGURE_LAMAX; k++)
        table_json_integer(json, reasons, table_figure_key((gradin_figure)k),
                           sum->n_reason[k + GRADIN_REASON_VISIBLE]);
    json_t *noise = table_json_object(json, parent, "noise");
    table_json_integer(json, noise, "within", sum->n_verdict[GRADIN_VERDICT_WITHIN]);
    table_json_integer(json, noise, "too_near_to_tell", sum->n_verdict[GRADIN_VERDICT_NEAR]);
    table_json_integer(json, noise, "over", sum->n_verdict[GRADIN_VERDICT_OVER]);
    for (int k = 0; k < GRADIN_N_FIGURE; k++)
        table_json_spread(json, parent, key_of((gradin_figure)k, key),
                          table_figure_quantity((gradin_figure)k), &sum->figure[k],
                          table_figure_scale((gradin_figure)k));
}

static void put_causes(table_json *json, json_t *parent, const char *key, const int *n) {
    json_t *object = table_json_object(json, parent, key);
    for (int k = 0; k < GRADIN_FIGURE_LAMAX; k++)
        table_json_integer(json, object, table_figure_key((gradin_figure)k), n[k]);
}

static void put_effects(table_json *json, json_t *parent, const gradin_change_sums *sum) {
    json_t *figures = table_json_object(json, parent, "figures");
    for (int k = 0; k < GRADIN_N_FIGURE; k++) {
        json_t *object = table_json_object(json, figures, table_figure_key((gradin_figure)k));
        table_json_integer(json, object, "better", sum->n_effect[k][GRADIN_EFFECT_BETTER]);
        table_json_integer(json, object, "no_difference", sum->n_effect[k][GRADIN_EFFECT_SAME]);
        table_json_integer(json, object, "worse", sum->n_effect[k][GRADIN_EFFECT_WORSE]);
    }
}

static void put_changes(table_json *json, json_t *parent, const gradin_change_sums *sum) {
    table_json_integer(json, parent, "matched_by_name", sum->n_matched[GRADIN_MATCHED_NAME]);
    table_json_integer(json, parent, "matched_by_place", sum->n_matched[GRADIN_MATCHED_PLACE]);
    table_json_integer(json, parent, "matched_by_mirror", sum->n_matched[GRADIN_MATCHED_MIRROR]);
    table_json_integer(json, parent, "only_in_first", sum->n_alone[0]);
    table_json_integer(json, parent, "only_in_second", sum->n_alone[1]);
    table_json_integer(json, parent, "better", sum->n_better);
    table_json_integer(json, parent, "same", sum->n_same);
    table_json_integer(json, parent, "worse", sum->n_worse);
    put_causes(json, parent, "better_by", sum->n_cause[1]);
    put_causes(json, parent, "worse_by", sum->n_cause[0]);
    put_effects(json, parent, sum);
}

static void put_tells(table_json *json, json_t *parent, const gradin_compared_pair *pair) {
    json_t *object = table_json_object(json, parent, "told_from");
    char key[64];
    for (int k = 0; k < GRADIN_N_FIGURE; k++)
        table_json_number(
            json, object, key_of((gradin_figure)k, key), table_figure_quantity((gradin_figure)k),
            table_figure_scale((gradin_figure)k) * table_compare_tells(pair, (gradin_figure)k));
}

static void put_largest(table_json *json, json_t *array, const gradin_comparison *c,
                        const gradin_compared_pair *pair, const gradin_seat_change *change) {
    const gradin_assessment *a = c->layout[pair->first].assessment,
                            *b = c->layout[pair->second].assessment;
    const double *seen[2] = {change->value[0], change->value[1]};
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "seat", a->model->seats.id[change->seat[0]]);
    table_json_text(json, object, "other_seat", b->model->seats.id[change->seat[1]]);
    table_json_text(json, object, "matched_by", table_matched_name(change->matched));
    table_json_text(json, object, "rating", gradin_rating_name(a->sight.rating[change->seat[0]]));
    table_json_text(json, object, "other_rating",
                    gradin_rating_name(b->sight.rating[change->seat[1]]));
    table_json_integer(json, object, "classes_better", change->steps);
    table_json_text(json, object, "cause",
                    change->steps != 0 ? table_figure_key(change->cause) : NULL);
    table_json_number(json, object, "visible_pct", TABLE_PERCENT,
                      100.0 * seen[0][GRADIN_FIGURE_VISIBLE]);
    table_json_number(json, object, "other_visible_pct", TABLE_PERCENT,
                      100.0 * seen[1][GRADIN_FIGURE_VISIBLE]);
    table_json_text(json, object, "hidden_by", gradin_cause_name(change->hidden));
    table_json_number(json, object, "hidden_change_pct", TABLE_PERCENT,
                      100.0 * change->hidden_change);
    table_json_number(json, object, "lamax_change_db", TABLE_DECIBEL,
                      change->change[GRADIN_FIGURE_LAMAX]);
}

static void put_alone(table_json *json, json_t *parent, const char *key, const gradin_comparison *c,
                      const gradin_compared_pair *pair, int of) {
    json_t *array = table_json_array(json, parent, key);
    const gradin_model *m = c->layout[of == 0 ? pair->first : pair->second].assessment->model;
    for (int i = 0; i < pair->n_change; i++)
        if (pair->change[i].matched == GRADIN_MATCHED_NOT && pair->change[i].seat[of] >= 0)
            table_json_append_text(json, array, m->seats.id[pair->change[i].seat[of]]);
}

static void put_other_limits(table_json *json, json_t *parent, const gradin_compared_pair *pair) {
    json_t *array = table_json_array(json, parent, "other_limits_of");
    for (int k = GRADIN_REASON_VISIBLE; k < (int)GRADIN_N_REASON; k++)
        if (pair->is_limit_other[k])
            table_json_append_text(json, array, gradin_reason_name((gradin_reason)k));
    table_json_boolean(json, parent, "other_noise_limits", pair->is_criterion_other);
    table_json_boolean(json, parent, "other_focus", pair->is_focus_other);
    table_json_integer(json, parent, "common_focus_areas", pair->n_common_focus);
}

void table_compare_pair_json(table_json *json, json_t *array, const gradin_comparison *c, int p) {
    static const char *const by[GRADIN_N_MATCH_BY] = {"name", "place", "mirror"};
    const gradin_compared_pair *pair = &c->pair[p];
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "first", table_compare_name(c, pair->first));
    table_json_text(json, object, "second", table_compare_name(c, pair->second));
    table_json_text(json, object, "match", by[pair->by]);
    table_json_boolean(json, object, "mirror_found", pair->is_mirror_found);
    table_json_integer(json, object, "stand_elsewhere", pair->n_elsewhere);
    put_tells(json, object, pair);
    put_other_limits(json, object, pair);
    put_changes(json, table_json_object(json, object, "all"), &pair->all);
    json_t *blocks = table_json_array(json, object, "blocks");
    for (int k = 0; k < c->n_block; k++) {
        json_t *block = table_json_append_object(json, blocks);
        table_json_text(json, block, "block", c->block_name[k]);
        put_changes(json, table_json_object(json, block, "changes"), &pair->block[k]);
    }
    json_t *largest = table_json_array(json, object, "largest");
    for (int k = 0; k < pair->n_largest; k++)
        put_largest(json, largest, c, pair, &pair->change[pair->largest[k]]);
    put_alone(json, object, "seats_only_in_first", c, pair, 0);
    put_alone(json, object, "seats_only_in_second", c, pair, 1);
}
