/* Every exact figure of occlusion in tests/cases/sightline-occlusion.case again, by the mask kernel
 * on finer and finer grids: the root mean square error over random shifts of the grid must shrink
 * with the spacing h as h^1.5 where an outline is curved (D. G. Kendall, On the number of lattice
 * points inside a random oval, 1948; from memory) and nearly as h^2 where edges are straight and
 * aslant (derived). Solid angles are sums of h/r^3 over hidden samples of a plane h below the eye.
 * A limit (over a rail, under a soffit, past an arch) is checked as the disc round the exact point:
 * the edge hides half of it. Sections are laid on their side, so that the plane looked at is level.
 * Prints every order (--verbose). */
#include "support/formulas.h"
#include "unit/geometry/random.h"

#include <criterion/criterion.h>
#include <criterion/logging.h>

#define EAST ((gradin_lie){{1.0, 0.0}, {1.0, 0.0}})

enum { N_LEVEL = 4, COARSEST = 16, N_SHIFT = 48, MOST = 129 * 129 };

typedef struct check {
    gradin_shape shape;
    gradin_vec3 eye_m;
    gradin_vec2 middle_m; /* of the samples, on z = 0 */
    double reach_m;       /* half the side of their square */
    bool is_disc;         /* samples within reach_m of the middle only */
    bool is_solid_angle;  /* sum of solid angles, else of areas over that of the disc */
    double exact, order;
} check;

static gradin_vec3 sample[MOST];
static bool clear[MOST];

static double weight(const check *c, gradin_vec3 p, double spacing) {
    if (!c->is_solid_angle) return spacing * spacing / (GRADIN_PI * c->reach_m * c->reach_m);
    double r = gradin_norm(gradin_sub(p, c->eye_m));
    return spacing * spacing * c->eye_m.z / (r * r * r);
}

static int lay_samples(const check *c, int n, double shift_x, double shift_y) {
    double spacing = 2.0 * c->reach_m / n;
    int count = 0;
    for (int i = 0; i < (n + 1) * (n + 1); i++) {
        double x = (i % (n + 1) + shift_x) * spacing - c->reach_m - spacing;
        double y = (i / (n + 1) + shift_y) * spacing - c->reach_m - spacing;
        if (c->is_disc && x * x + y * y > c->reach_m * c->reach_m) continue;
        sample[count++] = (gradin_vec3){c->middle_m.x + x, c->middle_m.y + y, 0.0};
    }
    return count;
}

static double measure(const check *c, const gradin_mask_scene *scene, int n, random_source *r) {
    double x = random_between(r, 0.5, 1.5), y = random_between(r, 0.5, 1.5), sum = 0.0;
    int count = lay_samples(c, n, x, y);
    gradin_arena *arena = gradin_arena_create();
    const gradin_mask_grid *grid = gradin_mask_grid_create(arena, sample, count, EAST);
    gradin_mask_scratch *scratch = gradin_mask_scratch_create(arena, &grid, 1);
    gradin_mask_clear(scene, grid, c->eye_m, 0, clear, scratch);
    for (int i = 0; i < count; i++)
        if (!clear[i]) sum += weight(c, sample[i], 2.0 * c->reach_m / n);
    gradin_arena_destroy(arena);
    return sum;
}

static void run(const char *what, double figure, check c) {
    gradin_occluder one = {c.shape, 0, GRADIN_NO_OWNER, 0};
    gradin_scene scene = {&one, 1};
    gradin_arena *arena = gradin_arena_create();
    gradin_mask_scene *masks = gradin_mask_scene_create(arena, &scene, EAST);
    random_source r = {91};
    double error[N_LEVEL];
    for (int level = 0; level < N_LEVEL; level++) {
        double sum = 0.0;
        for (int k = 0; k < N_SHIFT; k++) {
            double off = measure(&c, masks, COARSEST << level, &r) - c.exact;
            sum += off * off;
        }
        error[level] = sqrt(sum / N_SHIFT);
    }
    gradin_arena_destroy(arena);
    double order = log2(error[0] / error[N_LEVEL - 1]) / (N_LEVEL - 1);
    cr_log_info("%s %g: exact %.8f, errors %.1e %.1e %.1e %.1e, order %.2f of %.1f", what, figure,
                c.exact, error[0], error[1], error[2], error[3], order, c.order);
    cr_assert(fabs(order - c.order) < 0.3, "%s %g: order %.2f", what, figure, order);
    cr_assert_lt(error[N_LEVEL - 1], 0.01 * (c.is_solid_angle ? c.exact : 1.0), "%s %g: %g", what,
                 figure, error[N_LEVEL - 1]);
}

static void run_solid_angle(const char *what, gradin_shape shape, double eye_m, double reach_m,
                            double exact, double order) {
    run(what, exact,
        (check){.shape = shape,
                .eye_m = {0, 0, eye_m},
                .reach_m = reach_m,
                .is_solid_angle = true,
                .exact = exact,
                .order = order});
}

/* 2 pi (1 - sqrt(1 - (r/d)^2)) */
Test(exact_order, solid_angle_of_a_sphere) {
    static const double in[4][3] = {{0.1, 0.9, 0.03890555},
                                    {0.1, 1.0, 0.03149486},
                                    {0.1, 2.0, 0.00785890},
                                    {0.12, 0.9, 0.05610099}};
    for (int i = 0; i < 4; i++) {
        double plane = in[i][1] + 1.0, seen = in[i][0] / in[i][1] * plane;
        run_solid_angle("sphere", formula_sphere((gradin_vec3){0, 0, 1}, in[i][0]), plane,
                        1.2 * seen, in[i][2], 1.5);
    }
}

/* 2 pi (1 - d/sqrt(d^2 + r^2)); the disc is an ellipsoid a micrometre thick */
Test(exact_order, solid_angle_of_a_disc) {
    static const double in[3][3] = {
        {0.5, 10, 0.00783929}, {1, 10, 0.03118225}, {3, 20, 0.06951495}};
    for (int i = 0; i < 3; i++)
        run_solid_angle("disc",
                        gradin_ellipsoid((gradin_vec3){0, 0, 1}, 0, in[i][0], in[i][0], 5e-7),
                        in[i][1] + 1.0, 1.3 * in[i][0], in[i][2], 1.5);
}

static gradin_vec2 along(double u, double v) {
    gradin_vec2 unit = gradin_bearing_unit(17.0);
    return (gradin_vec2){u * unit.x - v * unit.y, u * unit.y + v * unit.x};
}

/* A level sheet, turned so that no edge runs along the samples. */
static gradin_shape sheet(double u_low, double u_high, double v_low, double v_high, double z,
                          gradin_vec2 corner[4]) {
    corner[0] = along(u_low, v_low);
    corner[1] = along(u_high, v_low);
    corner[2] = along(u_high, v_high);
    corner[3] = along(u_low, v_high);
    return gradin_prism((gradin_polygon){corner, 4}, z, z);
}

/* 4 asin(a b/sqrt((a^2 + d^2)(b^2 + d^2))), a and b half sides */
Test(exact_order, solid_angle_of_a_rectangle) {
    static const double in[4][4] = {{10, 6, 10, 0.51544889},
                                    {10, 6, 20, 0.14394244},
                                    {12, 7, 15, 0.33796581},
                                    {2, 2, 1, 2.09439510}};
    for (int i = 0; i < 4; i++) {
        gradin_vec2 corner[4];
        double w = 0.5 * in[i][0], h = 0.5 * in[i][1], gap = 0.1 * in[i][2];
        run_solid_angle("rectangle", sheet(-w, w, -h, h, gap, corner), in[i][2] + gap,
                        1.15 * hypot(w, h), in[i][3], 2.0);
    }
}

static void run_disc(const char *what, double figure, gradin_shape shape, gradin_vec3 eye,
                     gradin_vec2 middle, double radius_m, double exact) {
    run(what, figure, (check){shape, eye, middle, radius_m, true, false, exact, 1.5});
}

/* Disc below a straight edge, halfway between it and the eye. */
Test(exact_order, disc_below_an_edge) {
    static const double in[7][2] = {
        {-0.75, 0.07214681}, {-0.5, 0.19550111}, {-0.25, 0.34251882}, {0, 0.5},
        {0.25, 0.65748118},  {0.5, 0.80449889},  {0.75, 0.92785319}};
    for (int i = 0; i < 7; i++) {
        gradin_vec2 corner[4];
        run_disc("edge", in[i][0], sheet(-3, 0.5 * in[i][0], -3, 3, 5, corner),
                 (gradin_vec3){0, 0, 10}, (gradin_vec2){0, 0}, 1.0, in[i][1]);
    }
}

Test(exact_order, two_discs) {
    static const double in[4][4] = {{1, 1, 1, 0.39100222},
                                    {1, 0.5, 1, 0.11165248},
                                    {1, 0.5, 0.75, 0.19039307},
                                    {1, 0.5, 0.5, 0.25}};
    for (int i = 0; i < 4; i++) {
        gradin_vec2 at = along(0.5 * in[i][2], 0.0);
        run_disc(
            "lens", in[i][2],
            gradin_ellipsoid((gradin_vec3){at.x, at.y, 5}, 0, 0.5 * in[i][1], 0.5 * in[i][1], 5e-7),
            (gradin_vec3){0, 0, 10}, (gradin_vec2){0, 0}, in[i][0], in[i][3]);
    }
}

/* Circle on the axis, ellipse off it; the first shadow's radius is 1.11803399 m. */
Test(exact_order, sphere_over_a_disc) {
    static const double in[4][4] = {{0.9, 0, 2, 0.3125},
                                    {0.9, 0, 3, 0.13888889},
                                    {1.8, 0, 2, 0.07739938},
                                    {0.9, 0.1, 3, 0.13975425}};
    for (int i = 0; i < 4; i++) {
        gradin_vec2 at = along(in[i][1], 0.0);
        run_disc("sphere over disc", in[i][2],
                 formula_sphere((gradin_vec3){at.x, at.y, 10 - in[i][0]}, 0.1),
                 (gradin_vec3){0, 0, 10}, (gradin_vec2){0, 0}, in[i][2], in[i][3]);
    }
}

/* Sheet from u_edge to u_edge + way at depth at_m of plane_m: its shadow ends at u_limit, where
 * half of a disc is hidden. */
static void run_limit(const char *what, double u_edge, double way, double at_m, double plane_m,
                      double u_limit) {
    gradin_vec2 corner[4], middle = along(u_limit, 0.0);
    double low = fmin(u_edge, u_edge + way), high = fmax(u_edge, u_edge + way);
    run_disc(what, u_limit, sheet(low, high, -40, 40, plane_m - at_m, corner),
             (gradin_vec3){0, 0, plane_m}, middle, 1.0, 0.5);
}

/* Lowest seen over a rail: e - (e - h) D/x; all heights from the eye */
Test(exact_order, lowest_seen_over_a_rail) {
    static const double in[4][5] = {{4.2, 3.8, 0.9, 12, -1.13333333},
                                    {5.12, 4.66, 0.7, 15, -4.73714286},
                                    {1.2, 1.1, 0.9, 8, 0.31111111},
                                    {1.2, 0.8, 0.9, 8, -2.35555556}};
    for (int i = 0; i < 4; i++)
        run_limit("rail", in[i][1] - in[i][0], -40.0, in[i][2], in[i][3], in[i][4] - in[i][0]);
}

/* Highest seen under a soffit: e + (s - e) D/x */
Test(exact_order, highest_seen_under_a_soffit) {
    static const double in[3][5] = {
        {1.2, 3, 6, 15, 5.7}, {1.2, 2.8, 8, 20, 5.2}, {2, 3.5, 5, 18, 7.4}};
    for (int i = 0; i < 3; i++)
        run_limit("soffit", in[i][1] - in[i][0], 40.0, in[i][2], in[i][3], in[i][4] - in[i][0]);
}

/* Past the edges of a proscenium, the seat y off the middle: y + (w - y)(d + z)/d near, y - (w + y)
 * (d + z)/d far; across distances from the seat */
Test(exact_order, limits_past_an_arch) {
    static const double in[3][5] = {{8, 5, 10, 6, 3.2}, {6, 6, 12, 8, 6.0}, {10, 5, 8, 5, 1.875}};
    static const double far[3] = {-12.8, -14.0, -14.375};
    for (int i = 0; i < 3; i++) {
        double off = in[i][0], half = in[i][1], at = in[i][2], plane = in[i][2] + in[i][3];
        run_limit("arch near", half - off, 40.0, at, plane, in[i][4] - off);
        run_limit("arch far", -half - off, -40.0, at, plane, far[i] - off);
    }
}

static double strip_share(double breadth) {
    double x = 0.5 * breadth;
    return 2.0 * (x * sqrt(1.0 - x * x) + asin(x)) / GRADIN_PI;
}

/* A flat bar of 50 mm at 0.9 m hides 0.6667 m at 12 m (b D/x), a round one 0.66692 m (2 D
 * r/sqrt(x^2
 * - r^2)); both lie across the middle of a disc. */
Test(exact_order, bars) {
    gradin_vec2 corner[4], a = along(0.0, -1.0), b = along(0.0, 1.0);
    gradin_vec3 eye = {0, 0, 12};
    run_disc("flat bar", 0.66666667, sheet(-0.025, 0.025, -1, 1, 11.1, corner), eye,
             (gradin_vec2){0, 0}, 1.0, strip_share(12.0 * 0.05 / 0.9));
    gradin_shape round =
        gradin_capsule((gradin_vec3){a.x, a.y, 11.1}, (gradin_vec3){b.x, b.y, 11.1}, 0.025);
    run_disc("round bar", 0.66692, round, eye, (gradin_vec2){0, 0}, 1.0,
             strip_share(24.0 * 0.025 / sqrt(0.81 - 0.025 * 0.025)));
}
