/* What a rigid body fills on its way: shifted, the hull of each part at both ends; turned, the same
 * in pieces of a few degrees. A point at radius r that turns by an angle d stays within the
 * triangle of its two ends and the point at r / cos(d / 2) half way, where the tangents at the ends
 * meet. So a piece reaches at most r (1 / cos(d / 2) - 1) too far: 8 mm at 8 m for 5 degrees.
 * Elementary geometry, no source. */
#include "studies/changeover/changeover.h"

enum { MAX_HULL = 96 };
static const double PIECE_DEG = 5.0;

pose changeover_moved(pose from, const gradin_machine *m, double by) {
    if (m->kind == GRADIN_MACHINE_TURN) {
        from.turn_deg += by;
        from.pivot_m = m->pivot_m;
        return from;
    }
    from.shift_m = gradin_add(from.shift_m, gradin_scale(m->way, by));
    return from;
}

static int pieces_of(double turn_deg) {
    return 1 + (int)ceil(fabs(turn_deg) / PIECE_DEG - 1e-9);
}

bool changeover_open_volumes(changeover *c, int n_part, double turn_deg, volumes *out) {
    out->n = 0;
    size_t n = (size_t)n_part * (size_t)pieces_of(turn_deg);
    out->item = gradin_arena_alloc(c->arena, n, sizeof *out->item);
    return out->item || changeover_no_memory(c);
}

static gradin_vec2 posed(gradin_vec2 at_m, const pose *p) {
    gradin_vec2 turned_m = gradin_turned(at_m, p->pivot_m, p->turn_deg);
    return (gradin_vec2){turned_m.x + p->shift_m.x, turned_m.y + p->shift_m.y};
}

/* Where the tangents of a turning corner meet, half way between two poses. */
static gradin_vec2 outside_m(gradin_vec2 at_m, const pose *from, const pose *to) {
    double half_deg = (to->turn_deg - from->turn_deg) / 2.0;
    double times = 1.0 / cos(gradin_rad(half_deg));
    gradin_vec2 far_m = {to->pivot_m.x + times * (at_m.x - to->pivot_m.x),
                         to->pivot_m.y + times * (at_m.y - to->pivot_m.y)};
    pose middle = *to;
    middle.turn_deg = from->turn_deg + half_deg;
    return posed(far_m, &middle);
}

static bool sweep_part(changeover *c, const gradin_part *part, const pose *from, const pose *to,
                       volume *out) {
    gradin_vec2 point[MAX_HULL];
    bool turns = from->turn_deg != to->turn_deg;
    int n = part->polygon.n_corner < MAX_HULL / 3 ? part->polygon.n_corner : MAX_HULL / 3, k = 0;
    gradin_vec2 *hull = gradin_arena_alloc(c->arena, (size_t)(3 * n + 1), sizeof *hull);
    if (!hull) return changeover_no_memory(c);
    for (int i = 0; i < n; i++) {
        point[k++] = posed(part->polygon.corner_m[i], from);
        point[k++] = posed(part->polygon.corner_m[i], to);
        if (turns) point[k++] = outside_m(part->polygon.corner_m[i], from, to);
    }
    out->polygon = (gradin_polygon){hull, gradin_convex_hull(point, k, hull)};
    out->box = gradin_polygon_bounds(out->polygon);
    out->bottom_m = part->bottom_m + fmin(from->shift_m.z, to->shift_m.z);
    out->top_m = part->top_m + fmax(from->shift_m.z, to->shift_m.z);
    return true;
}

bool changeover_sweep(changeover *c, const gradin_body *body, pose from, pose to, volumes *out) {
    double turn_deg = to.turn_deg - from.turn_deg;
    int n_piece = turn_deg == 0.0 ? 1 : pieces_of(turn_deg) - 1;
    for (int piece = 0; piece < n_piece; piece++) {
        pose start = from, end = to;
        start.turn_deg = from.turn_deg + turn_deg * piece / n_piece;
        if (piece + 1 < n_piece) end.turn_deg = from.turn_deg + turn_deg * (piece + 1) / n_piece;
        start.pivot_m = end.pivot_m = to.pivot_m;
        for (int i = 0; i < body->n_part; i++)
            if (!sweep_part(c, &body->part[i], &start, &end, &out->item[out->n++])) return false;
    }
    return true;
}

gradin_box2 changeover_reach(const gradin_part *part, const gradin_machine *m, double by) {
    gradin_box2 box = gradin_polygon_bounds(part->polygon);
    gradin_vec3 way_m = gradin_scale(m->way, by);
    double radius_m = 0.0;
    box.x_min_m += fmin(way_m.x, 0.0), box.x_max_m += fmax(way_m.x, 0.0);
    box.y_min_m += fmin(way_m.y, 0.0), box.y_max_m += fmax(way_m.y, 0.0);
    if (m->kind != GRADIN_MACHINE_TURN) return box;
    for (int i = 0; i < part->polygon.n_corner; i++) {
        gradin_vec2 corner_m = part->polygon.corner_m[i];
        radius_m = fmax(radius_m, hypot(corner_m.x - m->pivot_m.x, corner_m.y - m->pivot_m.y));
    }
    return (gradin_box2){m->pivot_m.x - radius_m, m->pivot_m.y - radius_m, m->pivot_m.x + radius_m,
                         m->pivot_m.y + radius_m};
}
