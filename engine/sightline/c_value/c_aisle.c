/* Whether an aisle parts a seat from the row in front of it: the line on plan to the front person
 * crosses a stated aisle, or the strip that is left free between both places, along the seat's
 * facing, is deeper than half a row (a cross-aisle that no seat had to be cut for). Convention of
 * this project; common practice, no source. */
#include "sightline/c_value/c_seat.h"

#define FREE_ROWS 0.5

static bool crosses_stated(const gradin_model *model, const sight_plane *plane, int seat,
                           double to_m) {
    gradin_vec3 eye = model->seats.eye_m[seat];
    double at_m;
    for (int i = 0; i < model->n_aisle; i++)
        if (model->aisle_sheet[i] == model->seats.sheet[seat] &&
            gradin_polygon_ray_m(model->aisle[i].polygon, (gradin_vec2){eye.x, eye.y}, plane->unit,
                                 &at_m) &&
            at_m < to_m)
            return true;
    return false;
}

double gradin_sight_forward_m(const gradin_seats *seats, int seat, int other) {
    gradin_vec2 unit = gradin_bearing_unit(seats->facing_deg[seat]);
    return (seats->eye_m[other].x - seats->eye_m[seat].x) * unit.x +
           (seats->eye_m[other].y - seats->eye_m[seat].y) * unit.y;
}

double gradin_sight_free_m(const gradin_seats *seats, int seat, int other) {
    return gradin_sight_forward_m(seats, seat, other) -
           0.5 * (seats->depth_m[seat] + seats->depth_m[other]);
}

bool gradin_sight_across_aisle(const gradin_model *model, const sight_plane *plane, int seat,
                               const sight_person *front) {
    const gradin_seats *s = &model->seats;
    return gradin_sight_free_m(s, seat, front->seat) > FREE_ROWS * s->depth_m[seat] + 1e-9 ||
           crosses_stated(model, plane, seat, front->ahead_m);
}
