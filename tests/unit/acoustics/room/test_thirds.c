/* Thirds of an octave that share one system against systems of their own, and the tree of boxes
 * against gradin_visibility(). */
#include <criterion/criterion.h>
#include <stdio.h>

#include "acoustics/transfer/transfer.h"
#include "unit/acoustics/chamber.h"
#include "unit/acoustics/desk.h"

TestSuite(thirds, .init = desk_open, .fini = desk_close);

/* A hall of 14 by 22 by 9 m with the pane's own shade shut. What the pane absorbs differs from
 * third to third by `apart` times 1e-12: nothing to hear, but enough for systems of their own. */
static gradin_transfer transfer_of(double alpha, double apart) {
    chamber c;
    gradin_shade shade = {.name = "drape", .closed = 1.0};
    gradin_transfer made;
    gradin_error error = {0};
    chamber_make(&c, 14.0, 22.0, 9.0, alpha);
    chamber_block(&c, (gradin_box2){5.0, 8.0, 9.0, 11.0}, 2.5);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        c.surface[GRADIN_SURFACE_SEATING].absorption[b] = 0.8;
        c.surface[GRADIN_SURFACE_CEILING].absorption[b] = 1.5 * alpha;
        shade.absorption[b] = 0.3 * (1.0 + apart * 1e-12 * b);
    }
    c.model.shade = &shade;
    c.model.n_shade = 1;
    c.element[0].shade = 0;
    c.model.room_patch_m = 3.0;
    cr_assert(gradin_transfer_make(desk_arena, &c.model, GRADIN_TRANSFER_BY_ELEMENT, NULL, &made,
                                   &error) == GRADIN_OK,
              "%s", error.diagnostic[0].text);
    return made;
}

/* Largest difference in dB over seats, elements and states, in one band. */
static double apart_db(const gradin_transfer *a, const gradin_transfer *b, int band) {
    double most_db = 0.0;
    for (int state = 0; state < GRADIN_N_SHADE_STATE; state++)
        for (int k = 0; k < a->n_seat * a->n_element; k++) {
            size_t at = gradin_transfer_at(a, band, k / a->n_element, k % a->n_element);
            double db = 10.0 * log10(a->whole_1m2[state][at] / b->whole_1m2[state][at]);
            most_db = fmax(most_db, fabs(db));
        }
    return most_db;
}

/* Up to 2.5 kHz within 0.07 dB; from 3.15 kHz on, and in the middle of each octave (the third of
 * 100 Hz for all below 200 Hz), each has its own. */
Test(thirds, share_a_system) {
    static const double alpha[2] = {0.2, 0.05};
    for (int k = 0; k < 2; k++) {
        gradin_transfer shared = transfer_of(alpha[k], 0.0), own = transfer_of(alpha[k], 1.0);
        double worst_db = 0.0;
        for (int b = 0; b < GRADIN_N_BAND; b++) {
            double db = apart_db(&shared, &own, b);
            bool is_own = b >= 18 || (b < 6 ? b == 3 : b % 3 == 1);
            worst_db = fmax(worst_db, db);
            cr_expect_lt(db, is_own ? 1e-6 : 0.07, "band %d: %.4f dB", b, db);
        }
        printf("thirds that share a system, alpha %.2f: %.3f dB at most\n", alpha[k], worst_db);
        cr_expect_gt(worst_db, 1e-4, "nothing was shared");
    }
}

static double chance(uint32_t *seed) {
    *seed = *seed * 1664525u + 1013904223u;
    return (*seed >> 8) / 16777216.0;
}

enum { N_THING = 60, N_RAY = 20000 };

static gradin_vec3 somewhere(uint32_t *seed) {
    return (gradin_vec3){20.0 * chance(seed), 20.0 * chance(seed), 10.0 * chance(seed)};
}

/* Boxes turned anyhow, triangles, round bars and prisms; rays between any points, some along an
 * axis, some that end on a corner. */
Test(thirds, tree_of_boxes_stops_what_visibility_stops) {
    static gradin_occluder thing[N_THING];
    static gradin_vec2 corner_m[N_THING][4];
    uint32_t seed = 7;
    int n_clear = 0;
    const gradin_lie lie = {{1.0, 0.0}, {0.8, 0.6}};
    for (int k = 0; k < N_THING; k++) {
        gradin_vec3 a = somewhere(&seed), b = somewhere(&seed), c = somewhere(&seed);
        double wide_m = 0.2 + 2.0 * chance(&seed);
        for (int i = 0; i < 4; i++)
            corner_m[k][i] = (gradin_vec2){a.x + (i == 1 || i == 2 ? wide_m : 0.0),
                                           a.y + (i > 1 ? wide_m : 0.0)};
        thing[k].owner = GRADIN_NO_OWNER;
        thing[k].shape = k % 4 == 0   ? gradin_box(a, 360.0 * chance(&seed), wide_m, 0.5, 0.7)
                         : k % 4 == 1 ? gradin_triangle(a, b, c)
                         : k % 4 == 2
                             ? gradin_capsule(a, b, 0.1)
                             : gradin_prism((gradin_polygon){corner_m[k], 4}, a.z, a.z + 1.0);
    }
    for (int n = 0; n <= N_THING; n += N_THING / 2) {
        gradin_scene scene = {thing, n};
        const gradin_mask_scene *sight = gradin_mask_scene_create(desk_arena, &scene, lie);
        cr_assert(sight != NULL);
        for (int k = 0; k < N_RAY; k++) {
            gradin_vec3 from = somewhere(&seed), to = somewhere(&seed);
            int32_t first;
            if (k % 5 == 0) to = (gradin_vec3){from.x, k % 2 ? from.y : to.y, to.z};
            if (k % 7 == 0) to = (gradin_vec3){corner_m[3][k % 4].x, corner_m[3][k % 4].y, to.z};
            gradin_visibility_reference(&scene, from, GRADIN_NO_OWNER, &to, 1, &first);
            bool is_clear = gradin_rays_clear(sight, from, GRADIN_NO_OWNER, &to, 1, NULL) == 1;
            cr_assert_eq(is_clear, first == GRADIN_CLEAR, "ray %d of %d things", k, n);
            n_clear += is_clear;
        }
    }
    cr_assert(n_clear > N_RAY && n_clear < 2 * N_RAY, "%d clear", n_clear);
}
