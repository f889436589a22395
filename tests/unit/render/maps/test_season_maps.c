/* Maps and plots of a season made by hand. */
#include "gradin/studies/season_plot.h"
#include "render/maps/quantity.h"
#include "unit/render/seat_pixels.h"

#include <criterion/criterion.h>
#include <string.h>

static gradin_arena *arena;
static fake_hall *hall;
static gradin_season season;

static const gradin_class class_of[1] = {{.name = "wide body with a rather long name"}};
static const gradin_track track[1] = {{.name = "north-west departure"}};
static gradin_traffic traffic = {.name = "a summer",
                                 .digest = "ffeeddccbbaa99887766554433221100",
                                 .class_of = class_of,
                                 .track = track,
                                 .n_event = 900,
                                 .length_s = 9000,
                                 .start_s = 70200,
                                 .sii_least = 0.45};
enum { N_TIME = 9 };
static double time_s[N_TIME], outside_db[N_TIME], seat_db[GRADIN_MAX_TRACE * N_TIME];
static double lamax_db[800];
static gradin_flight flight = {.outside_lamax_db = 80.0, .n_time = N_TIME, .lamax_db = lamax_db};

static void fill_flight(int n_seat) {
    for (int t = 0; t < N_TIME; t++) {
        time_s[t] = 5.0 * t;
        outside_db[t] = 80.0 - 3.0 * abs(t - 4);
        for (int k = 0; k < GRADIN_MAX_TRACE; k++)
            seat_db[k * N_TIME + t] = outside_db[t] - 35.0 - season.trace_seat[k] % 7;
    }
    for (int i = 0; i < n_seat; i++) lamax_db[i] = 45.0 - i % 7;
    season.trace = (gradin_event_levels){.n_time = N_TIME,
                                         .n_seat = GRADIN_MAX_TRACE,
                                         .time_s = time_s,
                                         .outside_db = outside_db,
                                         .seat_db = seat_db};
}

static void set_up(void) {
    arena = gradin_arena_create();
    hall = fake_hall_create(arena);
    cr_assert_not_null(hall);
    const gradin_noise *noise = &hall->assessment.noise;
    int n = hall->model.seats.n_seat;
    season = (gradin_season){.model = &hall->model,
                             .traffic = &traffic,
                             .limit_dba = 45.0,
                             .n_day = 90,
                             .n_flight = 1,
                             .flight = &flight,
                             .trace_event = 12,
                             .uncertainty = {.source_db = 2.0, .scatter_db = 4.0},
                             .systematic_spread = {4.7, 4.7, 4.7, 4.7, 4.7},
                             .show_over_low = 0.2,
                             .show_over_high = 3.4};
    for (int k = 0; k < GRADIN_N_SHADE_STATE; k++) {
        season.lamax_shades_db[k] = noise->lamax_db[k];
        season.lamax_shades[k] = hall->assessment.lamax_db[k];
    }
    season.shade_gain_db = hall->assessment.shade_gain_db;
    season.shade_gain = hall->assessment.shade_gain;
    double **const of_seat[] = {&season.laeq_db, &season.over_show, &season.lost_s,
                                &season.voice.sii};
    for (size_t k = 0; k < 4; k++)
        *of_seat[k] = gradin_arena_alloc(arena, (size_t)n, sizeof(double));
    for (int i = 0; i < n; i++) {
        season.laeq_db[i] = 5.0 + 0.05 * i;
        season.over_show[i] = 0.01 * i;
        season.lost_s[i] = i % 3 ? 0.1 * i : i % 2 ? (double)NAN : 0.0;
        season.voice.sii[i] = 0.0005 + 0.001 * i; /* never on an edge */
    }
    season.laeq_spread = season.over_spread = season.lost_spread = season.sii_spread =
        (gradin_spread){0.0, 0.1, 0.3, 0.6, 0.7};
    season.band = hall->band;
    season.n_band = 2;
    for (int k = 0; k < GRADIN_MAX_TRACE; k++) season.trace_seat[k] = 40 * k;
    season.n_trace = 3;
    fill_flight(n);
}

static void tear_down(void) {
    gradin_arena_destroy(arena);
}

TestSuite(season_maps, .init = set_up, .fini = tear_down);

static png_back drawn(gradin_season_map map) {
    unsigned char *bytes = NULL;
    size_t size = 0;
    png_back png;
    gradin_error error = {0};
    cr_assert_eq(gradin_season_map_png(arena, &season, map, 0, &bytes, &size, &error), GRADIN_OK,
                 "%s: %s", gradin_season_map_name(map), error.diagnostic[0].text);
    cr_assert(png_back_read(arena, bytes, size, &png));
    return png;
}

/* Of n steps from `first`, the lowest good; an edge belongs to the lower step. */
static double step_place(double value, double first, double step, int n) {
    return 1.0 - fmin(fmax(ceil((value - first) / step) - 1.0, 0.0), n - 1.0) / (n - 1.0);
}

/* From 0 dB up to all but a hundredth of values that rise evenly from seat to seat. */
static int laeq_steps(void) {
    int n = hall->model.seats.n_seat;
    return (int)ceil(season.laeq_db[n - 1 - n / 100] / 6.0);
}

/* Written out again on purpose, from the limits stated for each scale. */
static colour wanted_colour(int map, int seat) {
    double place = NAN;
    if (map == GRADIN_SEASON_MAP_LAMAX_OPEN)
        place = step_place(season.lamax_shades_db[GRADIN_SHADES_OPEN][seat], 27.0, 6.0, 6);
    if (map == GRADIN_SEASON_MAP_LAEQ)
        place = step_place(season.laeq_db[seat], 0.0, 6.0, laeq_steps());
    if (map == GRADIN_SEASON_MAP_OVER) place = 1.0 - season.over_show[seat] / 10.0;
    if (map == GRADIN_SEASON_MAP_WORDS_LOST) place = 1.0 - season.lost_s[seat] / 60.0;
    /* from -0.05, 0.45 less five steps of 0.1: 0.05 would be more than can be told apart */
    if (map == GRADIN_SEASON_MAP_SII) place = floor((season.voice.sii[seat] + 0.05) / 0.1) / 7.0;
    return isnan(place) ? COLOUR_WHITE : colour_at(place);
}

Test(season_maps, seats_have_the_colour_of_their_value) {
    static const gradin_season_map map[] = {GRADIN_SEASON_MAP_LAMAX_OPEN, GRADIN_SEASON_MAP_LAEQ,
                                            GRADIN_SEASON_MAP_OVER, GRADIN_SEASON_MAP_WORDS_LOST,
                                            GRADIN_SEASON_MAP_SII};
    for (size_t k = 0; k < sizeof map / sizeof map[0]; k++) {
        png_back png = drawn(map[k]);
        check_page(hall, &png, gradin_season_map_name(map[k]), 0, wanted_colour, (int)map[k]);
    }
}

Test(season_maps, texts_name_traffic_and_quantity) {
    png_back png = drawn(GRADIN_SEASON_MAP_OVER);
    cr_assert_eq(png.per_metre, 6061);
    cr_assert_str_eq(
        png_back_text(&png, "Quantity"),
        "Season: how often LAmax is expected over 45.0 dB, mean per performance, events");
    cr_assert_str_eq(png_back_text(&png, "Traffic"), traffic.digest);
    cr_assert_str_eq(png_back_text(&png, "Source"), hall->model.digest);
    png = drawn(GRADIN_SEASON_MAP_SII);
    cr_assert_str_eq(png_back_text(&png, "Quantity"),
                     "Speech intelligibility index (SII) without traffic");
}

Test(season_maps, what_does_not_apply_is_refused) {
    unsigned char *bytes = NULL;
    size_t size = 0;
    for (int map = 0; map < GRADIN_N_SEASON_MAP; map++)
        cr_assert(gradin_season_map_applies(&season, (gradin_season_map)map));
    season.limit_dba = NAN;
    season.shade_gain_db = season.lamax_shades_db[GRADIN_SHADES_SHUT] = NULL;
    season.lost_spread.median = NAN; /* no seat has the index without traffic */
    static const gradin_season_map gone[] = {GRADIN_SEASON_MAP_OVER, GRADIN_SEASON_MAP_SHADE_GAIN,
                                             GRADIN_SEASON_MAP_LAMAX_SHUT,
                                             GRADIN_SEASON_MAP_WORDS_LOST, GRADIN_N_SEASON_MAP};
    for (size_t k = 0; k < sizeof gone / sizeof gone[0]; k++) {
        cr_assert_not(gradin_season_map_applies(&season, gone[k]));
        cr_assert_eq(gradin_season_map_png(arena, &season, gone[k], 0, &bytes, &size, NULL),
                     GRADIN_BAD_USE);
    }
    cr_assert_null(bytes);
}

/* The page grows with the seats of its key, and the same season gives the same bytes. */
Test(season_maps, level_against_time) {
    unsigned char *bytes[3];
    size_t size[3];
    png_back png[2];
    for (int k = 0; k < 3; k++) {
        season.n_trace = k < 2 ? 3 : GRADIN_MAX_TRACE;
        season.is_trace_chosen = k == 2;
        cr_assert_eq(gradin_season_trace_picture(arena, &season, GRADIN_PICTURE_PNG, &bytes[k],
                                                 &size[k], NULL),
                     GRADIN_OK);
    }
    cr_assert_eq(size[0], size[1]);
    cr_assert_eq(memcmp(bytes[0], bytes[1], size[0]), 0);
    cr_assert(png_back_read(arena, bytes[0], size[0], &png[0]));
    cr_assert(png_back_read(arena, bytes[2], size[2], &png[1]));
    cr_assert_gt(png[1].height, png[0].height);
    cr_assert_str_eq(png_back_text(&png[0], "Traffic"), traffic.digest);
}
