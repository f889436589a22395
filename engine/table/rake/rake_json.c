/* A rake as JSON: the verdict, each row, each rank of lift sections as it is to be set. */
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"

#include "table/shared/cautions.h"
#include "table/shared/report.h"

#define SHORT_M 0.0005 /* less is not printed */

static void put_mm(table_json *json, json_t *parent, const char *key, double value_m) {
    table_json_number(json, parent, key, TABLE_MILLIMETRE, 1000.0 * value_m);
}

static const char *seat_name(const gradin_rake *rake, int seat) {
    return seat < 0 ? NULL : rake->model->seats.id[seat];
}

static void put_row(table_json *json, json_t *array, const gradin_rake *rake,
                    const gradin_rake_row *row) {
    json_t *object = table_json_append_object(json, array);
    table_json_integer(json, object, "row", row->row);
    if (row->row_label) table_json_text(json, object, "row_label", row->row_label);
    table_json_number(json, object, "d_m", TABLE_METRE, row->d_m);
    table_json_number(json, object, "t_m", TABLE_METRE, row->t_m);
    table_json_number(json, object, "r_m", TABLE_METRE,
                      row->floor_m + row->eye_height_m - rake->focus_z_m);
    put_mm(json, object, "riser_mm", row->riser_m);
    put_mm(json, object, "ideal_riser_mm", row->ideal_riser_m);
    put_mm(json, object, "c_before_mm", row->c_before_m);
    put_mm(json, object, "c_mm", row->c_m);
    put_mm(json, object, "c_least_seat_mm", row->c_seats_m);
    table_json_text(json, object, "least_seat", seat_name(rake, row->least_seat));
    table_json_number(json, object, "floor_before_m", TABLE_METRE, row->floor_before_m);
    table_json_number(json, object, "floor_m", TABLE_METRE, row->floor_m);
    table_json_integer(json, object, "rank", row->rank + 1);
    table_json_integer(json, object, "tread", row->tread + 1);
}

static void put_rank(table_json *json, json_t *array, const gradin_rake *rake,
                     const gradin_rake_rank *rank) {
    json_t *object = table_json_append_object(json, array);
    json_t *sections = table_json_array(json, object, "sections");
    for (int i = 0; i < rank->n_section; i++)
        table_json_append_text(json, sections, rake->model->section[rank->section[i]].name);
    bool is_lift = rank->n_section > 0, is_terrace = is_lift && rank->n_step > 1;
    table_json_number(json, object, "height_m", TABLE_METRE, is_lift ? rank->height_m : NAN);
    table_json_integer(json, object, "treads", is_lift ? rank->n_step : 1);
    put_mm(json, object, "riser_mm", is_terrace ? rank->riser_m : NAN);
    table_json_number(json, object, "facing_deg", TABLE_DEGREE,
                      is_terrace ? rank->facing_deg : NAN);
    table_json_boolean(json, object, "changed", rank->is_changed);
}

static void put_verdict(table_json *json, const gradin_rake *rake) {
    json_t *root = json->root;
    table_json_text(json, root, "block", rake->wanted.block);
    table_json_text(json, root, "form", gradin_rake_form_name(rake->wanted.form));
    put_mm(json, root, "wanted_c_mm", rake->wanted.c_m);
    put_mm(json, root, "step_mm", rake->wanted.step_m);
    table_json_boolean(json, root, "reached", rake->is_reached);
    table_json_boolean(json, root, "reached_in_section",
                       rake->least_c_m >= rake->wanted.c_m - SHORT_M);
    put_mm(json, root, "least_c_mm", rake->least_c_m);
    table_json_integer(json, root, "least_row", rake->least_row);
    if (rake->least_row_label)
        table_json_text(json, root, "least_row_label", rake->least_row_label);
    put_mm(json, root, "least_seat_c_mm", rake->least_seat_c_m);
    table_json_text(json, root, "least_seat", seat_name(rake, rake->least_seat));
    table_json_text(json, root, "hindrance", rake->is_reached ? NULL : rake->hindrance);
    table_json_integer(json, root, "sections_moved", rake->n_section_moved);
    table_json_number(json, root, "travel_m", TABLE_METRE, rake->travel_m);
    table_json_number(json, root, "longest_move_m", TABLE_METRE, rake->longest_m);
    if (rake->move_s > 0)
        table_json_integer(json, root, "slowest_move_s", rake->move_s);
    else
        table_json_null(json, root, "slowest_move_s");
    table_json_integer(json, root, "other_seats_moved", rake->n_other_seat);
}

gradin_status gradin_rake_json(gradin_arena *arena, const gradin_rake *rake, char **text,
                               size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK || rake_complete(rake, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_json json = table_json_begin("gradin-rake-1", rake->model);
    put_verdict(&json, rake);
    json_t *rows = table_json_array(&json, json.root, "rows");
    for (int k = 0; k < rake->n_row; k++) put_row(&json, rows, rake, &rake->row[k]);
    json_t *ranks = table_json_array(&json, json.root, "ranks");
    for (int r = 0; r < rake->n_rank; r++) put_rank(&json, ranks, rake, &rake->rank[r]);
    table_json_cautions(&json, table_caution, 1, TABLE_N_CAUTION);
    return table_json_end(arena, &json, text, size, error);
}
