/* The mask kernel gives what the reference gives, bit for bit, with every instruction set. */
#include "base/faults.h"
#include "geometry/mask/mask_scene.h"
#include "support/formulas.h"
#include "unit/geometry/mask/same.h"

#include <criterion/criterion.h>
#include <string.h>

enum { N_OCCLUDER = 120, N_SAMPLE_MAX = 2600 };

typedef struct mask_world {
    gradin_occluder occluder[N_OCCLUDER];
    gradin_vec2 corner[N_OCCLUDER][RANDOM_CORNERS];
    gradin_scene scene;
    gradin_vec3 sample[N_SAMPLE_MAX];
    int n_sample;
    gradin_lie lie;
} mask_world;

#define EAST ((gradin_lie){{1.0, 0.0}, {1.0, 0.0}})

static mask_world world = {.lie = {{1.0, 0.0}, {1.0, 0.0}}};

/* A grid over a random star, of its own spacing and direction, askew to the star's edges or along
 * the axes; the star may be concave, so rows have gaps. */
static void draw_grid(mask_world *w, random_source *r, double half, double z, int n_wanted) {
    gradin_vec2 corner[RANDOM_CORNERS], *point;
    gradin_vec3 middle = random_point(r, 4.0);
    gradin_polygon star =
        random_star(r, (gradin_vec2){middle.x, middle.y}, 0.3 * half, half, RANDOM_CORNERS, corner);
    gradin_arena *arena = gradin_arena_create();
    w->lie = n_wanted % 2 ? EAST : gradin_polygon_askew(star);
    cr_assert_eq(gradin_polygon_grid(arena, star, w->lie.row, n_wanted, &point, &w->n_sample),
                 GRADIN_OK);
    cr_assert(w->n_sample <= N_SAMPLE_MAX);
    for (int i = 0; i < w->n_sample; i++) w->sample[i] = (gradin_vec3){point[i].x, point[i].y, z};
    gradin_arena_destroy(arena);
}

static void draw_occluders(mask_world *w, random_source *r, double size) {
    for (int k = 0; k < N_OCCLUDER; k++) {
        gradin_shape_kind kind = (gradin_shape_kind)(random_between(r, 0.0, 4.999));
        w->occluder[k].shape = random_shape(r, kind, 6.0, size, w->corner[k]);
        w->occluder[k].owner = k % 7 - 1;
        if (k > 0 && k % 5 == 0) w->occluder[k].shape = w->occluder[k - 1].shape;
    }
    w->scene = (gradin_scene){w->occluder, N_OCCLUDER};
}

static int compare_masks(const mask_world *w, gradin_vec3 eye, int owner, const char *what,
                         int trial) {
    return same_masks(&w->scene, w->sample, w->n_sample, w->lie, eye, owner, what, trial);
}

static void compare_many(uint64_t seed, int n_trial, double size, double half, int n_wanted,
                         const char *what) {
    random_source r = {seed};
    long n_hidden = 0, n_all = 0;
    for (int trial = 0; trial < n_trial; trial++) {
        draw_occluders(&world, &r, size);
        draw_grid(&world, &r, half, random_between(&r, -5.0, 5.0), n_wanted + trial % 3 / 2);
        gradin_vec3 eye = random_point(&r, 8.0);
        n_hidden += compare_masks(&world, eye, trial % 9 - 2, what, trial);
        n_all += world.n_sample;
    }
    cr_assert(n_hidden > n_all / 50 && n_hidden < n_all, "%s: %ld hidden of %ld", what, n_hidden,
              n_all);
}

Test(mask, equals_reference_small_things) {
    compare_many(51, 150, 0.3, 5.0, 300, "small");
}
Test(mask, equals_reference_large_things) {
    compare_many(52, 100, 2.0, 5.0, 300, "large");
}
Test(mask, equals_reference_fine_grid) {
    compare_many(53, 12, 0.5, 4.0, 2000, "fine");
}
Test(mask, equals_reference_coarse_grid) {
    compare_many(54, 200, 0.5, 8.0, 3, "coarse");
}
Test(mask, equals_reference_far_things) {
    compare_many(55, 100, 0.6, 0.5, 200, "narrow");
}

/* Rows at every ten degrees to the edge, which lies anyhow: the grid's own rows and both diagonals.
 */
Test(mask, equals_reference_however_the_rows_lie) {
    random_source r = {56};
    int n_hidden = 0;
    for (int turn = 0; turn < 36; turn++) {
        double edge = random_between(&r, 0.0, 2.0 * GRADIN_PI), row = edge + turn * GRADIN_PI / 18;
        world.lie = (gradin_lie){{cos(edge), sin(edge)}, {cos(row), sin(row)}};
        gradin_vec2 corner[RANDOM_CORNERS], *point;
        gradin_polygon star =
            random_star(&r, (gradin_vec2){1.0, -2.0}, 2.0, 5.0, RANDOM_CORNERS, corner);
        gradin_arena *arena = gradin_arena_create();
        gradin_polygon_grid(arena, star, world.lie.row, 900, &point, &world.n_sample);
        for (int i = 0; i < world.n_sample; i++)
            world.sample[i] = (gradin_vec3){point[i].x, point[i].y, 0.4};
        gradin_arena_destroy(arena);
        draw_occluders(&world, &r, 0.6);
        n_hidden += compare_masks(&world, random_point(&r, 8.0), turn % 9 - 2, "turned", turn);
    }
    cr_assert(n_hidden > 36 * 20 && n_hidden < 36 * 880, "%d", n_hidden);
}

/* The samples rise as a raked floor does, at every slope up to the steepest that is served. */
static void tilt(mask_world *w, gradin_vec2 rise) {
    for (int i = 0; i < w->n_sample; i++)
        w->sample[i].z += rise.x * w->sample[i].x + rise.y * w->sample[i].y;
}

static void compare_tilted(uint64_t seed, int n_trial, double size, int n_wanted, double most) {
    random_source r = {seed};
    long n_hidden = 0, n_all = 0;
    for (int trial = 0; trial < n_trial; trial++) {
        draw_occluders(&world, &r, size);
        draw_grid(&world, &r, 5.0, random_between(&r, -4.0, 4.0), n_wanted + trial % 2);
        gradin_vec3 rise = random_point(&r, trial % 3 ? 0.05 * most : most);
        tilt(&world, (gradin_vec2){rise.x, trial % 7 ? rise.y : 0.0});
        n_hidden += compare_masks(&world, random_point(&r, 8.0), trial % 9 - 2, "tilted", trial);
        n_all += world.n_sample;
    }
    cr_assert(n_hidden > n_all / 50 && n_hidden < n_all, "%ld hidden of %ld", n_hidden, n_all);
}

Test(mask, equals_reference_on_a_slope) {
    compare_tilted(61, 120, 0.3, 300, 0.7);
    compare_tilted(62, 80, 2.0, 300, 0.7);
    compare_tilted(63, 10, 0.5, 1800, 0.7);
}

/* A stage that rises 1 in 25 on two triangles, with a wall and a ball on it and a row before it.
 * None of the bodies is asked sample by sample, and the floor hides nothing of what lies on it. */
Test(mask, raked_stage_is_left_to_no_single_rays) {
    const gradin_vec3 at[4] = {{0, 0, 1}, {12, 0, 1}, {12, 6, 1.24}, {0, 6, 1.24}};
    static gradin_vec2 wall[4] = {{3, 4}, {5, 4}, {5, 4.2}, {3, 4.2}};
    static gradin_vec2 row[4] = {{0, -4}, {12, -4}, {12, -3}, {0, -3}};
    const gradin_shape body[] = {gradin_triangle(at[0], at[1], at[2]),
                                 gradin_triangle(at[0], at[2], at[3]),
                                 gradin_prism((gradin_polygon){wall, 4}, 0.0, 3.0),
                                 formula_sphere((gradin_vec3){8, 3, 1.4}, 0.5),
                                 gradin_prism((gradin_polygon){row, 4}, 0.0, 1.2)};
    enum { N_BODY = sizeof body / sizeof body[0] };
    world.lie = EAST;
    world.n_sample = 48 * 24;
    for (int i = 0; i < world.n_sample; i++)
        world.sample[i] = (gradin_vec3){0.125 + i % 48 * 0.25, 0.125 + i / 48 * 0.25, 1.0};
    tilt(&world, (gradin_vec2){0.0, 0.04});
    for (int k = 0; k < N_BODY; k++)
        world.occluder[k] = (gradin_occluder){.shape = body[k], .owner = GRADIN_NO_OWNER};
    world.scene = (gradin_scene){world.occluder, N_BODY};
    const gradin_vec3 eye = {6.1, -8.0, 2.3};
    int n_hidden = compare_masks(&world, eye, 0, "stage", 0);
    cr_assert(n_hidden > 30 && n_hidden < world.n_sample / 2, "%d", n_hidden);

    gradin_arena *arena = gradin_arena_create();
    gradin_mask_scene *masks = gradin_mask_scene_create(arena, &world.scene, EAST);
    const gradin_mask_grid *grid =
        gradin_mask_grid_create(arena, world.sample, world.n_sample, EAST);
    gradin_mask_scratch *scratch = gradin_mask_scratch_create(arena, &grid, 1);
    cr_assert(gradin_mask_fits(masks, grid, eye), "all rays are followed one by one");
    mask_job job = gradin_mask_job(masks, grid, eye, 0, scratch);
    int n_form[MASK_BY_SAMPLE + 1] = {0};
    for (int k = 0; k < N_BODY; k++) {
        mask_body one = gradin_mask_body(masks, k);
        mask_shadow shadow;
        n_form[gradin_mask_throw(&job.view, &one.occluder->shape, one.ellipsoid, &shadow)]++;
    }
    cr_assert_eq(n_form[MASK_NOTHING], 2, "%d hide nothing", n_form[MASK_NOTHING]);
    cr_assert_eq(n_form[MASK_BY_SAMPLE], 0, "%d by sample", n_form[MASK_BY_SAMPLE]);
    gradin_arena_destroy(arena);
}

/* An eye within several bodies in different parts of the tree: all are met at 0, and the one that
 * comes first in the scene has the name, ray by ray too. */
Test(mask, eye_within_several_bodies) {
    random_source r = {64};
    for (int trial = 0; trial < 100; trial++) {
        draw_occluders(&world, &r, 2.5);
        draw_grid(&world, &r, 5.0, random_between(&r, -5.0, 5.0), 50);
        compare_masks(&world, world.occluder[trial].shape.bound_centre_m, -2, "within", trial);
    }
}

/* Two words a row: the shadow of a ball runs on behind the last row and must not go on in the first
 * rows of the next strip. */
Test(mask, shadow_beyond_the_last_row) {
    world.lie = EAST;
    world.n_sample = 64 * 30;
    for (int i = 0; i < world.n_sample; i++) world.sample[i] = (gradin_vec3){i % 64, i / 64, 0.0};
    world.occluder[0].owner = GRADIN_NO_OWNER;
    world.occluder[0].shape = formula_sphere((gradin_vec3){6.0, 20.0, 1.0}, 0.9);
    world.scene = (gradin_scene){world.occluder, 1};
    int n = compare_masks(&world, (gradin_vec3){5.0, -10.0, 1.0}, 0, "ball", 0);
    cr_assert(n > 3 && n < 40, "%d", n);
}

/* The diagonals of 32 by 32 samples askew lie 7 degrees off the edge, whichever way the corners go
 * round: (32 cos 7 + 32 sin 7) / 1.414 = 25.2 columns in as many rows of 0.707 = 50.5. */
Test(mask, rows_askew_fit_one_word) {
    static gradin_vec2 corner[2][4] = {{{-5, -10}, {5, -10}, {5, 0}, {-5, 0}},
                                       {{-5, 0}, {5, 0}, {5, -10}, {-5, -10}}};
    for (int k = 0; k < 2; k++) {
        gradin_arena *arena = gradin_arena_create();
        gradin_polygon square = {corner[k], 4};
        gradin_lie lie = gradin_polygon_askew(square);
        gradin_vec2 *point;
        gradin_vec3 sample[1100];
        int n;
        cr_assert_eq(gradin_polygon_grid(arena, square, lie.row, 1024, &point, &n), GRADIN_OK);
        for (int i = 0; i < n; i++) sample[i] = (gradin_vec3){point[i].x, point[i].y, 0.9};
        const gradin_mask_grid *grid = gradin_mask_grid_create(arena, sample, n, lie);
        cr_assert(grid->is_regular && grid->n_strip == 1);
        cr_assert(grid->n_column <= 26 && grid->n_row <= 52, "%d by %d", grid->n_column,
                  grid->n_row);
        gradin_arena_destroy(arena);
    }
}

/* Everything axis-parallel, tops at the samples' height, eyes level with edges. */
Test(mask, equals_reference_in_a_regular_hall) {
    int n = 0, n_hidden = 0;
    for (int row = 0; row < 6; row++)
        for (int k = 0; k < 8; k++) {
            gradin_vec3 head = {k - 3.5, 4.0 + 0.9 * row, 1.2 + 0.03 * row};
            world.occluder[n].owner = n;
            world.occluder[n++].shape = gradin_ellipsoid(head, 180.0, 0.1, 0.08, 0.13);
            gradin_vec2 *corner = world.corner[n];
            gradin_rectangle_corners((gradin_vec2){head.x, head.y}, 180.0, 0.9, 1.0, corner);
            world.occluder[n].owner = GRADIN_NO_OWNER;
            world.occluder[n++].shape =
                gradin_prism((gradin_polygon){corner, 4}, -1.0, row < 4 ? 0.0 : 0.03 * row);
        }
    gradin_shape more[] = {
        gradin_capsule((gradin_vec3){-5, 3, 1}, (gradin_vec3){5, 3, 1}, 0.025),
        gradin_capsule((gradin_vec3){0, 1, 0}, (gradin_vec3){0, 1, 1.1}, 0.03),
        gradin_box((gradin_vec3){0, 2.5, 0.3}, 180.0, 0.01, 2.0, 0.3),
        gradin_box((gradin_vec3){2, 0, 1.2}, 90.0, 0.5, 0.5, 0.0),
        formula_sphere((gradin_vec3){1, -1, 0}, 0.4),
        gradin_triangle((gradin_vec3){-2, 0, 0}, (gradin_vec3){-1, 0, 0}, (gradin_vec3){-1, 0, 2})};
    for (size_t i = 0; i < sizeof more / sizeof more[0]; i++) {
        world.occluder[n].owner = GRADIN_NO_OWNER;
        world.occluder[n++].shape = more[i];
    }
    world.scene = (gradin_scene){world.occluder, n};
    world.n_sample = 20 * 15;
    for (int i = 0; i < world.n_sample; i++)
        world.sample[i] = (gradin_vec3){i % 20 * 0.5 - 4.75, i / 20 * 0.5 - 5.0, 0.0};
    for (int row = 0; row < 6; row++)
        for (int k = 0; k < 8; k++)
            n_hidden +=
                compare_masks(&world, (gradin_vec3){k - 3.5, 4.0 + 0.9 * row, 1.2 + 0.03 * row},
                              (row * 8 + k) * 2, "hall", row * 8 + k);
    cr_assert(n_hidden > 1000 && n_hidden < 14000, "%d", n_hidden);
}

/* A deck that carries the samples hides none of them, one 0.4 mm higher all that lie on it; from
 * below likewise. */
Test(mask, deck_at_and_above_the_samples) {
    static gradin_vec2 corner[4] = {{-3, -3}, {3, -3}, {3, 3}, {-3, 3}};
    static const double end_m[4] = {0.0, 4e-4, 0.0, -4e-4};
    world.occluder[0].owner = GRADIN_NO_OWNER;
    world.scene = (gradin_scene){world.occluder, 1};
    world.n_sample = 10 * 10;
    for (int i = 0; i < world.n_sample; i++)
        world.sample[i] = (gradin_vec3){i % 10 * 0.5 - 2.0, i / 10 * 0.5 - 2.0, 0.0};
    for (int i = 0; i < 4; i++) {
        double low = i < 2 ? -1.0 : end_m[i], high = i < 2 ? end_m[i] : 1.0;
        world.occluder[0].shape = gradin_prism((gradin_polygon){corner, 4}, low, high);
        int n = compare_masks(&world, (gradin_vec3){0.2, -9.0, i < 2 ? 2.0 : -2.0}, 0, "deck", i);
        cr_assert_eq(n, i % 2 ? 100 : 0, "end %g: %d hidden", end_m[i], n);
    }
}

/* A bar seen nearly end on: its middle line lies outside its shadow's straight part. */
Test(mask, equals_reference_along_a_bar) {
    random_source r = {58};
    int n_hidden = 0;
    for (int trial = 0; trial < 400; trial++) {
        gradin_vec3 eye = random_point(&r, 3.0), way = random_point(&r, 1.0);
        gradin_vec3 a = gradin_add(eye, way), b = gradin_add(eye, gradin_scale(way, 1.4));
        double radius = random_between(&r, 0.02, 0.2), off = random_between(&r, 0.8, 2.0) * radius;
        gradin_vec3 aside = random_point(&r, off);
        if (trial % 2) aside.z = 0.0;
        world.occluder[0].owner = GRADIN_NO_OWNER;
        world.occluder[0].shape =
            gradin_capsule(gradin_add(a, aside), gradin_add(b, aside), radius);
        world.scene = (gradin_scene){world.occluder, 1};
        draw_grid(&world, &r, 6.0, eye.z + random_between(&r, 0.1, 3.0) * (way.z < 0 ? -1 : 1),
                  200);
        n_hidden += compare_masks(&world, eye, 0, "along", trial) > 0;
    }
    cr_assert(n_hidden > 20, "%d", n_hidden);
}

/* Samples on no grid, at several heights, and an eye at the samples' own height. */
Test(mask, equals_reference_off_the_grid) {
    random_source r = {56};
    for (int trial = 0; trial < 20; trial++) {
        draw_occluders(&world, &r, 0.7);
        world.n_sample = 100;
        for (int i = 0; i < world.n_sample; i++) world.sample[i] = random_point(&r, 5.0);
        compare_masks(&world, random_point(&r, 8.0), 1, "scattered", trial);
        draw_grid(&world, &r, 4.0, 1.0, 200);
        gradin_vec3 eye = random_point(&r, 8.0);
        eye.z = 1.0 + (trial % 2 ? 0.0 : 2e-3);
        compare_masks(&world, eye, 1, "level", trial);
    }
}

/* Turned samples are found to lie on a grid, and the masks serve them, far from the origin too; a
 * scene made for other rows follows ray by ray to the same answer. */
Test(mask, turned_grids_are_served) {
    static const gradin_vec2 corner[4] = {
        {4e4, -3e4}, {4e4 + 9, -3e4}, {4e4 + 9, -3e4 + 6}, {4e4, -3e4 + 6}};
    gradin_arena *arena = gradin_arena_create();
    gradin_polygon area = {corner, 4};
    gradin_vec2 *point;
    gradin_lie lie = gradin_polygon_askew(area);
    int n;
    cr_assert_eq(gradin_polygon_grid(arena, area, lie.row, 1024, &point, &n), GRADIN_OK);
    for (int i = 0; i < n; i++) world.sample[i] = (gradin_vec3){point[i].x, point[i].y, 0.5};
    const gradin_mask_grid *grid = gradin_mask_grid_create(arena, world.sample, n, lie);
    const gradin_mask_grid *other = gradin_mask_grid_create(arena, world.sample, n, EAST);
    cr_assert(grid->is_regular && !other->is_regular);
    gradin_occluder rail = {.owner = GRADIN_NO_OWNER,
                            .shape = gradin_capsule((gradin_vec3){4e4, -3e4 + 8, 1},
                                                    (gradin_vec3){4e4 + 9, -3e4 + 8, 1}, 0.03)};
    gradin_scene scene = {&rail, 1};
    gradin_vec3 eye = {4e4 + 3, -3e4 + 11, 1.6};
    const gradin_mask_grid *both[2] = {grid, other};
    gradin_mask_scratch *scratch = gradin_mask_scratch_create(arena, both, 2);
    gradin_mask_scene *masks = gradin_mask_scene_create(arena, &scene, lie);
    int n_clear = gradin_mask_clear(masks, grid, eye, 0, NULL, scratch);
    cr_assert(n_clear > n / 2 && n_clear < n, "%d of %d", n_clear, n);
    cr_assert_eq(gradin_mask_clear(masks, other, eye, 0, NULL, scratch), n_clear);
    gradin_arena_destroy(arena);
}

Test(mask, empty_scene_full_view) {
    world.scene = (gradin_scene){NULL, 0};
    world.n_sample = 1;
    world.sample[0] = (gradin_vec3){1, 2, 3};
    cr_assert_eq(compare_masks(&world, (gradin_vec3){0, 0, 0}, 0, "empty", 0), 0);
}

Test(mask, every_allocation_is_checked) {
    random_source r = {57};
    draw_occluders(&world, &r, 0.5);
    draw_grid(&world, &r, 4.0, 0.0, 50);
    gradin_arena *arena = gradin_arena_create();
    const gradin_mask_grid *grid =
        gradin_mask_grid_create(arena, world.sample, world.n_sample, world.lie);
    for (int n = 1; n <= 8; n++) {
        gradin_alloc_fail_at(n);
        cr_assert_null(gradin_mask_scene_create(arena, &world.scene, world.lie),
                       "scene, allocation %d", n);
    }
    for (int n = 1; n <= 3; n++) {
        gradin_alloc_fail_at(n);
        cr_assert_null(gradin_mask_grid_create(arena, world.sample, world.n_sample, world.lie),
                       "grid, %d", n);
    }
    for (int n = 1; n <= 14; n++) {
        gradin_alloc_fail_at(n);
        cr_assert_null(gradin_mask_scratch_create(arena, &grid, 1), "scratch, allocation %d", n);
    }
    gradin_alloc_fail_at(0);
    gradin_arena_destroy(arena);
}

Test(mask, instruction_sets_are_told) {
    cr_assert(gradin_simd_has(GRADIN_SIMD_PORTABLE) && gradin_simd_use(GRADIN_SIMD_PORTABLE));
    cr_assert_eq(gradin_simd_used(), GRADIN_SIMD_PORTABLE);
    cr_assert(gradin_simd_use(GRADIN_SIMD_BEST));
    cr_assert_neq(gradin_simd_used(), GRADIN_SIMD_BEST);
    cr_assert_not(gradin_simd_has(GRADIN_N_SIMD));
    cr_assert_not(gradin_simd_use(GRADIN_N_SIMD));
}
