/* Rails and overhangs as JSON. No height below the venue's own minimum is ever written. */
#include "base/use.h"
#include "gradin/table.h"
#include "model/complete.h"

#include "table/rails/rails.h"
#include "table/shared/cautions.h"
#include "table/shared/report.h"

static void put_rail(table_json *json, json_t *array, const gradin_model *model,
                     const gradin_rail_limits *limits, int rail) {
    rails_sum sum = rails_sum_of(model, limits, rail);
    if (sum.n_seat == 0) return;
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "rail", model->rail[rail].name);
    table_json_number(json, object, "height_m", TABLE_METRE, model->rail[rail].height_m);
    table_json_integer(json, object, "seats", sum.n_seat);
    table_json_integer(json, object, "seats_hidden_from", sum.n_hidden);
    table_json_number(json, object, "hides_most_pct", TABLE_PERCENT, 100.0 * sum.hides_most);
    table_json_number(json, object, "whole_up_to_m", TABLE_METRE,
                      rails_rounded_m(rails_allowed_m(model, sum.whole_m)));
}

static void put_seat(table_json *json, json_t *array, const gradin_model *model,
                     const gradin_rail_limits *l, int seat) {
    json_t *object = table_json_append_object(json, array);
    int rail = l->rail[seat];
    bool has_rail = rail >= 0;
    const char *note = rails_note(model, l, seat);
    table_json_text(json, object, "seat", model->seats.id[seat]);
    table_json_text(json, object, "rail", has_rail ? model->rail[rail].name : NULL);
    table_json_number(json, object, "whole_up_to_m", TABLE_METRE,
                      has_rail ? rails_rounded_m(rails_allowed_m(model, l->whole_m[seat])) : NAN);
    table_json_number(json, object, "all_hidden_from_m", TABLE_METRE,
                      has_rail ? rails_rounded_m(rails_allowed_m(model, l->lost_m[seat])) : NAN);
    table_json_text(json, object, "note", note[0] != '\0' ? note : NULL);
}

static void put_line(table_json *json, json_t *array, const gradin_model *model,
                     const gradin_rail_line *line) {
    json_t *object = table_json_append_object(json, array);
    const char *note = rails_line_note(model, line->whole_m);
    table_json_text(json, object, "seat", model->seats.id[line->seat]);
    table_json_text(json, object, "rail", model->rail[line->rail].name);
    table_json_number(json, object, "hides_pct", TABLE_PERCENT, 100.0 * line->hides);
    table_json_number(json, object, "gives_back_pct", TABLE_PERCENT, 100.0 * line->gives_back);
    table_json_number(json, object, "whole_up_to_m", TABLE_METRE,
                      rails_rounded_m(rails_allowed_m(model, line->whole_m)));
    table_json_text(json, object, "note", note[0] != '\0' ? note : NULL);
}

static void put_top(table_json *json, json_t *parent, const char *key, const gradin_model *model,
                    const gradin_overhang_row *row, gradin_top top) {
    if (isnan(row->seen_m[top])) {
        table_json_null(json, parent, key);
        return;
    }
    json_t *object = table_json_object(json, parent, key);
    int by = row->occluder[top];
    table_json_integer(json, object, "seats_that_lose_it", row->n_lost[top]);
    table_json_number(json, object, "seen_to_m", TABLE_METRE, row->seen_m[top]);
    table_json_text(json, object, "under",
                    by >= 0 ? model->occluder_name[model->scene.occluder[by].name] : NULL);
}

static void put_row(table_json *json, json_t *array, const gradin_model *model,
                    const gradin_overhang_row *row) {
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "block", model->block_name[row->block]);
    table_json_integer(json, object, "row", row->row);
    if (row->row_label) table_json_text(json, object, "row_label", row->row_label);
    table_json_integer(json, object, "seats", row->n_seat);
    put_top(json, object, "arch_top", model, row, GRADIN_TOP_ARCH);
    put_top(json, object, "set_top", model, row, GRADIN_TOP_SET);
}

gradin_status gradin_rails_json(gradin_arena *arena, const gradin_model *model,
                                const gradin_rail_limits *limits, const gradin_overhangs *overhangs,
                                char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, limits, overhangs, text, size) != GRADIN_OK ||
        model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_json json = table_json_begin("gradin-rails-1", model);
    table_json_number(&json, json.root, "least_height_m", TABLE_METRE,
                      model->rail_min_m > 0.0 ? model->rail_min_m : NAN);
    json_t *rails = table_json_array(&json, json.root, "rails");
    for (int i = 0; i < model->n_rail; i++) put_rail(&json, rails, model, limits, i);
    json_t *seats = table_json_array(&json, json.root, "seats");
    for (int i = 0; i < limits->n_seat; i++) put_seat(&json, seats, model, limits, i);
    json_t *lines = table_json_array(&json, json.root, "hidden_by");
    for (int k = 0; k < limits->n_line; k++) put_line(&json, lines, model, &limits->line[k]);
    json_t *rows = table_json_array(&json, json.root, "overhangs");
    for (int i = 0; i < overhangs->n_row; i++) put_row(&json, rows, model, &overhangs->row[i]);
    table_json_cautions(&json, table_caution, 1, TABLE_N_CAUTION);
    return table_json_end(arena, &json, text, size, error);
}
