/* The envelope as occluders: every wall over its edge of the footprint, the roof at the ceiling's
 * height, each less the open glass in it. What is not stated to be glass is opaque. The ground is
 * solid along the walls, so a wall reaches down below all that is looked from and at.
 *
 * Limits: walls and roof are 1 mm thick, so reveals, frames, mullions and eaves hide nothing. A
 * pane that leans is cut out of its wall (out of the roof, when it leans by more than 45 degrees)
 * as its level (upright) picture. What stands outside (trees, other buildings) is not there. */
#include "sightline/outlook/outlook.h"

#include <string.h>

static const double HALF_M = 0.0005;  /* of the thickness */
static const double ON_WALL_M = 0.05; /* as venues may state a facade */
static const double MOST_ASIDE = 0.1; /* sine between a pane and its wall */
static const double LEAST_COMMON_M = 1e-6;

typedef struct shell {
    gradin_arena *arena;
    const gradin_model *model;
    const outlook_glass *glass;
    double lowest_m;
    double *off_m;      /* [n_hole] to the nearest wall that runs along it */
    outlook_quad *quad; /* [n_hole] scratch */
    gradin_occluder *occluder;
    int n_occluder, capacity;
} shell;

typedef struct wall {
    gradin_vec2 from_m, unit;
    double length_m;
} wall;

static wall wall_of(const gradin_model *model, int edge) {
    gradin_vec2 a = model->footprint.corner_m[edge];
    gradin_vec2 b = model->footprint.corner_m[(edge + 1) % model->footprint.n_corner];
    double length_m = hypot(b.x - a.x, b.y - a.y);
    return (wall){a, {(b.x - a.x) / length_m, (b.y - a.y) / length_m}, length_m};
}

static double along_m(const wall *w, gradin_vec3 at_m) {
    return (at_m.x - w->from_m.x) * w->unit.x + (at_m.y - w->from_m.y) * w->unit.y;
}

/* From the hole's base to the wall; INFINITY for a wall that it does not lie along. */
static double off_wall_m(const wall *w, const outlook_hole *hole) {
    gradin_vec2 along = hole->element->along;
    if (!(fabs(along.x * w->unit.y - along.y * w->unit.x) <= MOST_ASIDE)) return INFINITY;
    gradin_vec3 a = outlook_hole_point_m(hole, 0.0, 0.0), b = outlook_hole_point_m(hole, 1.0, 0.0);
    double low = fmin(along_m(w, a), along_m(w, b)), high = fmax(along_m(w, a), along_m(w, b));
    if (!(fmin(high, w->length_m) - fmax(low, 0.0) > LEAST_COMMON_M)) return INFINITY;
    return fabs((0.5 * (a.x + b.x) - w->from_m.x) * w->unit.y -
                (0.5 * (a.y + b.y) - w->from_m.y) * w->unit.x);
}

static void find_walls(shell *s) {
    for (int k = 0; k < s->glass->n_hole; k++) {
        s->off_m[k] = INFINITY;
        for (int i = 0; i < s->model->footprint.n_corner; i++) {
            wall w = wall_of(s->model, i);
            s->off_m[k] = fmin(s->off_m[k], off_wall_m(&w, &s->glass->hole[k]));
        }
    }
}

static bool add(shell *s, gradin_shape shape) {
    if (gradin_arena_grow(s->arena, (void **)&s->occluder, s->n_occluder, &s->capacity,
                          sizeof *s->occluder) != GRADIN_OK)
        return false;
    s->occluder[s->n_occluder++] = (gradin_occluder){
        .shape = shape, .cause = GRADIN_CAUSE_STRUCTURE, .owner = GRADIN_NO_OWNER};
    return true;
}

/* As the hole lies in the wall's own plane: along it and up. */
static outlook_quad on_wall(const wall *w, const outlook_hole *hole) {
    static const double corner[4][2] = {{0.0, 0.0}, {1.0, 0.0}, {1.0, 1.0}, {0.0, 1.0}};
    outlook_quad quad;
    for (int i = 0; i < 4; i++) {
        gradin_vec3 at_m = outlook_hole_point_m(hole, corner[i][0], corner[i][1]);
        quad.corner_m[i] = (gradin_vec2){along_m(w, at_m), at_m.z};
    }
    return quad;
}

static bool build_wall(shell *s, int edge) {
    wall w = wall_of(s->model, edge);
    if (!(w.length_m > 0.0)) return true;
    gradin_vec2 corner_m[4] = {{0.0, s->lowest_m},
                               {w.length_m, s->lowest_m},
                               {w.length_m, s->model->ceiling_m},
                               {0.0, s->model->ceiling_m}};
    outlook_strip *strip;
    int n_hole = 0, n_strip;
    for (int k = 0; k < s->glass->n_hole; k++) {
        const outlook_hole *hole = &s->glass->hole[k];
        if (gradin_element_is_overhead(hole->element)) continue;
        if (off_wall_m(&w, hole) <= s->off_m[k] + ON_WALL_M) s->quad[n_hole++] = on_wall(&w, hole);
    }
    if (!outlook_cut(s->arena, (gradin_polygon){corner_m, 4}, s->quad, n_hole, &strip, &n_strip))
        return false;
    double bearing_deg = gradin_bearing_deg(w.unit.x, w.unit.y);
    for (int i = 0; i < n_strip; i++) {
        double at_m = 0.5 * (strip[i].x[0] + strip[i].x[1]);
        double low_m = strip[i].low[0], high_m = strip[i].high[0];
        gradin_vec3 centre_m = {w.from_m.x + at_m * w.unit.x, w.from_m.y + at_m * w.unit.y,
                                0.5 * (low_m + high_m)};
        if (!add(s, gradin_box(centre_m, bearing_deg, 0.5 * (strip[i].x[1] - strip[i].x[0]), HALF_M,
                               0.5 * (high_m - low_m))))
            return false;
    }
    return true;
}

static outlook_quad on_plan(const outlook_hole *hole) {
    static const double corner[4][2] = {{0.0, 0.0}, {1.0, 0.0}, {1.0, 1.0}, {0.0, 1.0}};
    outlook_quad quad;
    for (int i = 0; i < 4; i++) {
        gradin_vec3 at_m = outlook_hole_point_m(hole, corner[i][0], corner[i][1]);
        quad.corner_m[i] = (gradin_vec2){at_m.x, at_m.y};
    }
    return quad;
}

/* A strip as a prism; where its two sides meet, three corners. */
static bool add_roof_strip(shell *s, const outlook_strip *strip) {
    gradin_vec2 *corner_m = gradin_arena_alloc(s->arena, 4, sizeof *corner_m);
    if (!corner_m) return false;
    int n = 0;
    corner_m[n++] = (gradin_vec2){strip->x[0], strip->low[0]};
    corner_m[n++] = (gradin_vec2){strip->x[1], strip->low[1]};
    if (strip->high[1] > strip->low[1]) corner_m[n++] = (gradin_vec2){strip->x[1], strip->high[1]};
    if (strip->high[0] > strip->low[0]) corner_m[n++] = (gradin_vec2){strip->x[0], strip->high[0]};
    double ceiling_m = s->model->ceiling_m;
    return n < 3 ||
           add(s, gradin_prism((gradin_polygon){corner_m, n}, ceiling_m, ceiling_m + 2.0 * HALF_M));
}

static bool build_roof(shell *s) {
    outlook_strip *strip;
    int n_hole = 0, n_strip;
    for (int k = 0; k < s->glass->n_hole; k++)
        if (gradin_element_is_overhead(s->glass->hole[k].element))
            s->quad[n_hole++] = on_plan(&s->glass->hole[k]);
    if (!outlook_cut(s->arena, s->model->footprint, s->quad, n_hole, &strip, &n_strip))
        return false;
    for (int i = 0; i < n_strip; i++)
        if (!add_roof_strip(s, &strip[i])) return false;
    return true;
}

bool outlook_scene(gradin_arena *arena, const gradin_model *model, const outlook_glass *glass,
                   double lowest_m, gradin_scene *scene) {
    shell s = {.arena = arena, .model = model, .glass = glass, .lowest_m = lowest_m};
    s.off_m = gradin_arena_alloc(arena, (size_t)glass->n_hole, sizeof *s.off_m);
    s.quad = gradin_arena_alloc(arena, (size_t)glass->n_hole, sizeof *s.quad);
    if (!s.off_m || !s.quad) return false;
    find_walls(&s);
    for (int i = 0; i < model->footprint.n_corner; i++)
        if (!build_wall(&s, i)) return false;
    if (!build_roof(&s)) return false;
    int n_model = model->scene.n_occluder;
    gradin_occluder *all = gradin_arena_alloc(arena, (size_t)(n_model + s.n_occluder), sizeof *all);
    if (!all) return false;
    if (n_model > 0) memcpy(all, model->scene.occluder, (size_t)n_model * sizeof *all);
    if (s.n_occluder > 0) memcpy(all + n_model, s.occluder, (size_t)s.n_occluder * sizeof *all);
    *scene = (gradin_scene){all, n_model + s.n_occluder};
    return true;
}
