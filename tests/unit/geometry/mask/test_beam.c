/* Segments of a pyramid give what the reference gives, bit for bit, with every instruction set:
 * few bodies and too many to list, a soup, eyes inside bodies, narrow and wide pyramids. */
#include "base/faults.h"
#include "unit/geometry/random.h"

#include <criterion/criterion.h>

enum { N_RAY = 150, N_MOST = 1500 };

static gradin_occluder occluder[N_MOST];
static gradin_vec2 corner[N_MOST][RANDOM_CORNERS];
static gradin_vec3 eye;
static int owner;
static const gradin_lie lie = {{0.8, 0.6}, {1.0, 0.0}};

static gradin_scene draw_scene(random_source *r, int n, double size, bool is_soup) {
    for (int k = 0; k < n; k++) {
        gradin_shape_kind kind = (gradin_shape_kind)random_between(r, 0.0, 4.999);
        if (is_soup && k % 8) kind = GRADIN_SHAPE_TRIANGLE;
        occluder[k] = (gradin_occluder){.shape = random_shape(r, kind, 5.0, size, corner[k]),
                                        .owner = is_soup ? GRADIN_NO_OWNER : k % 5 - 1};
        if (k % 40 == 39) occluder[k].shape = occluder[k - 1].shape; /* the first is told */
    }
    return (gradin_scene){occluder, n};
}

/* Ways in order round the pyramid, the left handed way in every other trial. */
static void draw_pyramid(random_source *r, double half, bool is_left, gradin_vec3 way[4]) {
    static const double at[4][2] = {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}};
    gradin_vec3 ahead = random_point(r, 1.0);
    gradin_vec3 aside = gradin_cross(ahead, random_point(r, 1.0)), up = gradin_cross(ahead, aside);
    double length = half * gradin_norm(ahead);
    aside = gradin_scale(aside, length / gradin_norm(aside));
    up = gradin_scale(up, (is_left ? -1.0 : 1.0) * length / gradin_norm(up));
    for (int k = 0; k < 4; k++)
        way[k] = gradin_add(ahead,
                            gradin_add(gradin_scale(aside, at[k][0]), gradin_scale(up, at[k][1])));
}

static gradin_vec3 inside(random_source *r, const gradin_vec3 way[4]) {
    double x = random_between(r, 0.0, 1.0), y = random_between(r, 0.0, 1.0);
    double far = random_between(r, 0.3, 12.0);
    gradin_vec3 near = gradin_add(gradin_scale(way[0], 1.0 - x), gradin_scale(way[1], x));
    gradin_vec3 away = gradin_add(gradin_scale(way[3], 1.0 - x), gradin_scale(way[2], x));
    gradin_vec3 there = gradin_add(gradin_scale(near, 1.0 - y), gradin_scale(away, y));
    return gradin_add(eye, gradin_scale(there, far / gradin_norm(there)));
}

static void expect_first(gradin_beam *beam, gradin_scene scene, gradin_vec3 point, int32_t first,
                         const char *what) {
    double entry = 0.0, t = INFINITY;
    if (first != GRADIN_CLEAR) gradin_shape_hit(&scene.occluder[first].shape, eye, point, &t);
    cr_assert_eq(gradin_beam_first(beam, point, &entry), first, "%s", what);
    cr_assert(entry == t, "%s: %g, reference %g", what, entry, t);
}

static void expect_clear(gradin_beam *beam, gradin_scene scene, gradin_vec3 point, int end,
                         const char *what) {
    int32_t first;
    const gradin_scene part = {scene.occluder, end};
    if (!gradin_beam_is_listed(beam)) return;
    gradin_visibility_reference(&part, eye, owner, &point, 1, &first);
    cr_assert_eq(gradin_beam_is_clear(beam, point, end), first == GRADIN_CLEAR, "%s", what);
}

/* Returns how many rays meet something. */
static int expect_same(random_source *r, gradin_scene scene, gradin_beam *beam,
                       const gradin_vec3 way[4], const char *what) {
    int n_met = 0;
    for (int i = 0; i < N_RAY; i++) {
        gradin_vec3 point = inside(r, way);
        int32_t first;
        gradin_visibility_reference(&scene, eye, owner, &point, 1, &first);
        expect_first(beam, scene, point, first, what);
        expect_clear(beam, scene, point, (int)random_between(r, 0.0, scene.n_occluder + 0.9), what);
        n_met += first != GRADIN_CLEAR;
    }
    return n_met;
}

/* Returns how many of the pyramids had too much in them. */
static int compare(uint64_t seed, int n, double size, double half, bool is_soup, const char *what) {
    random_source r = {seed};
    int n_met = 0, n_open = 0, n_all = 0;
    for (int trial = 0; trial < 12; trial++) {
        gradin_arena *arena = gradin_arena_create();
        gradin_scene scene = draw_scene(&r, n, size, is_soup);
        gradin_mask_scene *masks = gradin_mask_scene_create(arena, &scene, lie);
        gradin_vec3 way[4];
        eye = random_point(&r, trial % 3 ? 8.0 : 3.0);
        owner = trial % 3;
        draw_pyramid(&r, half, trial % 2, way);
        for (int simd = GRADIN_SIMD_PORTABLE; simd < GRADIN_N_SIMD; simd++) {
            if (!gradin_simd_use((gradin_simd)simd)) continue;
            gradin_beam *beam = gradin_beam_create(arena, masks, eye, owner);
            gradin_beam_aim(beam, way);
            n_met += expect_same(&r, scene, beam, way, what);
            n_open += !gradin_beam_is_listed(beam);
            n_all += N_RAY;
        }
        gradin_simd_use(GRADIN_SIMD_BEST);
        gradin_arena_destroy(arena);
    }
    cr_assert(n_met > n_all / 50 && n_met < n_all, "%s: %d of %d met", what, n_met, n_all);
    return n_open;
}

Test(beam, equals_reference_narrow) {
    cr_assert_eq(compare(21, 300, 0.4, 0.02, false, "narrow"), 0);
}
Test(beam, equals_reference_wide) {
    cr_assert_eq(compare(22, 300, 0.8, 0.5, false, "wide"), 0);
}
Test(beam, equals_reference_large_bodies) {
    cr_assert_eq(compare(23, 60, 3.0, 0.1, false, "large"), 0);
}
Test(beam, equals_reference_too_many_to_list) {
    cr_assert_gt(compare(24, N_MOST, 0.4, 0.7, false, "many"), 0);
}
Test(beam, equals_reference_with_a_soup) {
    cr_assert_gt(compare(25, N_MOST, 0.3, 0.2, true, "soup"), 0);
}

Test(beam, nothing_is_met_in_an_empty_scene) {
    const gradin_scene none = {0};
    const gradin_vec3 point = {5, 0.1, 0.1};
    const gradin_vec3 way[4] = {{1, 0, 0}, {1, 0.1, 0}, {1, 0.1, 0.1}, {1, 0, 0.1}};
    gradin_arena *arena = gradin_arena_create();
    gradin_mask_scene *masks = gradin_mask_scene_create(arena, &none, lie);
    gradin_beam *beam = gradin_beam_create(arena, masks, eye, 0);
    double entry;
    gradin_beam_aim(beam, way);
    cr_assert_eq(gradin_beam_first(beam, point, &entry), GRADIN_CLEAR);
    cr_assert(isinf(entry));
    cr_assert(gradin_beam_is_clear(beam, point, 7));
    gradin_alloc_fail_at(1);
    cr_assert_null(gradin_beam_create(arena, masks, eye, 0));
    gradin_alloc_fail_at(0);
    cr_assert_null(gradin_beam_create(arena, NULL, eye, 0));
    gradin_arena_destroy(arena);
}
