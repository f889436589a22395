/* Seconds of lost words of a sweep's points, in a small hall of which the figure is asked alone. */
#include "gradin/files.h"
#include "gradin/studies/season.h"
#include "studies/shared/spread.h"
#include "studies/sweep/sweep.h"

#include <criterion/criterion.h>

static double louder_db, closed, sii_least = 0.5;
static bool is_stated_whole;
static gradin_effort voice;
static gradin_room_method method;

/* The demo's traffic with its first event alone, in the small hall with its shades so. */
static gradin_status read_small(gradin_arena *arena, const gradin_study *study, int point,
                                gradin_study_inputs *in, gradin_error *error) {
    (void)study, (void)point;
    *in = (gradin_study_inputs){.has_traffic = true};
    gradin_status status = gradin_model_read(
        arena, GRADIN_SOURCE_DIR "/tests/faults/hall/layout.yaml", &in->model, error);
    if (status == GRADIN_OK)
        status = gradin_traffic_read(arena, GRADIN_SOURCE_DIR "/demo/season.yaml", false,
                                     &in->traffic, NULL, error);
    cr_assert_eq(status, GRADIN_OK, "%s", error->diagnostic[0].text);
    gradin_shade *shade = gradin_arena_alloc(arena, 1, sizeof *shade);
    gradin_class *class_of =
        gradin_arena_alloc(arena, (size_t)in->traffic.n_class, sizeof *class_of);
    cr_assert(shade && class_of && in->model.n_shade == 1);
    *shade = in->model.shade[0];
    shade->closed = closed;
    in->model.shade = shade;
    in->model.room_method = method;
    in->model.room_patch_m = 3.0;
    if (is_stated_whole) {
        in->model.open_roof_m2 = in->model.open_wall_m2 = 0.0;
        in->model.ground = GRADIN_GROUND_HARD;
    }
    for (int k = 0; k < in->traffic.n_class; k++) {
        class_of[k] = in->traffic.class_of[k];
        for (int b = 0; b < GRADIN_N_BAND; b++) class_of[k].level_db[b] += louder_db;
    }
    in->traffic.class_of = class_of;
    in->traffic.n_event = 1;
    in->traffic.voice = (int)voice;
    in->traffic.sii_least = sii_least;
    return GRADIN_OK;
}

static gradin_known sweep_words(double percentile) {
    static const gradin_study_figure figure[] = {GRADIN_STUDY_WORDS_LOST};
    static const char *const value[] = {"1"};
    gradin_varied varied = {.name = "k", .value = value, .n_value = 1};
    gradin_study study = {.name = "s",
                          .layout_path = "layout.yaml",
                          .traffic_path = "season.yaml",
                          .varied = &varied,
                          .n_varied = 1,
                          .figure = figure,
                          .n_figure = 1,
                          .percentile = percentile,
                          .limit_dba = NAN};
    gradin_sweep_options options = {.read = read_small};
    gradin_arena *arena = gradin_arena_create();
    gradin_error error = {0};
    gradin_sweep sweep;
    gradin_sweep_row row;
    cr_assert_eq(gradin_sweep_begin(&study, &options, &sweep, &error), GRADIN_OK);
    cr_assert_eq(gradin_sweep_point(arena, &sweep, 0, &row, &error), GRADIN_OK, "%s",
                 error.diagnostic[0].text);
    cr_assert_null(row.refused, "%s", row.refused);
    gradin_known found = row.figure[0];
    gradin_sweep_end(&sweep);
    gradin_arena_destroy(arena);
    return found;
}

static void set(double more_db, double shut, gradin_effort effort, gradin_room_method how) {
    louder_db = more_db;
    closed = shut;
    voice = effort;
    method = how;
}

/* The season worked out whole, seats that understand nothing anyway at the whole performance. */
static double season_words(double more_db, double percentile, gradin_season *s,
                           gradin_arena *arena) {
    gradin_study_inputs *in = gradin_arena_alloc(arena, 1, sizeof *in);
    gradin_error error = {0};
    double found = NAN;
    cr_assert_not_null(in);
    louder_db += more_db;
    cr_assert_eq(read_small(arena, NULL, 0, in, &error), GRADIN_OK);
    louder_db -= more_db;
    cr_assert_eq(gradin_season_compute(arena, &in->model, &in->traffic, NULL, s, &error),
                 GRADIN_OK);
    for (int i = 0; i < in->model.seats.n_seat; i++)
        if (isnan(s->lost_s[i])) s->lost_s[i] = in->traffic.length_s;
    cr_assert_eq(
        studies_percentile(arena, s->lost_s, in->model.seats.n_seat, percentile / 100.0, &found),
        GRADIN_OK);
    return found;
}

/* With all shades shut other states of the room are never needed. */
Test(sweep_words, asked_alone_with_shades_shut_by_radiosity) {
    gradin_arena *arena = gradin_arena_create();
    gradin_season season;
    set(25.0, 1.0, GRADIN_EFFORT_LOUD, GRADIN_ROOM_RADIOSITY);
    cr_expect_float_eq(sweep_words(50.0).value, season_words(0.0, 50.0, &season, arena), 1e-9);
    gradin_arena_destroy(arena);
}

/* Bounds: the season again with every class lower and higher by the systematic part of a level at
 * the median seat, times the coverage factor of the brief's confidence. The envelope is not stated
 * whole, so that nothing bounds it above. */
Test(sweep_words, are_known_as_well_as_levels_are) {
    gradin_arena *arena = gradin_arena_create();
    gradin_season season, other;
    set(25.0, 0.5, GRADIN_EFFORT_LOUD, GRADIN_ROOM_DIFFUSE);
    gradin_known k = sweep_words(50.0);
    double value = season_words(0.0, 50.0, &season, arena);
    double by_db = gradin_coverage_factor(season.model->criterion.confidence) *
                   season.systematic_spread.median;
    cr_assert(value > 0.0 && by_db > 1.0, "%g s, %g dB", value, by_db);
    cr_expect_float_eq(k.value, value, 1e-9);
    cr_expect_float_eq(k.low, season_words(-by_db, 50.0, &other, arena), 1e-6);
    cr_expect_lt(k.low, k.value);
    cr_expect_eq(k.high, INFINITY);
    gradin_arena_destroy(arena);
}

/* With roof, walls and ground stated there is a bound above, too. */
Test(sweep_words, are_bounded_where_the_envelope_is_stated) {
    gradin_arena *arena = gradin_arena_create();
    gradin_season season, other;
    set(20.0, 0.5, GRADIN_EFFORT_LOUD, GRADIN_ROOM_DIFFUSE);
    is_stated_whole = true;
    gradin_known k = sweep_words(50.0);
    double value = season_words(0.0, 50.0, &season, arena);
    double by_db = gradin_coverage_factor(season.model->criterion.confidence) *
                   season.systematic_spread.median;
    cr_expect_float_eq(k.value, value, 1e-9);
    cr_expect_float_eq(k.high, season_words(by_db, 50.0, &other, arena), 1e-6);
    cr_expect_gt(k.high, k.value);
    gradin_arena_destroy(arena);
}

/* Where the voice is not understood without traffic either, all of the performance is lost. */
Test(sweep_words, of_seats_that_understand_nothing_anyway) {
    gradin_arena *arena = gradin_arena_create();
    gradin_season season;
    set(0.0, 0.5, GRADIN_EFFORT_NORMAL, GRADIN_ROOM_DIFFUSE);
    season_words(0.0, 50.0, &season, arena);
    sii_least = season.sii_spread.median; /* half of them */
    cr_expect_eq(sweep_words(100.0).value, season.traffic->length_s);
    gradin_arena_destroy(arena);
}

/* What was not worked out is not made up. */
Test(sweep_words, a_room_kept_as_set_has_no_other_state) {
    gradin_arena *arena = gradin_arena_create();
    gradin_study_inputs in;
    gradin_kept_room kept = {.is_as_set_only = true};
    gradin_prepared_room room, shaded;
    gradin_error error = {0};
    set(0.0, 1.0, GRADIN_EFFORT_LOUD, GRADIN_ROOM_RADIOSITY);
    cr_assert_eq(read_small(arena, NULL, 0, &in, &error), GRADIN_OK);
    cr_assert_eq(gradin_room_prepare_kept(arena, &in.model, NULL, &kept, &room, &error), GRADIN_OK);
    cr_expect_eq(gradin_room_shade(arena, &room, GRADIN_SHADES_SHUT, &shaded, &error), GRADIN_OK);
    cr_expect_eq(gradin_room_shade(arena, &room, GRADIN_SHADES_OPEN, &shaded, &error),
                 GRADIN_BAD_USE);
    cr_expect_eq(gradin_room_shade(arena, &room, GRADIN_N_SHADE_STATE, &shaded, &error),
                 GRADIN_BAD_USE);
    gradin_kept_room_clear(&kept);
    gradin_arena_destroy(arena);
}
