/* Whether an aisle parts a seat from the row in front of it: the line on plan to the front person
 * crosses a stated aisle, or the strip that is left free between both places, along the seat's
 * facing, is deeper than half a row (a cross-aisle that no seat had to be cut for). Convention of
 * this project; common practice, no source. */
#include "sightline/c_value/c_seat.h"

#define FREE_ROWS 0.5

static bool crosses_stated(const gradin_model *model, const sight_plane *plane, gradin_vec3 eye,
                           double to_m) {
    double at_m;
    for (int i = 0; i < model->n_aisle; i++)
        if (gradin_polygon_ray_m(model->aisle[i].polygon, (gradin_vec2){eye.x, eye.y}, plane->unit,
                                 &at_m) &&
            at_m < to_m)
            return true;
    return false;
}

bool gradin_sight_across_aisle(const gradin_model *model, const sight_plane *plane, int seat,
                               const sight_person *front) {
    const gradin_seats *s = &model->seats;
    gradin_vec2 unit = gradin_bearing_unit(s->facing_deg[seat]);
    double apart_m = (s->eye_m[front->seat].x - s->eye_m[seat].x) * unit.x +
                     (s->eye_m[front->seat].y - s->eye_m[seat].y) * unit.y;
    double free_m = apart_m - 0.5 * (s->depth_m[seat] + s->depth_m[front->seat]);
    return free_m > FREE_ROWS * s->depth_m[seat] + 1e-9 ||
           crosses_stated(model, plane, s->eye_m[seat], front->ahead_m);
}
