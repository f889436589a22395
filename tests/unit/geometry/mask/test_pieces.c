/* Concave prisms are served as convex pieces: none sample by sample, and each sample still gets the
 * name that the reference gives. */
#include "geometry/mask/mask_scene.h"
#include "geometry/plan/plan.h"
#include "support/formulas.h"
#include "unit/geometry/mask/same.h"

#include <criterion/criterion.h>

#define EAST ((gradin_lie){{1.0, 0.0}, {1.0, 0.0}})
enum { N_TOOTH = 5, N_COMB = 2 + 4 * N_TOOTH - 2, N_SIDE = 40, N_BALL = 12 };

static gradin_vec3 sample[N_SIDE * N_SIDE];

/* A back with teeth towards +y, each as wide as the gap beside it. */
static gradin_polygon comb(gradin_vec2 at, double tooth_m, double long_m, gradin_vec2 *corner) {
    double wide_m = (2 * N_TOOTH - 1) * tooth_m;
    int n = 0;
    corner[n++] = (gradin_vec2){at.x, at.y};
    corner[n++] = (gradin_vec2){at.x + wide_m, at.y};
    for (int i = N_TOOTH - 1; i >= 0; i--) {
        double from = at.x + 2 * i * tooth_m, to = from + tooth_m;
        corner[n++] = (gradin_vec2){to, at.y + long_m};
        corner[n++] = (gradin_vec2){from, at.y + long_m};
        if (i == 0) break;
        corner[n++] = (gradin_vec2){from, at.y + 0.3 * long_m};
        corner[n++] = (gradin_vec2){from - tooth_m, at.y + 0.3 * long_m};
    }
    return (gradin_polygon){corner, n};
}

static void lay_samples(int n_side, double z_m, double rise) {
    double apart_m = 10.0 / n_side;
    for (int i = 0; i < n_side * n_side; i++) {
        double x = apart_m * (i % n_side), y = apart_m * (i / n_side);
        sample[i] = (gradin_vec3){x, y, z_m + rise * y};
    }
}

static gradin_lie askew(double edge_deg, double row_deg) {
    double edge = edge_deg * GRADIN_PI / 180.0, row = row_deg * GRADIN_PI / 180.0;
    return (gradin_lie){{cos(edge), sin(edge)}, {cos(row), sin(row)}};
}

typedef struct combs {
    gradin_vec2 corner[2][N_COMB];
    gradin_occluder occluder[2 + N_BALL];
} combs;

static gradin_scene draw_combs(random_source *r, combs *c) {
    double tooth_m = random_between(r, 0.2, 0.9);
    for (int k = 0; k < 2; k++) {
        gradin_vec2 at = {random_between(r, -2.0, 4.0), random_between(r, 0.0, 6.0)};
        gradin_polygon p = comb(at, tooth_m, random_between(r, 1.0, 4.0), c->corner[k]);
        double low = random_between(r, -0.5, 1.0), high = low + random_between(r, 0.1, 1.5);
        c->occluder[k] =
            (gradin_occluder){gradin_prism(p, low, high), 0, k ? 3 : GRADIN_NO_OWNER, 0};
        for (int i = 0; i < N_BALL / 2; i++) {
            double x = at.x + (1.5 + 2 * (i % (N_TOOTH - 1))) * tooth_m;
            gradin_vec3 middle = {x, at.y + random_between(r, 0.5, 3.0), low + 0.2};
            c->occluder[2 + k * N_BALL / 2 + i] =
                (gradin_occluder){formula_sphere(middle, 0.45 * tooth_m), 0, GRADIN_NO_OWNER, 0};
        }
    }
    return (gradin_scene){c->occluder, 2 + N_BALL};
}

static int compare_combs(uint64_t seed, int n_trial, int n_side) {
    random_source r = {seed};
    static combs drawn;
    int n_hidden = 0;
    for (int trial = 0; trial < n_trial; trial++) {
        gradin_scene scene = draw_combs(&r, &drawn);
        gradin_vec3 eye = {random_between(&r, -9.0, 19.0), random_between(&r, -8.0, 14.0),
                           random_between(&r, 1.2, 6.0)};
        lay_samples(n_side, trial % 2 ? 0.0 : -0.6, trial % 3 ? 0.0 : 0.05);
        n_hidden +=
            same_masks(&scene, sample, n_side * n_side, trial % 5 ? EAST : askew(trial, trial), eye,
                       trial % 7, "comb", trial);
    }
    return n_hidden;
}

/* Balls lie in the gaps of two combs: a ray from the side enters a comb, a ball and the comb again,
 * so what it meets first lies in another piece than what ends it. Few samples are asked of the
 * whole. */
Test(pieces, first_of_combs_and_what_lies_in_their_gaps) {
    int n_fine = compare_combs(71, 100, N_SIDE), n_coarse = compare_combs(73, 3000, 6);
    cr_assert(n_fine > 100 * 100 && n_coarse > 3000 * 3, "%d, %d", n_fine, n_coarse);
}

/* The shadow of a deck with a notch has straight edges: no sample is asked of the deck but those at
 * its edge. */
Test(pieces, no_deck_is_asked_sample_by_sample) {
    static gradin_vec2 corner[N_COMB];
    gradin_occluder deck = {.owner = GRADIN_NO_OWNER};
    deck.shape = gradin_prism(comb((gradin_vec2){1.0, 2.0}, 0.7, 3.0, corner), 2.0, 2.2);
    const gradin_scene scene = {&deck, 1};
    const gradin_vec3 eye = {4.0, -6.0, 5.0};
    gradin_arena *arena = gradin_arena_create();
    for (int k = 0; k < 2; k++) {
        lay_samples(N_SIDE, 0.0, k ? 0.05 : 0.0);
        gradin_mask_scene *masks = gradin_mask_scene_create(arena, &scene, EAST);
        const gradin_mask_grid *grid =
            gradin_mask_grid_create(arena, sample, N_SIDE * N_SIDE, EAST);
        gradin_mask_scratch *scratch = gradin_mask_scratch_create(arena, &grid, 1);
        mask_job job = gradin_mask_job(masks, grid, eye, 0, scratch);
        cr_assert(masks->scene.n_occluder >= N_TOOTH && masks->scene.n_occluder <= 3 * N_TOOTH,
                  "%d", masks->scene.n_occluder);
        for (int i = 0; i < masks->scene.n_occluder; i++) {
            mask_body one = gradin_mask_body(masks, i);
            mask_shadow shadow;
            cr_assert(one.exact == &deck.shape);
            cr_assert_eq(gradin_mask_throw(&job.view, &one.occluder->shape, NULL, &shadow),
                         MASK_PIECES, "piece %d", i);
        }
    }
    gradin_arena_destroy(arena);
}

static double pieces_m2(const gradin_polygon *piece, int n) {
    double sum_m2 = 0.0;
    for (int i = 0; i < n; i++) {
        cr_expect(gradin_polygon_is_convex(piece[i]) && gradin_polygon_is_simple(piece[i]));
        cr_expect(piece[i].n_corner <= PLAN_PIECE_CORNERS);
        sum_m2 += gradin_polygon_area_m2(piece[i]);
    }
    return sum_m2;
}

/* Convex pieces that add up, either way round; no more than four times the least number, which is
 * one more than half the notches; nothing of a polygon that crosses itself. */
Test(pieces, fill_the_polygon) {
    gradin_arena *arena = gradin_arena_create();
    gradin_polygon piece[PLAN_CUT_CORNERS];
    random_source r = {72};
    for (int trial = 0; trial < 300; trial++) {
        gradin_vec2 corner[40], back[40];
        int n = 4 + trial % 37, notches = 0;
        gradin_polygon p = random_star(&r, (gradin_vec2){3.0, -2.0}, 0.5, 4.0, n, corner);
        for (int i = 0; i < n; i++) back[i] = corner[n - 1 - i];
        for (int i = 0; i < n; i++)
            notches += plan_cross(plan_sub(plan_corner(p, i + 1), corner[i]),
                                  plan_sub(plan_corner(p, i + 2), plan_corner(p, i + 1))) < 0.0;
        int n_piece = plan_convex_pieces(arena, p, piece);
        cr_expect(n_piece >= 1 && n_piece <= 4 * (1 + (notches + 1) / 2), "%d of %d notches",
                  n_piece, notches);
        cr_expect_float_eq(pieces_m2(piece, n_piece), gradin_polygon_area_m2(p), 1e-9, "%d", trial);
        n_piece = plan_convex_pieces(arena, (gradin_polygon){back, n}, piece);
        cr_expect_float_eq(pieces_m2(piece, n_piece), gradin_polygon_area_m2(p), 1e-9, "%d", trial);
    }
    const gradin_vec2 tie[4] = {{0, 0}, {2, 2}, {2, 0}, {0, 2}};
    cr_expect_eq(plan_convex_pieces(arena, (gradin_polygon){tie, 4}, piece), 0);
    gradin_arena_destroy(arena);
}
