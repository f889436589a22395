/* The summary for machines: JSON with keys in a fixed order, numbers rounded by quantity, null for
 * what does not apply. Schema: reference/summary-schema.json. */
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"

#include "table/assess/summary_limits.h"
#include "table/assess/summary_noise.h"
#include "table/shared/cautions.h"
#include "table/shared/json.h"
#include "table/shared/json_spread.h"
#include "table/shared/names.h"

static void put_head(table_json *json, const gradin_model *model) {
    table_json_text(json, json->root, "format", "gradin-summary-1");
    table_json_text(json, json->root, "version", GRADIN_VERSION);
    table_json_text(json, json->root, "venue", model->venue_name);
    table_json_text(json, json->root, "layout", model->layout_name);
    table_json_text(json, json->root, "form", gradin_form_name(model->form));
    table_json_text(json, json->root, "input_digest", model->digest);
}

static void put_seats(table_json *json, const gradin_seats *seats) {
    json_t *object = table_json_object(json, json->root, "seats");
    table_json_integer(json, object, "all", seats->n_seat);
    table_json_integer(json, object, "wheelchair", seats->n_wheelchair);
    table_json_integer(json, object, "companion", seats->n_companion);
}

static void put_rating(table_json *json, const gradin_sight *sight) {
    json_t *object = table_json_object(json, json->root, "rating");
    for (int k = 0; k < GRADIN_N_RATING; k++) {
        json_t *one = table_json_object(json, object, gradin_rating_name((gradin_rating)k));
        table_json_integer(json, one, "seats", sight->n_rating[k]);
        table_json_number(json, one, "share_pct", TABLE_PERCENT,
                          100.0 * sight->n_rating[k] / sight->n_seat);
    }
}

static void put_levels(table_json *json, const gradin_assessment *a) {
    json_t *array = table_json_array(json, json->root, "levels");
    for (int k = 0; k < a->model->n_level; k++) {
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "level", a->model->level_name[k]);
        table_json_integer(json, object, "seats", a->level[k].n_seat);
        for (int rating = 0; rating < GRADIN_N_RATING; rating++)
            table_json_integer(json, object, gradin_rating_name((gradin_rating)rating),
                               a->level[k].n_rating[rating]);
        table_json_spread(json, object, "visible_pct", TABLE_PERCENT, &a->level[k].visible, 100.0);
    }
}

/* Each focus area by itself, where there are several. */
static void put_areas(table_json *json, json_t *sight, const gradin_assessment *a) {
    if (a->n_area == 0) return;
    json_t *array = table_json_array(json, sight, "areas");
    for (int k = 0; k < a->n_area; k++) {
        const gradin_focus *focus = &a->model->focus[k];
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "name", focus->name);
        table_json_text(json, object, "kind", gradin_focus_kind_name(focus->kind));
        table_json_spread(json, object, "visible_pct", TABLE_PERCENT, &a->area[k].spread, 100.0);
    }
}

/* A floor's height above what is stated below it; null for what is no floor. */
static void put_over_floor(table_json *json, json_t *sight, const gradin_model *m) {
    json_t *array = table_json_array(json, sight, "focus_over_floor_m");
    for (int k = 0; k < m->n_focus; k++)
        table_json_append_number(json, array, TABLE_METRE,
                                 m->focus[k].kind == GRADIN_FOCUS_FLOOR ? m->focus[k].over_floor_m
                                                                        : NAN);
}

static void put_sight(table_json *json, const gradin_assessment *a) {
    json_t *object = table_json_object(json, json->root, "sight");
    table_json_integer(json, object, "samples", a->sight.n_sample);
    table_json_spread(json, object, "visible_pct", TABLE_PERCENT, &a->visible, 100.0);
    table_json_spread(json, object, "c_value_mm", TABLE_MILLIMETRE, &a->c_value_m, 1000.0);
    table_json_spread(json, object, "distance_m", TABLE_METRE, &a->distance_m, 1.0);
    put_over_floor(json, object, a->model);
    put_areas(json, object, a);
}

static void put_crowd(table_json *json, const gradin_assessment *a) {
    const gradin_population *p = &a->model->audience.population;
    json_t *object = table_json_object(json, json->root, "draws");
    table_json_integer(json, object, "count", a->crowd.n_draw);
    table_json_number(json, object, "women_pct", TABLE_PERCENT, 100.0 * p->women);
    table_json_number(json, object, "men_pct", TABLE_PERCENT, 100.0 * p->men);
    table_json_number(json, object, "children_pct", TABLE_PERCENT, 100.0 * p->children);
    table_json_number(json, object, "clear_from_pct", TABLE_PERCENT, 100.0 * a->crowd.clear_limit);
    table_json_spread(json, object, "clear_view_pct", TABLE_PERCENT, &a->clear_view, 100.0);
}

static void put_worst_seat(table_json *json, json_t *array, const gradin_assessment *a, int i) {
    const gradin_sight *s = &a->sight;
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "seat", a->model->seats.id[i]);
    table_json_text(json, object, "rating", gradin_rating_name(s->rating[i]));
    table_json_text(json, object, "reason", gradin_reason_name(s->reason[i]));
    table_json_number(json, object, "visible_pct", TABLE_PERCENT, 100.0 * s->visible[i]);
    json_t *hidden = table_json_object(json, object, "hidden_pct");
    for (int cause = 0; cause < GRADIN_N_CAUSE; cause++)
        table_json_number(json, hidden, gradin_cause_name((gradin_cause)cause), TABLE_PERCENT,
                          100.0 * s->hidden[(size_t)i * GRADIN_N_CAUSE + (size_t)cause]);
    const char *occluder = table_worst_occluder(a, i);
    table_json_text(json, object, "worst_occluder", occluder);
    table_json_number(json, object, "worst_hidden_pct", TABLE_PERCENT,
                      occluder ? 100.0 * s->worst_hidden[i] : NAN);
    table_json_number(json, object, "c_mm", TABLE_MILLIMETRE, 1000.0 * s->c_m[i]);
    table_json_number(json, object, "distance_m", TABLE_METRE, s->distance_m[i]);
}

static void put_worst(table_json *json, const gradin_assessment *a) {
    json_t *array = table_json_array(json, json->root, "worst_seats");
    for (int k = 0; k < a->n_worst; k++) put_worst_seat(json, array, a, a->worst_seat[k]);
}

static void put_all(table_json *json, const gradin_assessment *a) {
    put_head(json, a->model);
    put_seats(json, &a->model->seats);
    put_rating(json, &a->sight);
    put_levels(json, a);
    table_summary_limits_json(json, json->root, a);
    table_summary_c_json(json, a);
    put_sight(json, a);
    if (a->has_crowd) put_crowd(json, a);
    put_worst(json, a);
    if (a->has_noise)
        table_summary_noise(json, a);
    else
        table_json_null(json, json->root, "noise");
    json_t *cautions = table_json_array(json, json->root, "cautions");
    for (int k = 0; k < TABLE_N_CAUTION; k++)
        table_json_append_text(json, cautions, table_caution[k]);
}

gradin_status gradin_summary_json(gradin_arena *arena, const gradin_assessment *assessment,
                                  char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        assessment_summary_complete(assessment, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_json json = {.root = json_object()};
    put_all(&json, assessment);
    char *dumped = json.failed ? NULL : table_json_dump(arena, json.root, size);
    json_decref(json.root);
    if (!dumped)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the summary");
    *text = dumped;
    return GRADIN_OK;
}
