/* The quick kernel gives what the reference gives, bit for bit. */
#include "base/faults.h"
#include "support/formulas.h"
#include "unit/geometry/random.h"

#include <criterion/criterion.h>
#include <string.h>

enum { N_OCCLUDER = 160, N_SAMPLE = 300 };

typedef struct random_scene {
    gradin_occluder occluder[N_OCCLUDER];
    gradin_vec2 corner[N_OCCLUDER][RANDOM_CORNERS];
    gradin_vec3 sample[N_SAMPLE];
    gradin_scene scene;
} random_scene;

/* size: of the occluders; spread: half edge of the cube of samples, far from the eyes when small */
static void draw(random_scene *w, random_source *r, double size, double spread) {
    gradin_vec3 middle = random_point(r, 6.0);
    for (int k = 0; k < N_OCCLUDER; k++) {
        gradin_shape_kind kind = (gradin_shape_kind)(random_between(r, 0.0, 4.999));
        w->occluder[k].shape = random_shape(r, kind, 6.0, size, w->corner[k]);
        w->occluder[k].owner = k % 7 - 1;
        /* some twins: equal entries must go to the lower index */
        if (k > 0 && k % 5 == 0) w->occluder[k].shape = w->occluder[k - 1].shape;
    }
    for (int i = 0; i < N_SAMPLE; i++) w->sample[i] = gradin_add(middle, random_point(r, spread));
    w->scene = (gradin_scene){w->occluder, N_OCCLUDER};
}

static int compare_once(const random_scene *w, gradin_vec3 eye, int owner, int n_sample,
                        const char *what, int trial) {
    int32_t slow[N_SAMPLE], quick[N_SAMPLE];
    int n_hidden = 0;
    gradin_arena *arena = gradin_arena_create();
    gradin_visibility_scratch *scratch = gradin_visibility_scratch_create(arena, &w->scene);
    memset(quick, 0x55, sizeof quick);
    gradin_visibility_reference(&w->scene, eye, owner, w->sample, n_sample, slow);
    gradin_visibility(&w->scene, eye, owner, w->sample, n_sample, quick, scratch);
    for (int i = 0; i < n_sample; i++) {
        cr_assert_eq(slow[i], quick[i], "%s, trial %d, sample %d: %d, quick %d", what, trial, i,
                     slow[i], quick[i]);
        n_hidden += slow[i] != GRADIN_CLEAR;
    }
    gradin_arena_destroy(arena);
    return n_hidden;
}

static void compare_many(uint64_t seed, double size, double spread, const char *what) {
    static random_scene world;
    random_source r = {seed};
    long n_hidden = 0, n_all = 0;
    for (int trial = 0; trial < 150; trial++) {
        draw(&world, &r, size, spread);
        int n_sample = trial % 3 == 0 ? 1 + trial : N_SAMPLE;
        n_hidden +=
            compare_once(&world, random_point(&r, 8.0), trial % 9 - 2, n_sample, what, trial);
        n_all += n_sample;
    }
    cr_assert(n_hidden > n_all / 50 && n_hidden < n_all, "%s: %ld hidden of %ld", what, n_hidden,
              n_all);
}

Test(visibility, quick_equals_reference_small_things) {
    compare_many(31, 0.3, 3.0, "small");
}
Test(visibility, quick_equals_reference_large_things) {
    compare_many(32, 2.0, 3.0, "large");
}
Test(visibility, quick_equals_reference_narrow_cone) {
    compare_many(33, 0.4, 0.05, "narrow");
}
Test(visibility, quick_equals_reference_all_round) {
    compare_many(34, 0.4, 12.0, "all round");
}

/* Rows of heads, a flat floor of lifts and rails: aligned shapes, samples on faces. */
Test(visibility, quick_equals_reference_in_a_regular_hall) {
    static random_scene world;
    int n = 0;
    for (int row = 0; row < 8; row++)
        for (int k = 0; k < 10; k++) {
            gradin_vec3 head = {k - 4.5, 4.0 + 0.9 * row, 1.2 + 0.03 * row};
            gradin_vec2 *corner = world.corner[n];
            world.occluder[n].owner = n;
            world.occluder[n++].shape = gradin_ellipsoid(head, 180.0, 0.1, 0.08, 0.13);
            gradin_rectangle_corners((gradin_vec2){head.x, head.y}, 180.0, 0.9, 1.0, corner);
            world.occluder[n].owner = GRADIN_NO_OWNER;
            world.occluder[n++].shape =
                gradin_prism((gradin_polygon){corner, 4}, -1.0, row < 4 ? 0.0 : 0.03 * row);
        }
    world.occluder[n - 1].shape =
        gradin_capsule((gradin_vec3){-5, 3, 1}, (gradin_vec3){5, 3, 1}, 0.025);
    for (int i = 0; i < N_SAMPLE; i++)
        world.sample[i] = (gradin_vec3){i % 20 * 0.5 - 4.75, i / 20 * 0.45 - 12.0, 0.0};
    world.scene = (gradin_scene){world.occluder, n};
    int n_hidden = 0;
    for (int row = 0; row < 8; row++)
        for (int k = 0; k < 10; k++)
            n_hidden +=
                compare_once(&world, (gradin_vec3){k - 4.5, 4.0 + 0.9 * row, 1.2 + 0.03 * row},
                             (row * 10 + k) * 2, N_SAMPLE, "hall", row * 10 + k);
    cr_assert(n_hidden > 2000 && n_hidden < 22000, "%d", n_hidden);
}

Test(visibility, first_met_hides_and_own_head_does_not) {
    gradin_occluder row[3] = {{formula_sphere((gradin_vec3){8, 0, 0}, 0.1), 0, GRADIN_NO_OWNER, 0},
                              {formula_sphere((gradin_vec3){0.05, 0, 0}, 0.1), 0, 4, 0},
                              {formula_sphere((gradin_vec3){2, 0, 0}, 0.1), 0, 5, 0}};
    gradin_scene scene = {row, 3};
    gradin_vec3 eye = {0, 0, 0}, sample[2] = {{10, 0, 0}, {10, 3, 0}};
    int32_t first[2];
    gradin_visibility_reference(&scene, eye, 4, sample, 2, first);
    cr_assert(first[0] == 2 && first[1] == GRADIN_CLEAR);
    gradin_visibility_reference(&scene, eye, 5, sample, 2, first);
    cr_assert(first[0] == 1 && first[1] == 1);
    gradin_visibility_reference(&scene, eye, GRADIN_NO_OWNER, sample, 2, first);
    cr_assert(first[0] == 1);
}

Test(visibility, empty_scene_and_no_memory) {
    gradin_scene scene = {NULL, 0};
    gradin_vec3 eye = {0, 0, 0}, sample[2] = {{1, 0, 0}, {0, 0, 0}};
    int32_t first[2] = {7, 7};
    gradin_arena *arena = gradin_arena_create();
    for (int n = 1; n <= 3; n++) {
        gradin_alloc_fail_at(n);
        cr_assert_null(gradin_visibility_scratch_create(arena, &scene));
    }
    gradin_alloc_fail_at(0);
    gradin_visibility_scratch *scratch = gradin_visibility_scratch_create(arena, &scene);
    gradin_visibility(&scene, eye, GRADIN_NO_OWNER, sample, 2, first, scratch);
    cr_assert(first[0] == GRADIN_CLEAR && first[1] == GRADIN_CLEAR);
    gradin_arena_destroy(arena);
}

/* A point just inside the limb of the shape as seen from the eye, or just outside. */
static gradin_vec3 limb_point(random_source *r, const gradin_shape *s, gradin_vec3 eye,
                              double inside) {
    if (s->kind == GRADIN_SHAPE_CAPSULE) {
        gradin_vec3 axis = gradin_sub(s->as.capsule.b_m, s->as.capsule.a_m);
        gradin_vec3 p = gradin_add(s->as.capsule.a_m, gradin_scale(axis, random_between(r, 0, 1)));
        gradin_vec3 side = gradin_cross(axis, gradin_sub(p, eye));
        double reach = inside * s->as.capsule.radius_m / gradin_norm(side);
        return gradin_add(p, gradin_scale(side, random_between(r, 0, 1) < 0.5 ? reach : -reach));
    }
    gradin_vec3 to = gradin_sub(s->bound_centre_m, eye);
    gradin_vec3 side = gradin_cross(to, random_point(r, 1.0));
    return gradin_add(s->bound_centre_m,
                      gradin_scale(side, inside * s->bound_radius_m / gradin_norm(side)));
}

/* Rays that graze spheres and bars, in bundles so narrow that the cone has no slack of its own. */
Test(visibility, quick_equals_reference_at_the_limb) {
    random_source r = {41};
    int n_hidden = 0, n_all = 0;
    for (int trial = 0; trial < 4000; trial++) {
        static random_scene w;
        gradin_vec2 unused[RANDOM_CORNERS];
        gradin_vec3 eye = random_point(&r, 8.0);
        w.occluder[0].owner = GRADIN_NO_OWNER;
        w.occluder[0].shape =
            trial % 2 ? random_shape(&r, GRADIN_SHAPE_CAPSULE, 6.0, 0.8, unused)
                      : formula_sphere(random_point(&r, 6.0), random_between(&r, 0.05, 0.5));
        w.scene = (gradin_scene){w.occluder, 1};
        for (int i = 0; i < 3; i++) {
            double inside = 1.0 + random_between(&r, -1.0, 0.5) * (trial % 3 ? 1e-3 : 0.02);
            gradin_vec3 p = limb_point(&r, &w.occluder[0].shape, eye, inside);
            w.sample[i] = gradin_add(eye, gradin_scale(gradin_sub(p, eye), 3.0));
        }
        /* the second of a pair lies farther off the same limb: the cone's edge grazes the shape */
        gradin_vec3 middle = w.occluder[0].shape.bound_centre_m;
        gradin_vec3 grazed = gradin_add(eye, gradin_scale(gradin_sub(w.sample[0], eye), 1.0 / 3.0));
        gradin_vec3 beside =
            gradin_add(middle, gradin_scale(gradin_sub(grazed, middle), random_between(&r, 2, 6)));
        if (trial % 5 < 3) w.sample[1] = gradin_add(eye, gradin_scale(gradin_sub(beside, eye), 3));
        int n_sample = 1 + trial % 5 % 3;
        n_hidden += compare_once(&w, eye, GRADIN_NO_OWNER, n_sample, "limb", trial);
        n_all += n_sample;
    }
    cr_assert(n_hidden > n_all / 5 && n_hidden < n_all * 9 / 10, "%d of %d", n_hidden, n_all);
}

static const gradin_vec2 step_corner[4] = {{-1, 4}, {1, 4}, {1, 5}, {-1, 5}};

/* A step a little higher than the floor behind it hides some of that floor. */
Test(visibility, a_low_step_hides_the_floor_behind_it) {
    gradin_occluder step = {gradin_prism((gradin_polygon){step_corner, 4}, 0.0, 0.03), 0,
                            GRADIN_NO_OWNER, 0};
    gradin_scene scene = {&step, 1};
    gradin_vec3 eye = {0, 0, 1.2}, sample[3] = {{0, 5.05, 0}, {0, 5.2, 0}, {0, 5.05, 0.03}};
    int32_t first[3];
    gradin_arena *arena = gradin_arena_create();
    gradin_visibility_scratch *scratch = gradin_visibility_scratch_create(arena, &scene);
    gradin_visibility(&scene, eye, GRADIN_NO_OWNER, sample, 3, first, scratch);
    /* similar triangles: hidden up to 5 * 1.2/1.17 = 5.128 */
    cr_assert(first[0] == 0 && first[1] == GRADIN_CLEAR && first[2] == GRADIN_CLEAR);
    gradin_arena_destroy(arena);
}

/* The turned box could be nearer by its bounds, the ball is nearer on the ray. */
Test(visibility, bounds_do_not_decide_who_is_met_first) {
    gradin_occluder pair[2] = {
        {gradin_box((gradin_vec3){0, 5.5, 0}, 0.0, 0.5, 3.0, 3.0), 0, GRADIN_NO_OWNER, 0},
        {formula_sphere((gradin_vec3){0, 5.06, 0}, 0.1), 0, GRADIN_NO_OWNER, 0}};
    gradin_occluder turned[2] = {
        {gradin_box((gradin_vec3){0, 6, 0}, 45.0, 0.7071, 0.7071, 1.0), 0, GRADIN_NO_OWNER, 0},
        {formula_sphere((gradin_vec3){0.5, 5.45, 0}, 0.04), 0, GRADIN_NO_OWNER, 0}};
    gradin_vec3 eye = {0, 0, 0}, straight = {0, 10, 0}, aside = {0.5 / 5.45 * 10, 10, 0};
    gradin_arena *arena = gradin_arena_create();
    int32_t first;
    gradin_scene scene = {pair, 2};
    gradin_visibility(&scene, eye, GRADIN_NO_OWNER, &straight, 1, &first,
                      gradin_visibility_scratch_create(arena, &scene));
    cr_assert_eq(first, 1);
    scene.occluder = turned;
    gradin_visibility(&scene, eye, GRADIN_NO_OWNER, &aside, 1, &first,
                      gradin_visibility_scratch_create(arena, &scene));
    cr_assert_eq(first, 1);
    gradin_arena_destroy(arena);
}
