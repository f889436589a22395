/* The rows of a cut as JSON. */
#include "base/use.h"
#include "gradin/studies/view_write.h"
#include "model/complete.h"
#include "table/shared/report.h"

static void put_row(table_json *json, json_t *array, const gradin_cut *c, int row) {
    static const char *const key[GRADIN_N_CAUSE] = {"hidden_heads_pct", "hidden_rails_pct",
                                                    "hidden_structure_pct", "hidden_arch_pct"};
    const gradin_seats *s = &c->model->seats;
    int seat = c->row[row].seat;
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "seat", s->id[seat]);
    table_json_number(json, object, "along_m", TABLE_METRE, c->row[row].x_m);
    table_json_number(json, object, "aside_m", TABLE_METRE, c->row[row].aside_m);
    table_json_number(json, object, "floor_z_m", TABLE_METRE, s->floor_m[seat].z);
    table_json_number(json, object, "eye_z_m", TABLE_METRE, s->eye_m[seat].z);
    table_json_number(json, object, "c_mm", TABLE_MILLIMETRE, 1000.0 * c->sight->c_m[seat]);
    table_json_number(json, object, "visible_pct", TABLE_PERCENT, 100.0 * c->sight->visible[seat]);
    for (int k = 0; k < GRADIN_N_CAUSE; k++)
        table_json_number(json, object, key[k], TABLE_PERCENT,
                          100.0 * c->sight->hidden[(size_t)seat * GRADIN_N_CAUSE + (size_t)k]);
}

static void put_ray(table_json *json, const char *key, const gradin_cut_ray *ray) {
    json_t *object = table_json_object(json, json->root, key);
    table_json_number(json, object, "along_m", TABLE_METRE, ray->to_m.x);
    table_json_number(json, object, "z_m", TABLE_METRE, ray->to_m.y);
    table_json_text(json, object, "blocked_by", ray->blocked);
}

static bool is_whole(const gradin_cut *c, gradin_error *error) {
    if (!c || model_complete(c->model, error) != GRADIN_OK || c->seat >= c->model->seats.n_seat ||
        c->n_row < 0)
        return false;
    return c->n_row == 0 ||
           (c->row && c->sight && c->sight->c_m && c->sight->visible && c->sight->hidden);
}

gradin_status gradin_cut_json(gradin_arena *arena, const gradin_cut *cut, char **text, size_t *size,
                              gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK) return GRADIN_BAD_USE;
    if (!is_whole(cut, error))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "the section is not whole");
    table_json json = table_json_begin("gradin-section-1", cut->model);
    table_json_text(&json, json.root, "seat",
                    cut->seat < 0 ? NULL : cut->model->seats.id[cut->seat]);
    table_json_number(&json, json.root, "from_x_m", TABLE_METRE, cut->from_m.x);
    table_json_number(&json, json.root, "from_y_m", TABLE_METRE, cut->from_m.y);
    table_json_number(&json, json.root, "length_m", TABLE_METRE, cut->length_m);
    if (cut->seat >= 0 && !isnan(cut->near_edge.to_m.x)) {
        put_ray(&json, "near_edge", &cut->near_edge);
        put_ray(&json, "far_edge", &cut->far_edge);
    }
    json_t *rows = table_json_array(&json, json.root, "rows");
    for (int i = 0; i < cut->n_row; i++) put_row(&json, rows, cut, i);
    return table_json_end(arena, &json, text, size, error);
}
