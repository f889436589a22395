/* What a draft did and what limited it, as JSON. */
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"
#include "table/shared/cautions.h"
#include "table/shared/report.h"

static void put_lines(table_json *json, const gradin_draft *draft) {
    json_t *array = table_json_array(json, json->root, "banks");
    for (int i = 0; i < draft->n_line; i++) {
        json_t *object = table_json_append_object(json, array);
        table_json_text(json, object, "name", draft->line[i].name);
        table_json_integer(json, object, "seats", draft->line[i].n_seat);
        table_json_text(json, object, "how", draft->line[i].what);
    }
}

static void put_limits(table_json *json, const gradin_draft *draft) {
    table_json_integer(json, json->root, "choices_weighed", draft->n_tried);
    table_json_integer(json, json->root, "drafted_good", draft->n_passed);
    table_json_integer(json, json->root, "drafted_no_better", draft->n_worse);
    table_json_integer(json, json->root, "drafted_given_up", draft->n_refused);
    json_t *array = table_json_array(json, json->root, "limited_by");
    for (int i = 0; i < draft->n_limit; i++) table_json_append_text(json, array, draft->limit[i]);
}

gradin_status gradin_draft_json(gradin_arena *arena, const gradin_draft *draft, char **text,
                                size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK || draft_complete(draft, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    const gradin_seats *s = &draft->model->seats;
    table_json json = table_json_begin("gradin-draft-1", draft->model);
    table_json_integer(&json, json.root, "places", s->n_seat);
    table_json_integer(&json, json.root, "places_wanted", draft->n_wanted);
    table_json_integer(&json, json.root, "wheelchair_places", s->n_wheelchair);
    table_json_integer(&json, json.root, "companion_seats", s->n_companion);
    table_json_integer(&json, json.root, "wheelchair_places_needed", draft->n_wheelchair_needed);
    table_json_integer(&json, json.root, "rails", draft->model->n_rail);
    table_json_number(&json, json.root, "wanted_c_mm", TABLE_MILLIMETRE,
                      1000.0 * draft->wanted_c_m);
    table_json_number(&json, json.root, "least_c_mm", TABLE_MILLIMETRE,
                      floor(1000.0 * draft->least_c_m + 1e-6));
    json_t *rating = table_json_object(&json, json.root, "seats_by_rating");
    for (int r = 0; r < GRADIN_N_RATING; r++)
        table_json_integer(&json, rating, gradin_rating_name((gradin_rating)r), draft->n_rating[r]);
    put_lines(&json, draft);
    put_limits(&json, draft);
    table_json_cautions(&json, table_caution, 1, TABLE_N_CAUTION);
    return table_json_end(arena, &json, text, size, error);
}
