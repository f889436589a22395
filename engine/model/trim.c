/* Rows trimmed to the room's walls, or to a fan: two lines from one point. */
#include "model/build.h"

bool place_is_in_room(const builder *b, const place *p) {
    gradin_vec2 corner_m[4];
    place_corners(p, fmin(p->depth_m, BODY_DEPTH_M), corner_m);
    for (int i = 0; i < 4; i++)
        if (!gradin_polygon_contains(b->v->footprint, corner_m[i])) return false;
    return true;
}

/* Clockwise from the fan's first line to the point, against clockwise to its last. */
static bool is_in_fan(const gradin_block *from, gradin_vec2 at_m) {
    double bearing_deg = gradin_bearing_deg(at_m.x - from->fan_m.x, at_m.y - from->fan_m.y);
    double span_deg = from->fan_deg[1] - from->fan_deg[0];
    return gradin_wrap_360_deg(bearing_deg - from->fan_deg[0] + 1e-9) <= span_deg + 2e-9;
}

static bool is_place_in_fan(const gradin_block *from, const place *p) {
    gradin_vec2 corner_m[4];
    place_corners(p, fmin(p->depth_m, BODY_DEPTH_M), corner_m);
    for (int i = 0; i < 4; i++)
        if (!is_in_fan(from, corner_m[i])) return false;
    return true;
}

void trim_places(builder *b, int first, const gradin_block *from) {
    int n_left = first;
    for (int i = first; i < b->n_place; i++) {
        const place *p = &b->place[i];
        bool is_out = (from->is_trimmed_to_room && !place_is_in_room(b, p)) ||
                      (from->has_fan && !is_place_in_fan(from, p));
        if (!is_out) b->place[n_left++] = *p;
    }
    b->n_place = n_left;
}
