/* Triangle soups give what the reference gives, bit for bit: small, huge, thin, flat and doubled
 * triangles among other occluders, eyes before, behind and inside, far from the origin, samples on
 * and off the grid. A soup of a million is timed by tests/bench. */
#include "base/faults.h"
#include "unit/geometry/mask/same.h"

#include <criterion/criterion.h>

enum { N_SOUP = 1400, N_OTHER = 40, N_ALL = N_SOUP + N_OTHER };

static gradin_occluder occluder[N_ALL];
static gradin_vec2 corner[N_OTHER][RANDOM_CORNERS];
static gradin_vec3 sample[SAME_MOST];
static gradin_lie lie = {{1.0, 0.0}, {1.0, 0.0}};

static gradin_shape draw_triangle(random_source *r, int k, double half, double size) {
    gradin_vec3 a = random_point(r, half), u = random_point(r, size), v = random_point(r, size);
    double stretch = k % 50 == 7 ? 30.0 : 1.0; /* some are huge */
    gradin_vec3 b = gradin_add(a, gradin_scale(u, stretch)), c = gradin_add(a, v);
    if (k % 20 == 3) c = gradin_add(a, gradin_scale(u, 0.3));             /* no area */
    if (k % 20 == 5) c = gradin_add(b, gradin_scale(v, 1e-7));            /* a needle */
    if (k % 20 == 9) b = c = a;                                           /* a point */
    if (k % 20 == 11) a.z = b.z = c.z;                                    /* level */
    if (k % 20 == 13) b = (gradin_vec3){a.x, a.y, a.z + size}, c.x = a.x; /* upright */
    return gradin_triangle(a, b, c);
}

/* Triangles with other kinds among them; some belong to an eye, some come twice. */
static gradin_scene draw_scene(random_source *r, double half, double size, gradin_vec3 shift) {
    for (int k = 0; k < N_ALL; k++) {
        gradin_occluder *o = &occluder[k];
        *o = (gradin_occluder){.owner = GRADIN_NO_OWNER};
        if (k % 36 == 35 && k / 36 < N_OTHER) {
            gradin_shape_kind kind = (gradin_shape_kind)random_between(r, 0.0, 4.999);
            o->shape = random_shape(r, kind, half, 2.0 * size, corner[k / 36]);
            o->owner = k % 5 - 1;
            continue;
        }
        o->shape = draw_triangle(r, k, half, size);
        if (k % 90 == 1) o->owner = 1;
        if (k > 0 && k % 15 == 0 && occluder[k - 1].shape.kind == GRADIN_SHAPE_TRIANGLE)
            o->shape = occluder[k - 1].shape;
        const gradin_vec3 *c = o->shape.as.triangle.corner_m;
        o->shape = gradin_triangle(gradin_add(c[0], shift), gradin_add(c[1], shift),
                                   gradin_add(c[2], shift));
    }
    return (gradin_scene){occluder, N_ALL};
}

static int draw_grid(int side, double spacing, gradin_vec3 low) {
    double half = 0.5 * (side - 1);
    for (int i = 0; i < side * side; i++) {
        double column = i % side - half, row = i / side - half;
        double x = column * lie.row.x - row * lie.row.y, y = column * lie.row.y + row * lie.row.x;
        sample[i] =
            (gradin_vec3){low.x + spacing * (x + half), low.y + spacing * (y + half), low.z};
    }
    return side * side;
}

static void compare_many(uint64_t seed, int n_trial, double half, double size, gradin_vec3 shift,
                         const char *what) {
    random_source r = {seed};
    long n_hidden = 0, n_all = 0;
    for (int trial = 0; trial < n_trial; trial++) {
        lie.row = trial % 2 ? lie.edge : gradin_bearing_unit(trial % 4 ? 69.2 : 111.0);
        gradin_scene scene = draw_scene(&r, half, size, shift);
        gradin_vec3 low = gradin_add(shift, random_point(&r, half));
        int n = draw_grid(12, random_between(&r, 0.02, 0.2) * half, low);
        gradin_vec3 eye = gradin_add(shift, random_point(&r, trial % 3 ? 1.5 * half : half));
        n_hidden += same_masks(&scene, sample, n, lie, eye, trial % 3, what, trial);
        n_all += n;
    }
    cr_assert(n_hidden > n_all / 20 && n_hidden < n_all, "%s: %ld hidden of %ld", what, n_hidden,
              n_all);
}

Test(soup, equals_reference_small_triangles) {
    compare_many(71, 12, 4.0, 0.15, (gradin_vec3){0, 0, 0}, "small");
}
Test(soup, equals_reference_middling_triangles) {
    compare_many(72, 12, 6.0, 0.6, (gradin_vec3){0, 0, 0}, "middling");
}
Test(soup, equals_reference_large_triangles) {
    compare_many(76, 10, 8.0, 1.5, (gradin_vec3){0, 0, 0}, "large");
}
Test(soup, equals_reference_far_from_the_origin) {
    compare_many(73, 10, 4.0, 0.3, (gradin_vec3){800, -1200, 300}, "far");
}

/* A closed sheet of small triangles: rays hit edges and corners that neighbours share. */
static gradin_scene make_sheet(double fold) {
    int n = 0, side = 26;
    for (int i = 0; i < side; i++)
        for (int k = 0; k < side; k++) {
            gradin_vec3 p[4];
            for (int c = 0; c < 4; c++) {
                double u = 0.125 * (i + (c == 1 || c == 2)), v = 0.125 * (k + (c >= 2));
                p[c] = (gradin_vec3){u, 4.0 + fold * sin(5.0 * u), v};
            }
            occluder[n].owner = occluder[n + 1].owner = GRADIN_NO_OWNER;
            occluder[n++].shape = gradin_triangle(p[0], p[1], p[2]);
            occluder[n++].shape = gradin_triangle(p[0], p[2], p[3]);
        }
    return (gradin_scene){occluder, n};
}

/* Long level blades through the sheet make the box of every group wide and its steps coarse. */
static gradin_scene add_blades(gradin_scene scene) {
    int n = scene.n_occluder;
    for (int i = 0; i < 60; i++) {
        double u = 0.05 * i + 0.1, v = 0.4 * (i % 8) + 0.21;
        occluder[n].owner = GRADIN_NO_OWNER;
        occluder[n++].shape =
            gradin_triangle((gradin_vec3){u - 300.0, 4.0, v}, (gradin_vec3){u + 300.0, 4.0, v},
                            (gradin_vec3){u, 4.1, v});
    }
    return (gradin_scene){occluder, n};
}

Test(soup, sheet_leaves_no_gap_and_no_leak) {
    for (int trial = 0; trial < 4; trial++) {
        gradin_scene sheet = make_sheet(trial % 2 ? 0.4 : 0.0);
        if (trial >= 2) sheet = add_blades(sheet);
        int n = draw_grid(24, 0.125, (gradin_vec3){0.125, 8.0, trial < 2 ? 0.0 : 0.01});
        /* the flat one is met at corners alone: eye, sample and sheet stand on one raster */
        same_masks(&sheet, sample, n, lie, (gradin_vec3){1.5, 0.0, 2.5}, 0, "sheet before", trial);
        same_masks(&sheet, sample, n, lie, (gradin_vec3){1.5, 4.01, 1.5}, 0, "sheet at", trial);
        int n_behind =
            same_masks(&sheet, sample, n, lie, (gradin_vec3){1.5, 9.0, 2.0}, 0, "behind", trial);
        cr_assert_eq(n_behind, 0, "%d hidden by what is behind the samples", n_behind);
    }
}

Test(soup, equals_reference_off_the_grid) {
    random_source r = {74};
    for (int trial = 0; trial < 6; trial++) {
        gradin_scene scene = draw_scene(&r, 4.0, 0.4, (gradin_vec3){0, 0, 0});
        gradin_vec3 eye = random_point(&r, 5.0);
        for (int i = 0; i < 100; i++) sample[i] = random_point(&r, 5.0);
        sample[99] = sample[98] = eye; /* a way of no length */
        same_masks(&scene, sample, 100, lie, eye, 1, "scattered", trial);
        int n = draw_grid(9, 0.3, random_point(&r, 4.0));
        eye.z = sample[0].z;
        same_masks(&scene, sample, n, lie, eye, 1, "level", trial);
    }
}

Test(soup, every_allocation_is_checked) {
    random_source r = {75};
    gradin_scene scene = draw_scene(&r, 4.0, 0.4, (gradin_vec3){0, 0, 0});
    gradin_arena *arena = gradin_arena_create();
    for (int n = 1; n <= 13; n++) {
        gradin_alloc_fail_at(n);
        cr_assert_null(gradin_mask_scene_create(arena, &scene, lie), "allocation %d", n);
    }
    gradin_alloc_fail_at(0);
    cr_assert_not_null(gradin_mask_scene_create(arena, &scene, lie));
    gradin_arena_destroy(arena);
}
