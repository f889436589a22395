/* The point outside at which an event's level is stated: that of the room nearest to the track.
 *
 * The room is its footprint from the floor to the ceiling. Starting from where the track comes
 * closest to the room's middle, point and track take turns: the nearest point of the room to the
 * source, then the place on the track nearest to that point, until neither moves. On a straight
 * track past a convex plan that is the nearest pair; round a plan with wings it is a near one. */
#include "acoustics/event/outside.h"

enum { MOST_TURNS = 200 };

static const double still_m = 1e-9;

static gradin_vec3 nearest_m(const gradin_model *model, gradin_vec3 to_m) {
    gradin_vec2 plan_m = {to_m.x, to_m.y};
    int edge;
    if (!gradin_polygon_contains(model->footprint, plan_m))
        plan_m = gradin_polygon_nearest_m(model->footprint, plan_m, &edge);
    return (gradin_vec3){plan_m.x, plan_m.y, fmin(fmax(to_m.z, 0.0), model->ceiling_m)};
}

gradin_vec3 gradin_outside_m(const gradin_model *model, const gradin_track *track) {
    gradin_vec2 middle_m = gradin_polygon_centroid_m(model->footprint);
    gradin_vec3 point_m = {middle_m.x, middle_m.y, 0.5 * model->ceiling_m};
    for (int turn = 0; turn < MOST_TURNS; turn++) {
        gradin_vec3 next_m = nearest_m(model, gradin_track_closest(track, point_m).source_m);
        double moved_m = gradin_norm(gradin_sub(next_m, point_m));
        point_m = next_m;
        if (moved_m < still_m) break;
    }
    return point_m;
}
