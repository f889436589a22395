/* Figures of views as JSON. */
#include "base/use.h"
#include "gradin/sightline.h"
#include "gradin/studies/view_write.h"
#include "model/complete.h"
#include "table/shared/report.h"

static void put_percent(table_json *json, json_t *parent, const char *key, double share) {
    table_json_number(json, parent, key, TABLE_PERCENT, 100.0 * share);
}

static void put_eye(table_json *json, json_t *object, const gradin_view *v) {
    table_json_number(json, object, "eye_x_m", TABLE_METRE, v->eye_m.x);
    table_json_number(json, object, "eye_y_m", TABLE_METRE, v->eye_m.y);
    table_json_number(json, object, "eye_z_m", TABLE_METRE, v->eye_m.z);
    table_json_number(json, object, "distance_m", TABLE_METRE, v->distance_m);
    table_json_number(json, object, "turn_deg", TABLE_DEGREE, v->turn_deg);
    table_json_number(json, object, "down_deg", TABLE_DEGREE, v->down_deg);
    table_json_number(json, object, "fov_deg", TABLE_DEGREE, v->fov_deg);
    table_json_boolean(json, object, "panorama", v->is_panorama);
}

/* In the words of the table of seats. */
static const char *worst_of(const gradin_view *v) {
    if (v->worst_occluder == GRADIN_NONE_CLEARLY) return "none clearly";
    bool is_named = v->worst_occluder >= 0 && v->worst_occluder < v->model->n_occluder_name;
    return is_named ? v->model->occluder_name[v->worst_occluder] : NULL;
}

static void put_view(table_json *json, json_t *array, const gradin_view_entry *entry) {
    static const char *const key[GRADIN_N_CAUSE] = {"hidden_heads_pct", "hidden_rails_pct",
                                                    "hidden_structure_pct", "hidden_arch_pct"};
    const gradin_view *v = entry->view;
    json_t *object = table_json_append_object(json, array);
    table_json_text(json, object, "seat", v->model->seats.id[v->seat]);
    table_json_text(json, object, "title", entry->title);
    put_eye(json, object, v);
    put_percent(json, object, "visible_pct", v->visible);
    for (int k = 0; k < GRADIN_N_CAUSE; k++) put_percent(json, object, key[k], v->hidden[k]);
    table_json_text(json, object, "worst_occluder", worst_of(v));
    put_percent(json, object, "worst_hidden_pct", v->worst_hidden);
    put_percent(json, object, "in_picture_pct", v->in_picture);
    put_percent(json, object, "seen_in_picture_pct", v->seen);
}

gradin_status gradin_views_json(gradin_arena *arena, const gradin_view_entry *entry, int n_entry,
                                char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, entry, text, size) != GRADIN_OK) return GRADIN_BAD_USE;
    if (n_entry < 1) return gradin_error_add(error, GRADIN_BAD_USE, NULL, "there is no view");
    for (int i = 0; i < n_entry; i++)
        if (!entry[i].view || model_complete(entry[i].view->model, error) != GRADIN_OK ||
            entry[i].view->seat < 0 || entry[i].view->seat >= entry[i].view->model->seats.n_seat)
            return gradin_error_add(error, GRADIN_BAD_USE, NULL, "view %d is not whole", i + 1);
    table_json json = table_json_begin("gradin-view-1", entry[0].view->model);
    json_t *views = table_json_array(&json, json.root, "views");
    for (int i = 0; i < n_entry; i++) put_view(&json, views, &entry[i]);
    return table_json_end(arena, &json, text, size, error);
}
