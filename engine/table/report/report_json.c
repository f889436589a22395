/* What a report holds, as JSON (reference/report-schema.json): one entry per layout, and the
 * choice. */
#include "base/use.h"
#include "studies/shared/complete.h"
#include "table/choose/choose.h"
#include "table/report/html.h"
#include "table/shared/cautions.h"
#include "table/shared/json.h"

#include <math.h>

static void put_ratings(table_json *json, json_t *parent, const gradin_sight *sight) {
    json_t *object = table_json_object(json, parent, "seats_by_rating");
    for (int k = 0; k < GRADIN_N_RATING; k++)
        table_json_integer(json, object, gradin_rating_name((gradin_rating)k), sight->n_rating[k]);
}

static const char *checks_of(const gradin_report *report, int index) {
    const gradin_fit *fit = report->fit ? report->fit[index] : NULL;
    return !fit ? NULL : fit->is_met ? "met" : "not met";
}

static void put_layout(table_json *json, json_t *array, const gradin_report *report, int index) {
    const gradin_assessment *a = report->assessment[index];
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "layout", a->model->layout_name);
    table_json_text(json, object, "venue", a->model->venue_name);
    table_json_text(json, object, "form", gradin_form_name(a->model->form));
    table_json_text(json, object, "input_digest", a->model->digest);
    table_json_integer(json, object, "seats", a->sight.n_seat);
    table_json_integer(json, object, "wheelchair_places", a->model->seats.n_wheelchair);
    put_ratings(json, object, &a->sight);
    table_json_number(json, object, "focus_seen_median_pct", TABLE_PERCENT,
                      100.0 * a->visible.median);
    table_json_number(json, object, "lamax_median_dba", TABLE_DECIBEL,
                      a->has_noise ? a->lamax_db[GRADIN_SHADES_AS_SET].median : NAN);
    table_json_text(json, object, "rough_checks", checks_of(report, index));
    table_json_integer(json, object, "views", report->n_image ? report->n_image[index] : 0);
}

static void put_place(table_json *json, json_t *array, const gradin_choice *choice, int place) {
    const gradin_candidate *c = &choice->candidate[choice->order[place]];
    json_t *object = table_json_append_object(json, array);
    table_json_integer(json, object, "rank", place + 1);
    table_json_text(json, object, "layout", c->model->layout_name);
    table_json_text(json, object, "verdict", table_choice_verdict(c->verdict));
    table_json_number(json, object, "score", TABLE_INDEX,
                      choice->show->n_wished > 0 ? c->score : NAN);
    table_json_number(json, object, "has_all_share", TABLE_INDEX, c->meets_share);
    table_json_number(json, object, "first_share", TABLE_INDEX, c->first_share);
    table_json_musts(json, object, choice, c);
}

static void put_choice(table_json *json, const gradin_choice *choice) {
    if (!choice) {
        table_json_null(json, json->root, "choice");
        return;
    }
    json_t *object = table_json_object(json, json->root, "choice");
    table_json_text(json, object, "show", choice->show->name);
    json_t *array = table_json_array(json, object, "layouts");
    for (int k = 0; k < choice->n_candidate; k++) put_place(json, array, choice, k);
}

gradin_status gradin_report_json(gradin_arena *arena, const gradin_report *report, char **text,
                                 size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK || report_complete(report, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_json json = {.root = json_object()};
    table_json_text(&json, json.root, "format", "gradin-report-1");
    table_json_text(&json, json.root, "version", GRADIN_VERSION);
    json_t *layouts = table_json_array(&json, json.root, "layouts");
    for (int i = 0; i < report->n; i++) put_layout(&json, layouts, report, i);
    put_choice(&json, report->choice);
    json_t *cautions = table_json_array(&json, json.root, "cautions");
    for (int i = 0; i < TABLE_N_CAUTION; i++)
        table_json_append_text(&json, cautions, table_caution[i]);
    *text = json.failed ? NULL : table_json_dump(arena, json.root, size);
    json_decref(json.root);
    return *text ? GRADIN_OK
                 : gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the report");
}
