/* Areas of shadows counted by the mask kernel on finer and finer grids close in on the exact ones
 * at the predicted rate. Root mean square error over random shifts of the grid against its spacing
 * h: h^1.5 for a smooth outline (D. G. Kendall, On the number of lattice points inside a random
 * oval, 1948; from memory); nearly h^2 for straight edges aslant, whose rows cut at evenly spread
 * places; h for edges along the rows, which are in or out as a whole (both derived). Exact areas:
 * tangent cones and similar triangles, derived. Prints the orders (--verbose). */
#include "support/formulas.h"
#include "unit/geometry/random.h"

#include <criterion/criterion.h>
#include <criterion/logging.h>

#define EAST ((gradin_lie){{1.0, 0.0}, {1.0, 0.0}})

enum { N_LEVEL = 5, COARSEST = 16, N_SHIFT = 48, MOST = 256 * 256 };
#define SIDE_M 6.0

static gradin_vec3 sample[MOST];

/* Area hidden by the occluder on the plane z = 0 from an eye at height 10 m, on n x n samples. */
static double hidden_m2(const gradin_mask_scene *scene, int n, double shift_x, double shift_y) {
    gradin_arena *arena = gradin_arena_create();
    double spacing = SIDE_M / n;
    for (int i = 0; i < n * n; i++)
        sample[i] = (gradin_vec3){-1.5 + (i % n + shift_x) * spacing,
                                  -0.5 * SIDE_M + (i / n + shift_y) * spacing, 0.0};
    const gradin_mask_grid *grid = gradin_mask_grid_create(arena, sample, n * n, EAST);
    gradin_mask_scratch *scratch = gradin_mask_scratch_create(arena, &grid, 1);
    int n_clear = gradin_mask_clear(scene, grid, (gradin_vec3){0, 0, 10}, 0, NULL, scratch);
    gradin_arena_destroy(arena);
    return (n * n - n_clear) * spacing * spacing;
}

static double rms_error_m2(const gradin_mask_scene *scene, int n, double exact_m2,
                           random_source *r) {
    double sum = 0.0;
    for (int k = 0; k < N_SHIFT; k++) {
        double x = random_between(r, 0.0, 1.0), y = random_between(r, 0.0, 1.0);
        double error = hidden_m2(scene, n, x, y) - exact_m2;
        sum += error * error;
    }
    return sqrt(sum / N_SHIFT);
}

static void check_order(const char *what, gradin_shape shape, double exact_m2, double expected,
                        double least_m2) {
    gradin_occluder one = {shape, 0, GRADIN_NO_OWNER, 0};
    gradin_scene scene = {&one, 1};
    gradin_arena *arena = gradin_arena_create();
    gradin_mask_scene *masks = gradin_mask_scene_create(arena, &scene, EAST);
    random_source r = {61};
    double error[N_LEVEL];
    for (int i = 0; i < N_LEVEL; i++) {
        error[i] = rms_error_m2(masks, COARSEST << i, exact_m2, &r);
        cr_log_info("%s: %3d x %3d samples, error %.2e m2, order %.2f", what, COARSEST << i,
                    COARSEST << i, error[i], i > 0 ? log2(error[i - 1] / error[i]) : NAN);
    }
    double order = log2(error[0] / error[N_LEVEL - 1]) / (N_LEVEL - 1);
    cr_assert(fabs(order - expected) < 0.2, "%s: order %.3f", what, order);
    cr_assert_lt(error[N_LEVEL - 1], least_m2, "%s: %.2e of %.4f m2", what, error[N_LEVEL - 1],
                 exact_m2);
    gradin_arena_destroy(arena);
}

/* Circle of radius 1.11803399 m: 10 tan(asin(0.1/0.9)). */
Test(mask_order, sphere_on_the_axis) {
    check_order("sphere", formula_sphere((gradin_vec3){0, 0, 9.1}, 0.1), GRADIN_PI * 1.25, 1.5,
                0.004);
}

/* Ellipse from y = 0 to 2.25 m, half axes 1.125 and 1.11803399 m. */
Test(mask_order, sphere_off_the_axis) {
    check_order("sphere aside", formula_sphere((gradin_vec3){0.1, 0, 9.1}, 0.1),
                GRADIN_PI * 1.125 * 1.11803398874989485, 1.5, 0.004);
}

/* A sheet 0.3 m by 0.2 m at a tenth of the way: 3 m by 2 m. */
Test(mask_order, turned_panel) {
    static const double half[2] = {0.15, 0.1};
    gradin_vec2 u = gradin_bearing_unit(17.0);
    static gradin_vec2 corner[4];
    for (int i = 0; i < 4; i++) {
        double a = (i == 0 || i == 3 ? 1 : -1) * half[0], b = (i < 2 ? 1 : -1) * half[1];
        corner[i] = (gradin_vec2){0.1 + a * u.x - b * u.y, a * u.y + b * u.x};
    }
    check_order("panel", gradin_prism((gradin_polygon){corner, 4}, 9.0, 9.0), 6.0, 2.0, 0.001);
}

/* A bar 0.2 m long and 0.05 m thick along the rows, a tenth of the way down: two half ellipses (the
 * cones round its end balls, 0.1 m aside and 1 m below) and the band between the planes that touch
 * it, which meet the ellipses at their middles. */
Test(mask_order, bar) {
    double r = 0.025, d2 = 1.0 + 0.01, k = d2 - r * r;
    double half = 10.0 * r * sqrt(k) / (1.0 - r * r), middle = 10.0 * 0.1 / (1.0 - r * r);
    double across = 10.0 * r / sqrt(1.0 - r * r);
    double exact = 2.0 * middle * 2.0 * across + GRADIN_PI * half * across;
    check_order("bar", gradin_capsule((gradin_vec3){-0.1, 0, 9.0}, (gradin_vec3){0.1, 0, 9.0}, r),
                exact, 1.0, 0.03);
}
