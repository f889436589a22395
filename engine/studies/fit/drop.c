/* Is the line between two floors an open edge? */
#include "studies/fit/fit.h"

static const double BESIDE_M = 0.05; /* where the floor beyond is probed */
/* Openings up to 4 in are none in a guard: IBC 2021 clause 1015.4, from memory. */
static const double GAP_M = 0.10;
static const double TREAD_M = 0.25; /* narrower is no floor: common practice, no source */
static const double RAIL_M = 0.30;  /* a rail nearer than this guards the edge */
static const double FOOT_M = 0.35;  /* and stands at about its height: a riser */

bool fit_is_railed(const gradin_model *m, gradin_vec2 at_m, double height_m) {
    for (int i = 0; i < m->n_rail; i++)
        for (int k = 0; k + 1 < m->rail[i].n_point; k++) {
            gradin_vec3 a = m->rail[i].point_m[k], b = m->rail[i].point_m[k + 1];
            bool is_level =
                fmin(a.z, b.z) <= height_m + FOOT_M && fmax(a.z, b.z) >= height_m - FOOT_M;
            if (is_level && fit_off_rail_m(a, b, at_m, NULL) <= RAIL_M) return true;
        }
    return false;
}

/* A wall of the room, or a solid that stands on the floor's height and is as high as a rail. */
static bool is_wall(const gradin_model *m, gradin_vec2 at_m, double height_m) {
    if (!gradin_polygon_contains(m->footprint, at_m)) return true;
    for (int i = 0; i < m->n_solid; i++)
        if (m->solid[i].bottom_m <= height_m + BESIDE_M &&
            m->solid[i].top_m >= height_m + m->rail_min_m &&
            gradin_polygon_contains(m->solid[i].polygon, at_m))
            return true;
    return false;
}

bool fit_is_before_seats(const gradin_model *m, gradin_vec2 at_m, gradin_vec2 outward) {
    for (int i = 0; i < m->seats.n_seat; i++) {
        double dx = m->seats.floor_m[i].x - at_m.x, dy = m->seats.floor_m[i].y - at_m.y;
        if (dx * outward.x + dy * outward.y > 0.0) return true;
    }
    return false;
}

static bool is_over_stair(const gradin_model *m, gradin_vec2 at_m) {
    return gradin_polygon_contains(m->footprint, at_m) && isinf(fit_surface_m(m, at_m, 0.0));
}

/* The same over a passage: no floor where its headroom cuts the platform, and what ends beside it
 * is told by its own sides. */
static bool is_passage_matter(const gradin_model *m, gradin_vec2 inner_m, gradin_vec2 beyond_m,
                              double height_m) {
    if (fit_passage(m, inner_m))
        return fabs(fit_surface_m(m, inner_m, height_m) - height_m) > BESIDE_M;
    return fit_passage(m, beyond_m) && fabs(fit_surface_m(m, inner_m, 0.0) - height_m) < BESIDE_M;
}

/* The outline of a platform goes on over an open stair, which cuts it: no floor, no edge. Where the
 * floor that stands on the ground ends at the stair, the stair's own sides tell it. */
static bool is_stair_matter(const gradin_model *m, gradin_vec2 at_m, gradin_vec2 outward,
                            double height_m) {
    gradin_vec2 inner_m = {at_m.x - outward.x * BESIDE_M, at_m.y - outward.y * BESIDE_M};
    gradin_vec2 beyond_m = {at_m.x + outward.x * BESIDE_M, at_m.y + outward.y * BESIDE_M};
    if (is_over_stair(m, inner_m) || is_passage_matter(m, inner_m, beyond_m, height_m)) return true;
    return is_over_stair(m, beyond_m) && fabs(fit_surface_m(m, inner_m, 0.0) - height_m) < BESIDE_M;
}

bool fit_is_stair_side(const gradin_model *m, gradin_vec2 at_m, gradin_vec2 outward,
                       double *height_m) {
    gradin_vec2 beyond_m = {at_m.x + outward.x * BESIDE_M, at_m.y + outward.y * BESIDE_M};
    *height_m = fit_surface_m(m, beyond_m, 0.0);
    return !isinf(*height_m) && !is_wall(m, beyond_m, *height_m) &&
           !fit_is_railed(m, at_m, *height_m);
}

bool fit_is_passage_side(const gradin_model *m, gradin_vec2 at_m, gradin_vec2 outward,
                         double *height_m, double *drop_m) {
    gradin_vec2 inner_m = {at_m.x - outward.x * BESIDE_M, at_m.y - outward.y * BESIDE_M};
    bool is_side = fit_is_stair_side(m, at_m, outward, height_m);
    *drop_m = *height_m - fit_surface_m(m, inner_m, *height_m);
    return is_side && *drop_m > m->machinery->rules.guard_drop_m + 1e-6;
}

/* Up to that point there is no fall: something stands there, or a floor. */
static bool is_held(const gradin_model *m, gradin_vec2 at_m, double height_m) {
    if (!gradin_polygon_contains(m->footprint, at_m)) return true;
    for (int i = 0; i < m->n_solid; i++)
        if (m->solid[i].bottom_m <= height_m + BESIDE_M && m->solid[i].top_m >= height_m &&
            gradin_polygon_contains(m->solid[i].polygon, at_m))
            return true;
    double drop_m = height_m - fit_surface_m(m, at_m, height_m);
    return drop_m <= m->machinery->rules.guard_drop_m + 1e-6;
}

/* A wall or a floor much as high begins within a gap: nothing to fall into. One no wider than a
 * beam is no floor. */
static bool is_gap(const gradin_model *m, gradin_vec2 at_m, gradin_vec2 outward, double height_m) {
    double far_m = GAP_M + TREAD_M;
    gradin_vec2 over_m = {at_m.x + outward.x * GAP_M, at_m.y + outward.y * GAP_M};
    gradin_vec2 beyond_m = {at_m.x + outward.x * far_m, at_m.y + outward.y * far_m};
    double rise_m = fit_surface_m(m, over_m, height_m) - height_m;
    return is_wall(m, over_m, height_m) ||
           (fabs(rise_m) <= BESIDE_M && is_held(m, beyond_m, height_m));
}

bool fit_is_open(const gradin_model *m, gradin_vec2 at_m, gradin_vec2 outward, double height_m,
                 double *upper_m, double *drop_m) {
    gradin_vec2 beyond_m = {at_m.x + outward.x * BESIDE_M, at_m.y + outward.y * BESIDE_M};
    double beyond_floor_m = fit_surface_m(m, beyond_m, height_m);
    bool is_pit = beyond_floor_m > height_m && fit_is_fixed_floor(m, beyond_m);
    *drop_m = is_pit ? beyond_floor_m - height_m : height_m - beyond_floor_m;
    *upper_m = is_pit ? beyond_floor_m : height_m;
    if (is_stair_matter(m, at_m, outward, height_m) || is_wall(m, beyond_m, *upper_m) ||
        (!is_pit && is_gap(m, at_m, outward, height_m)) ||
        *drop_m <= m->machinery->rules.guard_drop_m + 1e-6 || fit_is_railed(m, at_m, *upper_m))
        return false;
    if (isinf(*drop_m)) *drop_m = NAN;
    return true;
}

bool fit_add_edge(fit_edges_made *made, gradin_open_edge edge) {
    if (gradin_arena_grow(made->arena, (void **)&made->item, made->n, &made->capacity,
                          sizeof *made->item) != GRADIN_OK)
        return false;
    made->point_capacity = 2;
    made->point_m = gradin_arena_alloc(made->arena, 2, sizeof *made->point_m);
    if (!made->point_m) return false;
    made->point_m[0] = edge.from_m;
    made->point_m[1] = edge.to_m;
    edge.point_m = made->point_m;
    edge.n_point = 2;
    made->item[made->n++] = edge;
    return true;
}

bool fit_lead_on(fit_edges_made *made, gradin_vec2 to_m, bool is_bent) {
    gradin_open_edge *last = &made->item[made->n - 1];
    if (is_bent && gradin_arena_grow(made->arena, (void **)&made->point_m, last->n_point,
                                     &made->point_capacity, sizeof *made->point_m) != GRADIN_OK)
        return false;
    last->n_point += is_bent;
    made->point_m[last->n_point - 1] = to_m;
    last->point_m = made->point_m;
    last->to_m = to_m;
    return true;
}
