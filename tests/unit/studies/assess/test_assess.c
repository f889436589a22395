/* A whole assessment of the demo's layouts: what the sums say of the parts, each part counted again
 * here. */
#include "gradin/files.h"
#include "gradin/studies.h"

#include <criterion/criterion.h>
#include <stdio.h>

static gradin_arena *arena;
static gradin_model model;
static gradin_assessment a;
static gradin_assess_options few = {.sight = {.n_sample = 64}};

static void read_model(const char *layout) {
    char path[512];
    arena = gradin_arena_create();
    snprintf(path, sizeof path, GRADIN_SOURCE_DIR "/demo/%s", layout);
    cr_assert_eq(gradin_model_read(arena, path, &model, NULL), GRADIN_OK, "%s", path);
    model.room_method = GRADIN_ROOM_DIFFUSE; /* the quicker one: the room is not what is tested */
}

static void assess(const char *layout) {
    read_model(layout);
    cr_assert_eq(gradin_assess(arena, &model, &few, &a, NULL), GRADIN_OK);
}

static void release(void) {
    gradin_arena_destroy(arena);
}
TestSuite(assess, .fini = release);

static void expect_counts(void) {
    int n[GRADIN_N_VERDICT] = {0};
    for (int i = 0; i < a.noise.n_seat; i++) n[a.noise.verdict[i]]++;
    for (int k = 0; k < (int)GRADIN_N_VERDICT; k++) cr_assert_eq(a.n_verdict[k], n[k], "%d", k);
}

static void expect_extremes(gradin_spread s, const double *value, int n) {
    double least = INFINITY, most = -INFINITY;
    for (int i = 0; i < n; i++) {
        if (value[i] < least) least = value[i];
        if (value[i] > most) most = value[i];
    }
    cr_assert_eq(s.least, least);
    cr_assert_eq(s.most, most);
}

Test(assess, sums_agree_with_the_seats) {
    assess("end_stage.yaml");
    int n = model.seats.n_seat;
    cr_assert_eq(a.model, &model);
    cr_assert(a.has_noise);
    cr_assert_eq(a.sight.n_seat, n);
    cr_assert_eq(a.noise.n_seat, n);
    expect_extremes(a.visible, a.sight.visible, n);
    expect_extremes(a.c_value_m, a.sight.c_m, n);
    expect_extremes(a.distance_m, a.sight.distance_m, n);
    expect_extremes(a.nc, a.noise.nc, n);
    for (int k = 0; k < GRADIN_N_SHADE_STATE; k++)
        expect_extremes(a.lamax_db[k], a.noise.lamax_db[k], n);
    cr_assert_eq(a.n_worst, GRADIN_N_WORST);
    expect_extremes(a.systematic, a.noise.systematic_db, n);
    expect_counts();
}

/* Bare levels: limits just under and over the quietest and the loudest seat, and none. At a
 * confidence no seat is called over, or within, that lies less than its uncertainty from the limit:
 * of limits that many seats are within half a decibel of, nothing is said. */
Test(assess, the_criterion_decides_how_many_are_over) {
    assess("end_stage.yaml");
    double least = a.lamax_db[GRADIN_SHADES_AS_SET].least;
    double most = a.lamax_db[GRADIN_SHADES_AS_SET].most;
    double middle = a.lamax_db[GRADIN_SHADES_AS_SET].median, far = 30.0;
    int n = model.seats.n_seat;
    const struct {
        gradin_criterion criterion;
        int at_least, at_most, within; /* over; within */
    } want[] = {{{NAN, least - 0.01, 0.5}, n, n, 0},  {{NAN, least, 0.5}, 1, n - 1, -1},
                {{NAN, most, 0.5}, 0, 0, n},          {{NAN, NAN, 0.5}, 0, 0, 0},
                {{15.0, NAN, 0.5}, n, n, 0},          {{70.0, NAN, 0.5}, 0, 0, n},
                {{70.0, least - 0.01, 0.5}, n, n, 0}, {{NAN, middle, 0.84}, 0, 0, 0},
                {{NAN, least - far, 0.84}, n, n, 0},  {{NAN, most + far, 0.84}, 0, 0, n}};
    for (size_t k = 0; k < sizeof want / sizeof want[0]; k++) {
        model.criterion = want[k].criterion;
        cr_assert_eq(gradin_assess(arena, &model, &few, &a, NULL), GRADIN_OK);
        expect_counts();
        cr_assert_geq(a.n_verdict[GRADIN_VERDICT_OVER], want[k].at_least, "case %zu", k);
        cr_assert_leq(a.n_verdict[GRADIN_VERDICT_OVER], want[k].at_most, "case %zu", k);
        if (want[k].within >= 0)
            cr_assert_eq(a.n_verdict[GRADIN_VERDICT_WITHIN], want[k].within, "case %zu", k);
    }
}

/* Octaves summed again from the thirds, and the difference of the shades. */
Test(assess, extracts_for_maps) {
    gradin_band_choice choice = {.octave = {[1] = true}, .third = {[3] = true, [20] = true}};
    assess("end_stage.yaml");
    cr_assert_eq(gradin_assess_bands(arena, &a, &choice, NULL), GRADIN_OK);
    cr_assert_eq(a.n_band, 3);
    cr_assert(a.band[0].is_octave && a.band[0].nominal_hz == 125);
    cr_assert_eq(a.band[0].limit_db, gradin_nc_level_db(model.criterion.nc, 1));
    cr_assert(!a.band[1].is_octave && a.band[1].nominal_hz == 100 && isnan(a.band[1].limit_db));
    cr_assert_eq(a.band[2].nominal_hz, 5000);
    for (int i = 0; i < model.seats.n_seat; i++) {
        const double *band = a.noise.band_db + (size_t)i * GRADIN_N_BAND;
        double sum = pow(10, band[3] / 10) + pow(10, band[4] / 10) + pow(10, band[5] / 10);
        cr_assert_float_eq(a.band[0].level_db[i], 10 * log10(sum), 1e-9);
        cr_assert_eq(a.band[1].level_db[i], band[3]);
        cr_assert_eq(a.band[2].level_db[i], band[20]);
        cr_assert_eq(a.shade_gain_db[i], a.noise.lamax_db[GRADIN_SHADES_OPEN][i] -
                                             a.noise.lamax_db[GRADIN_SHADES_SHUT][i]);
    }
    expect_extremes(a.band[0].spread, a.band[0].level_db, model.seats.n_seat);
    expect_extremes(a.shade_gain, a.shade_gain_db, model.seats.n_seat);
}

Test(assess, without_an_overflight_there_is_no_noise) {
    read_model("round.yaml");
    model.pass = NULL;
    cr_assert_eq(gradin_assess(arena, &model, &few, &a, NULL), GRADIN_OK);
    cr_assert_not(a.has_noise);
    for (int k = 0; k < (int)GRADIN_N_VERDICT; k++) cr_assert_eq(a.n_verdict[k], 0);
    cr_assert(isnan(a.nc.median) && isnan(a.lamax_db[GRADIN_SHADES_OPEN].median));
    cr_assert(isfinite(a.visible.median));
}

Test(assess, without_a_facade_there_is_no_noise) {
    read_model("round.yaml");
    model.n_element = 0;
    cr_assert_eq(gradin_assess(arena, &model, &few, &a, NULL), GRADIN_OK);
    cr_assert_not(a.has_noise);
}

static int n_progress, last_done;

static void note(void *user, int done, int total) {
    cr_assert_eq(user, &n_progress);
    cr_assert_eq(total, model.seats.n_seat);
    cr_assert_gt(done, last_done);
    last_done = done;
    n_progress++;
}

Test(assess, progress_rises_to_the_end) {
    read_model("thrust.yaml");
    gradin_assess_options options = {
        .sight = {.n_sample = 16, .progress = note, .progress_user = &n_progress}};
    cr_assert_eq(gradin_assess(arena, &model, &options, &a, NULL), GRADIN_OK);
    cr_assert_geq(n_progress, 1);
    cr_assert_eq(last_done, model.seats.n_seat);
}

Test(assess, errors_of_a_room_come_through) {
    gradin_error error = {0};
    gradin_assess_options options = {.sight = {.n_sample = GRADIN_MAX_SAMPLE + 1}};
    read_model("thrust.yaml");
    cr_assert_eq(gradin_assess(arena, &model, &options, &a, &error), GRADIN_BAD_INPUT);
    cr_assert_eq(error.n_diagnostic, 1);
}

Test(assess, null_arguments_are_refused) {
    read_model("thrust.yaml");
    cr_assert_eq(gradin_assess(NULL, &model, &few, &a, NULL), GRADIN_BAD_USE);
    cr_assert_eq(gradin_assess(arena, NULL, &few, &a, NULL), GRADIN_BAD_USE);
    cr_assert_eq(gradin_assess(arena, &model, &few, NULL, NULL), GRADIN_BAD_USE);
}
