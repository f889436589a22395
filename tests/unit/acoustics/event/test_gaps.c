/* What a part of the envelope that is not stated would add: the figure is what stating it adds. */
#include "acoustics/event/gaps.h"
#include "gradin/acoustics/event.h"
#include "unit/acoustics/chamber.h"

#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

typedef struct roofed {
    chamber c;
    gradin_element element[CHAMBER_ELEMENTS + 1];
    gradin_buildup buildup[2];
} roofed;

/* The diffuse chamber of 8 x 6 x 4 m, its roof an element that is made of nothing stated. */
static void roofed_make(roofed *r) {
    chamber_make(&r->c, 8.0, 6.0, 4.0, 0.3);
    memcpy(r->element, r->c.element, sizeof r->c.element);
    r->buildup[0] = r->c.buildup[0];
    r->buildup[1] = (gradin_buildup){.name = "roof"};
    gradin_buildup_be(&r->buildup[1], gradin_construction_find("concrete_150"));
    r->element[CHAMBER_ELEMENTS] = (gradin_element){.name = "roof",
                                                    .kind = GRADIN_ELEMENT_ROOF,
                                                    .corner_m = {0.0, 0.0, 4.0},
                                                    .along = {1.0, 0.0},
                                                    .outward = {0.0, -1.0},
                                                    .width_m = 8.0,
                                                    .height_m = 6.0,
                                                    .tilt_deg = 90.0,
                                                    .wall_top_m = 4.0,
                                                    .buildup = -1,
                                                    .shade = -1,
                                                    .joint_r_db = INFINITY};
    for (int b = 0; b < GRADIN_N_BAND; b++) r->element[CHAMBER_ELEMENTS].absorption[b] = 0.3;
    r->c.model.element = r->element;
    r->c.model.buildup = r->buildup;
    r->c.model.n_buildup = 2;
    r->c.model.room_method = GRADIN_ROOM_DIFFUSE;
}

static int by_value(const void *a, const void *b) {
    const double *p = a, *q = b;
    return (*p > *q) - (*p < *q);
}

static double median_db(gradin_arena *arena, const gradin_model *model, gradin_noise *noise) {
    gradin_error error = {0};
    double sorted[CHAMBER_SEATS];
    cr_assert_eq(gradin_noise_compute(arena, model, NULL, noise, &error), GRADIN_OK, "%s",
                 error.diagnostic[0].text);
    memcpy(sorted, noise->lamax_db[GRADIN_SHADES_AS_SET], sizeof sorted);
    qsort(sorted, CHAMBER_SEATS, sizeof *sorted, by_value);
    return 0.5 * (sorted[CHAMBER_SEATS / 2 - 1] + sorted[CHAMBER_SEATS / 2]);
}

static double median_octave_db(const gradin_noise *noise, int octave) {
    double sorted[CHAMBER_SEATS];
    for (int i = 0; i < CHAMBER_SEATS; i++) {
        double octave_db[GRADIN_N_OCTAVE];
        gradin_octaves_db(noise->band_db + (size_t)i * GRADIN_N_BAND, octave_db);
        sorted[i] = octave_db[octave];
    }
    qsort(sorted, CHAMBER_SEATS, sizeof *sorted, by_value);
    return 0.5 * (sorted[CHAMBER_SEATS / 2 - 1] + sorted[CHAMBER_SEATS / 2]);
}

/* By octave it is what stating the roof adds there: more in some, less in others than A-weighted.
 */
static void check_octaves(const gradin_gaps *gaps, const gradin_noise *without,
                          const gradin_noise *with) {
    double ground_db = gaps->ground == GRADIN_GROUND_NONE ? 3.0 : 0.0;
    cr_expect_gt(gaps->adds_octave_db[0], gaps->adds_db + 6.0, "a deck passes 63 Hz");
    for (int o = 0; o < GRADIN_N_OCTAVE; o++) {
        double adds_db = median_octave_db(with, o) - median_octave_db(without, o);
        cr_expect_float_eq(gaps->adds_octave_db[o] - ground_db, adds_db, 2.0,
                           "octave %d: %.2f, said %.2f", o, adds_db,
                           gaps->adds_octave_db[o] - ground_db);
    }
}

/* Without a roof the levels said nothing of it; now each output names it with what it would add. */
Test(gaps, the_roof_that_is_not_stated) {
    gradin_arena *arena = gradin_arena_create();
    gradin_noise without, with;
    roofed r;
    roofed_make(&r);
    r.c.model.open_roof_m2 = 48.0;
    r.c.model.n_element = CHAMBER_ELEMENTS;
    r.c.surface[GRADIN_SURFACE_CEILING].area_m2 = 48.0;
    double bare_db = median_db(arena, &r.c.model, &without);
    cr_assert_eq(without.gaps.n_gap, 1);
    const gradin_gap *gap = &without.gaps.gap[0];
    cr_expect_str_eq(gap->what, "roof");
    cr_expect_eq(gap->area_m2, 48.0);
    r.c.model.n_element = CHAMBER_ELEMENTS + 1;
    r.c.model.open_roof_m2 = r.c.surface[GRADIN_SURFACE_CEILING].area_m2 = 0.0;
    r.element[CHAMBER_ELEMENTS].buildup = 1;
    const gradin_construction *const of[2] = {gap->light, gap->heavy};
    const double said_db[2] = {gap->light_db, gap->heavy_db};
    for (int k = 0; k < 2; k++) {
        gradin_buildup_be(&r.buildup[1], of[k]);
        double roofed_db = median_db(arena, &r.c.model, &with);
        cr_expect_float_eq(roofed_db - bare_db, said_db[k], 0.8, "%s: %.2f, said %.2f", of[k]->name,
                           roofed_db - bare_db, said_db[k]);
        cr_expect_eq(with.gaps.n_gap, 0, "stated, it is no gap");
        if (k == 0) check_octaves(&without.gaps, &without, &with);
    }
    cr_expect_gt(said_db[0], 8.0, "a light roof is what one hears");
    cr_expect_lt(said_db[1], said_db[0] - 8.0);
    gradin_arena_destroy(arena);
}

/* Walls unstated beside a roof unstated: the sum is never below what either part alone adds, also
 * in an octave that the other lowers (a part that absorbs more than it passes). */
Test(gaps, a_part_that_lowers_an_octave_offsets_no_other) {
    gradin_gaps gaps = {.n_gap = 2, .ground = GRADIN_GROUND_HARD};
    gaps.gap[0] = (gradin_gap){.light_db = 6.0};
    gaps.gap[1] = (gradin_gap){.light_db = -1.5};
    gaps.gap[0].light_octave_db[2] = 3.0;
    gaps.gap[1].light_octave_db[2] = -2.0;
    gaps.gap[0].light_octave_db[3] = gaps.gap[1].light_octave_db[3] = -4.0;
    gaps.gap[0].light_octave_db[4] = gaps.gap[1].light_octave_db[4] = 3.0;
    gradin_gaps_sum(&gaps);
    cr_expect_float_eq(gaps.adds_db, 6.0, 1e-9);
    cr_expect_float_eq(gaps.adds_octave_db[2], 3.0, 1e-9);
    cr_expect_float_eq(gaps.adds_octave_db[3], 0.0, 1e-9);
    cr_expect_float_eq(gaps.adds_octave_db[4], 10.0 * log10(2.0 * pow(10.0, 0.3) - 1.0), 1e-9);
}

/* A roof absorbs as its own figures say and lets nothing through while nothing says what it is. */
Test(gaps, a_wall_is_named_too) {
    gradin_arena *arena = gradin_arena_create();
    gradin_noise noise;
    roofed r;
    roofed_make(&r);
    r.c.model.open_wall_m2 = 100.0;
    r.c.model.n_element = CHAMBER_ELEMENTS + 1;
    r.c.surface[GRADIN_SURFACE_CEILING].area_m2 = 0.0;
    median_db(arena, &r.c.model, &noise);
    cr_assert_eq(noise.gaps.n_gap, 1);
    cr_expect_str_eq(noise.gaps.gap[0].what, "walls");
    cr_expect_gt(noise.gaps.gap[0].light_db, noise.gaps.gap[0].heavy_db);
    cr_expect_gt(noise.gaps.gap[0].heavy_db, 0.0);
    cr_expect_eq(noise.share[CHAMBER_ELEMENTS], 0.0);
    gradin_arena_destroy(arena);
}

/* Thirds of the roof's patches add up to its area, and the ceiling under it is gone. */
Test(gaps, a_roof_is_cut_into_patches_once) {
    gradin_arena *arena = gradin_arena_create();
    roofed r;
    double roof_m2 = 0.0;
    roofed_make(&r);
    r.c.model.n_element = CHAMBER_ELEMENTS + 1;
    cut made = chamber_cut(arena, &r.c, 1.5);
    for (int i = 0; i < made.patches.n; i++) {
        const gradin_patch *p = &made.patches.patch[i];
        cr_expect_neq(p->kind, GRADIN_PATCH_CEILING);
        if (p->element == CHAMBER_ELEMENTS) roof_m2 += p->area_m2;
    }
    cr_expect_float_eq(roof_m2, 48.0, 1e-9);
    gradin_arena_destroy(arena);
}
