/* Operations of the text cases on geometry: every one puts shapes between an eye and a set of
 * samples and asks gradin_mask_clear(), the kernel that the tool itself uses. */
#include "case.h"
#include "gradin/geometry.h"
#include "support/formulas.h"

#include <stdlib.h>

enum { N_CAP = 1 << 18, N_GRID = 60000, N_ROUND = 720, HALVINGS = 50 };

/* Scenes on a grid are turned by this, so that no edge runs along a row of samples. */
#define TURN_DEG 17.0
#define EAST ((gradin_vec2){1.0, 0.0})
#define ALONG ((gradin_lie){EAST, EAST})

static int count_hidden(const gradin_occluder *occluder, int n_occluder, gradin_vec3 eye,
                        const gradin_vec3 *sample, int n) {
    gradin_arena *arena = gradin_arena_create();
    gradin_scene scene = {occluder, n_occluder};
    gradin_mask_scene *masks = arena ? gradin_mask_scene_create(arena, &scene, ALONG) : NULL;
    const gradin_mask_grid *grid = masks ? gradin_mask_grid_create(arena, sample, n, ALONG) : NULL;
    gradin_mask_scratch *scratch = grid ? gradin_mask_scratch_create(arena, &grid, 1) : NULL;
    int n_hidden = -1;
    if (scratch) n_hidden = n - gradin_mask_clear(masks, grid, eye, GRADIN_NO_OWNER, NULL, scratch);
    gradin_arena_destroy(arena);
    return n_hidden;
}

static gradin_occluder blocks(gradin_shape shape) {
    return (gradin_occluder){shape, 0, GRADIN_NO_OWNER, 0};
}

/* A regular polygon of N_ROUND corners with the area of the circle. */
static gradin_polygon round_polygon(gradin_vec2 centre, double radius, gradin_vec2 *corner) {
    double step = 2.0 * GRADIN_PI / N_ROUND, reach = radius * sqrt(step / sin(step));
    for (int i = 0; i < N_ROUND; i++)
        corner[i] =
            (gradin_vec2){centre.x + reach * cos(i * step), centre.y + reach * sin(i * step)};
    return (gradin_polygon){corner, N_ROUND};
}

/* Share of a disc of radius_m on z = 0 that one occluder hides. */
static double hidden_of_disc(gradin_shape shape, gradin_vec3 eye, double radius_m) {
    static gradin_vec2 corner[N_ROUND];
    gradin_arena *arena = gradin_arena_create();
    gradin_vec2 *point;
    int n;
    double share = NAN;
    gradin_polygon disc = round_polygon((gradin_vec2){0.0, 0.0}, radius_m, corner);
    gradin_occluder occluder = blocks(shape);
    if (arena && gradin_polygon_grid(arena, disc, EAST, N_GRID, &point, &n) == GRADIN_OK) {
        gradin_vec3 *sample = gradin_arena_alloc(arena, (size_t)n, sizeof *sample);
        for (int i = 0; sample && i < n; i++) sample[i] = (gradin_vec3){point[i].x, point[i].y, 0};
        if (sample) share = (double)count_hidden(&occluder, 1, eye, sample, n) / n;
    }
    gradin_arena_destroy(arena);
    return share;
}

static gradin_vec2 turned(double along) {
    gradin_vec2 unit = gradin_bearing_unit(TURN_DEG);
    return (gradin_vec2){along * unit.x, along * unit.y};
}

/* Solid angle that a shape on the axis below the eye takes up, by samples of equal solid angle
 * (Fibonacci spiral) over the cap of half angle half_rad round the axis, 100 m away. */
static double solid_angle(gradin_shape shape, gradin_vec3 eye, double half_rad) {
    gradin_vec3 *sample = malloc(N_CAP * sizeof *sample);
    gradin_occluder occluder = blocks(shape);
    double cap = 1.0 - cos(fmin(half_rad, 0.499 * GRADIN_PI));
    double golden = GRADIN_PI * (3.0 - sqrt(5.0));
    if (!sample) return NAN;
    for (int i = 0; i < N_CAP; i++) {
        double cosine = 1.0 - cap * (i + 0.5) / N_CAP, sine = sqrt(1.0 - cosine * cosine);
        gradin_vec3 unit = {sine * cos(golden * i), sine * sin(golden * i), -cosine};
        sample[i] = gradin_add(eye, gradin_scale(unit, 100.0));
    }
    int n_hidden = count_hidden(&occluder, 1, eye, sample, N_CAP);
    free(sample);
    return 2.0 * GRADIN_PI * cap * n_hidden / N_CAP;
}

/* The point between a (seen) and b (hidden) where the view ends, as a fraction of the way. */
static double view_ends(const gradin_occluder *occluder, int n, gradin_vec3 eye, gradin_vec3 a,
                        gradin_vec3 b) {
    double seen = 0.0, hidden = 1.0;
    if (count_hidden(occluder, n, eye, &a, 1) != 0 || count_hidden(occluder, n, eye, &b, 1) != 1)
        return NAN;
    for (int i = 0; i < HALVINGS; i++) {
        double middle = 0.5 * (seen + hidden);
        gradin_vec3 p = gradin_add(a, gradin_scale(gradin_sub(b, a), middle));
        if (count_hidden(occluder, n, eye, &p, 1) > 0)
            hidden = middle;
        else
            seen = middle;
    }
    return seen;
}

static double run_sphere_solid_angle(const double *in) {
    double half = asin(in[0] / in[1]);
    return solid_angle(formula_sphere((gradin_vec3){0, 0, 0}, in[0]), (gradin_vec3){0, 0, in[1]},
                       1.2 * half);
}

static double run_disc_solid_angle(const double *in) {
    static gradin_vec2 corner[N_ROUND];
    gradin_polygon disc = round_polygon((gradin_vec2){0, 0}, in[0], corner);
    return solid_angle(gradin_prism(disc, 0.0, 0.0), (gradin_vec3){0, 0, in[1]},
                       1.2 * atan(in[0] / in[1]));
}

static double run_rectangle_solid_angle(const double *in) {
    gradin_shape sheet =
        gradin_box((gradin_vec3){0, 0, 0}, TURN_DEG, 0.5 * in[1], 0.5 * in[0], 0.0);
    return solid_angle(sheet, (gradin_vec3){0, 0, in[2]},
                       1.05 * atan(0.5 * hypot(in[0], in[1]) / in[2]));
}

/* A half plane half-way up hides the unit disc up to `edge`. */
static double run_disc_below_edge(const double *in) {
    gradin_vec2 corner[4];
    gradin_rectangle_corners(turned(0.5 * in[0] - 5.0), TURN_DEG, 10.0, 10.0, corner);
    return hidden_of_disc(gradin_prism((gradin_polygon){corner, 4}, 2.0, 2.0),
                          (gradin_vec3){0, 0, 4}, 1.0);
}

/* A disc of half the radius half-way up. */
static double run_two_discs(const double *in) {
    static gradin_vec2 corner[N_ROUND];
    gradin_polygon small = round_polygon(turned(0.5 * in[2]), 0.5 * in[1], corner);
    return hidden_of_disc(gradin_prism(small, 2.0, 2.0), (gradin_vec3){0, 0, 4}, in[0]);
}

static double run_sphere_over_disc(const double *in) {
    double r = in[0], d = in[1], plane = in[3];
    gradin_vec2 side = turned(in[2]);
    return hidden_of_disc(formula_sphere((gradin_vec3){side.x, side.y, plane - d}, r),
                          (gradin_vec3){0, 0, plane}, in[4]);
}

/* Where the shadow ends on the side away from the axis. */
static double run_sphere_shadow_end(const double *in) {
    double plane = in[3];
    gradin_vec2 side = turned(in[2]), out = turned(10.0), middle = turned(in[2] * plane / in[1]);
    gradin_occluder head =
        blocks(formula_sphere((gradin_vec3){side.x, side.y, plane - in[1]}, in[0]));
    gradin_vec3 eye = {0, 0, plane}, seen = {out.x, out.y, 0}, hidden = {middle.x, middle.y, 0};
    double from = 10.0, to = in[2] * plane / in[1];
    return from + (to - from) * view_ends(&head, 1, eye, seen, hidden);
}

static double run_rail_lowest(const double *in) {
    double eye_z = in[0], top = in[1], rail_at = in[2], at = in[3], low = -15.0;
    gradin_occluder rail = blocks(
        gradin_box((gradin_vec3){0, rail_at, 0.5 * (top + low)}, 0.0, 0.0, 5.0, 0.5 * (top - low)));
    gradin_vec3 seen = {0, at, eye_z}, hidden = {0, at, -14.0};
    return eye_z + (-14.0 - eye_z) * view_ends(&rail, 1, (gradin_vec3){0, 0, eye_z}, seen, hidden);
}

static double run_soffit_highest(const double *in) {
    double eye_z = in[0], under = in[1], edge_at = in[2], at = in[3], high = 40.0;
    const gradin_vec2 corner[4] = {{-9, -5}, {9, -5}, {9, edge_at}, {-9, edge_at}};
    gradin_occluder slab = blocks(gradin_prism((gradin_polygon){corner, 4}, under, under + 0.3));
    gradin_vec3 seen = {0, at, eye_z}, hidden = {0, at, under + (under - eye_z) * at / edge_at};
    hidden.z = fmin(hidden.z, high);
    return eye_z +
           (hidden.z - eye_z) * view_ends(&slab, 1, (gradin_vec3){0, 0, eye_z}, seen, hidden);
}

static double shadow_breadth(gradin_shape bar, double at) {
    gradin_occluder occluder = blocks(bar);
    gradin_vec3 eye = {0, 0, 0}, hidden = {0, at, 0}, high = {0, at, 5}, low = {0, at, -5};
    return 5.0 * (1.0 - view_ends(&occluder, 1, eye, high, hidden)) +
           5.0 * (1.0 - view_ends(&occluder, 1, eye, low, hidden));
}

static double run_flat_bar_shadow(const double *in) {
    return shadow_breadth(gradin_box((gradin_vec3){0, in[1], 0}, 0.0, 0.0, 2.0, 0.5 * in[0]),
                          in[2]);
}

static double run_round_bar_shadow(const double *in) {
    return shadow_breadth(
        gradin_capsule((gradin_vec3){-2, in[1], 0}, (gradin_vec3){2, in[1], 0}, 0.5 * in[0]),
        in[2]);
}

/* Two panels of a proscenium leave |x| < half open at y = 0; the seat is `off` to the right of the
 * axis, `distance` before it; the view ends at x on the line `depth` behind it. */
static double arch_limit(const double *in, double side) {
    double half = in[0], off = in[1], distance = in[2], depth = in[3];
    gradin_occluder panel[2] = {
        blocks(gradin_box((gradin_vec3){half + 20.0, 0, 9}, 0.0, 0.0, 20.0, 10.0)),
        blocks(gradin_box((gradin_vec3){-half - 20.0, 0, 9}, 0.0, 0.0, 20.0, 10.0))};
    double middle = off - off * (distance + depth) / distance, out = middle + side * 30.0;
    gradin_vec3 eye = {off, -distance, 1.2}, seen = {middle, depth, 1.2},
                hidden = {out, depth, 1.2};
    return middle + (out - middle) * view_ends(panel, 2, eye, seen, hidden);
}

static double run_arch_near(const double *in) {
    return arch_limit(in, 1.0);
}
static double run_arch_far(const double *in) {
    return arch_limit(in, -1.0);
}

const case_operation case_geometry[] = {
    {"sphere_solid_angle", "radius distance", run_sphere_solid_angle},
    {"disc_solid_angle", "radius distance", run_disc_solid_angle},
    {"rectangle_solid_angle", "width height distance", run_rectangle_solid_angle},
    {"disc_below_edge", "edge", run_disc_below_edge},
    {"two_discs", "radius other gap", run_two_discs},
    {"sphere_over_disc", "radius distance aside plane disc", run_sphere_over_disc},
    {"sphere_shadow_end", "radius distance aside plane", run_sphere_shadow_end},
    {"rail_lowest", "eye top rail_at at", run_rail_lowest},
    {"soffit_highest", "eye under edge_at at", run_soffit_highest},
    {"flat_bar_shadow", "breadth bar_at at", run_flat_bar_shadow},
    {"round_bar_shadow", "breadth bar_at at", run_round_bar_shadow},
    {"arch_near", "half off distance depth", run_arch_near},
    {"arch_far", "half off distance depth", run_arch_far},
    {0},
};
