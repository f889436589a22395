/* What a model must have before anybody reads it: names, seats, and an array to each count. */
#include "model/complete.h"

/* A field of the model: there when it is counted (n) or must be there anyway. */
typedef struct field {
    const char *key;
    const void *at;
    int n;
} field;

#define FIELD(owner, name, count)                                                                  \
    { #owner "." #name, owner->name, count }

static gradin_status lacks(gradin_error *error, const char *key, const char *what) {
    gradin_place place = {.key = key};
    return gradin_error_add(error, GRADIN_BAD_USE, &place, "%s", what);
}

static gradin_status check(const field *fields, size_t n, gradin_error *error) {
    gradin_status status = GRADIN_OK;
    for (size_t i = 0; i < n; i++) {
        if (fields[i].n < 0)
            status = lacks(error, fields[i].key, "its count is below 0");
        else if (fields[i].n > 0 && !fields[i].at)
            status = lacks(error, fields[i].key, "is NULL; its count says that it is there");
    }
    return status;
}

static gradin_status check_names(const gradin_model *model, gradin_error *error) {
    gradin_status status = GRADIN_OK;
    if (!model->venue_name) status = lacks(error, "model.venue_name", "is NULL");
    if (!model->layout_name) status = lacks(error, "model.layout_name", "is NULL");
    if (model->c_line && !(model->c_line->name && model->c_line->point_m))
        status = lacks(error, "model.c_line", "has no name or no points");
    if (!model->units) status = lacks(error, "model.units", "is NULL; \"m\" or \"ft\"");
    return status;
}

static gradin_status check_seats(const gradin_seats *seats, gradin_error *error) {
    int n = seats->n_seat;
    const field fields[] = {
        FIELD(seats, id, n),      FIELD(seats, block, n),      FIELD(seats, row, n),
        FIELD(seats, number, n),  FIELD(seats, kind, n),       FIELD(seats, floor_m, n),
        FIELD(seats, eye_m, n),   FIELD(seats, facing_deg, n), FIELD(seats, width_m, n),
        FIELD(seats, depth_m, n), FIELD(seats, sheet, n),      FIELD(seats, section, n),
        FIELD(seats, level, n),
    };
    return check(fields, sizeof fields / sizeof fields[0], error);
}

static gradin_status check_arrays(const gradin_model *model, gradin_error *error) {
    const field fields[] = {
        FIELD(model, footprint.corner_m, model->footprint.n_corner),
        FIELD(model, section, model->n_section),
        FIELD(model, floor, model->n_floor),
        FIELD(model, floor_lie, model->n_floor),
        FIELD(model, solid, model->n_solid),
        FIELD(model, platform, model->n_platform),
        FIELD(model, rail, model->n_rail),
        FIELD(model, aisle, model->n_aisle),
        FIELD(model, aisle_sheet, model->n_aisle),
        FIELD(model, level_name, model->n_level),
        FIELD(model, sheet_name, model->seats.n_sheet),
        FIELD(model, vomitory, model->n_vomitory),
        FIELD(model, vomitory_top_deg, model->n_vomitory),
        FIELD(model, vomitory_leads, model->n_vomitory),
        FIELD(model, vomitory_exit_m, model->n_vomitory),
        FIELD(model, vomitory_passage, model->n_vomitory),
        FIELD(model, surface, model->n_surface),
        FIELD(model, block_name, model->n_block),
        FIELD(model, focus, model->n_focus),
        FIELD(model, scene.occluder, model->scene.n_occluder),
        FIELD(model, occluder_name, model->n_occluder_name),
        FIELD(model, buildup, model->n_buildup),
        FIELD(model, shade, model->n_shade),
        FIELD(model, element, model->n_element),
        FIELD(model, note, model->n_note),
    };
    return check(fields, sizeof fields / sizeof fields[0], error);
}

gradin_status model_complete(const gradin_model *model, gradin_error *error) {
    if (!model) return gradin_error_add(error, GRADIN_BAD_USE, NULL, "there is no model");
    gradin_status names = check_names(model, error);
    gradin_status seats = check_seats(&model->seats, error);
    gradin_status arrays = check_arrays(model, error);
    return names == GRADIN_OK && seats == GRADIN_OK ? arrays : GRADIN_BAD_USE;
}
