/* Scales in steps about a limit, figures that do not read as a limit they break, even figures, and
 * how a page reads: its smallest letters, its steps in grey and to colour-blind eyes. */
#include "render/maps/quantity.h"
#include "unit/render/seat_pixels.h"

#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

static gradin_arena *arena;
static fake_hall *hall;
static gradin_assessment *a;

static void set_up(void) {
    arena = gradin_arena_create();
    hall = fake_hall_create(arena);
    cr_assert_not_null(hall);
    a = &hall->assessment;
}

static void tear_down(void) {
    gradin_arena_destroy(arena);
}

TestSuite(scale, .init = set_up, .fini = tear_down);

static void set_levels(double first_db, double per_seat_db) {
    for (int k = 0; k < GRADIN_N_SHADE_STATE; k++)
        for (int i = 0; i < hall->model.seats.n_seat; i++)
            a->noise.lamax_db[k][i] = first_db + per_seat_db * i / hall->model.seats.n_seat;
}

static quantity level(void) {
    return quantity_of(a, GRADIN_MAP_LAMAX, GRADIN_MAP_SCALE_FITTED);
}

static void check_edges(const quantity *q, double first, double step, int n_edge) {
    cr_assert_eq(q->n_edge, n_edge, "%d edges", q->n_edge);
    for (int k = 0; k < n_edge; k++) cr_assert_float_eq(q->edge[k], first + step * k, 1e-9);
    cr_assert_float_eq(q->low, first, 1e-9);
    cr_assert_float_eq(q->high, first + step * (n_edge - 1), 1e-9);
}

/* The limit is an edge, with a step within it and three over it, so that layouts near one limit
 * share their colours. */
Test(scale, steps_lie_about_the_limit) {
    hall->model.criterion.lamax_dba = 41.5;
    set_levels(39.0, 8.0); /* 39 to 47 */
    quantity q = level();
    check_edges(&q, 38.5, 3.0, 5);
    set_levels(43.0, 1.0);
    q = level();
    check_edges(&q, 38.5, 3.0, 5);
    set_levels(36.0, 1.0);
    q = level();
    check_edges(&q, 35.5, 3.0, 6);
    set_levels(20.0, 45.0); /* 3 dB would be more steps than can be told apart */
    q = level();
    check_edges(&q, 17.5, 6.0, 9);
    q = quantity_of(a, GRADIN_MAP_LAMAX, GRADIN_MAP_SCALE_FIXED);
    cr_assert_eq(q.n_edge, 0);
    cr_assert(q.low == 20.0 && q.high == 80.0);
}

/* The first end that holds every seat, with the arrow only where none does. */
Test(scale, a_scale_ends_where_the_seats_do) {
    static const double end[] = {2.0, 3.0, 5.0, 10.0}, most[] = {1.9, 2.0, 2.1, 9.0, 11.0};
    static const double wanted[] = {2.0, 2.0, 3.0, 10.0, 10.0};
    set_levels(0.0, 1.0);
    for (int k = 0; k < 5; k++) {
        quantity q = level();
        a->noise.lamax_db[0][3] = most[k];
        quantity_reach(&q, end, 4);
        cr_expect_eq(q.high, wanted[k], "most %g: %g", most[k], q.high);
        cr_expect_eq(q.opens_high, most[k] > 10.0);
    }
}

/* An index has steps of its own, and the limit is one of their edges. */
Test(scale, steps_of_an_index) {
    set_levels(0.49, 0.14);
    quantity q = level();
    q.step = 0.05;
    q.criterion = 0.45;
    q.is_high_good = true;
    quantity_step_levels(&q, NULL, 0);
    check_edges(&q, 0.40, 0.05, 6);
}

/* Small differences are not lost on a scale for large ones, and none fills one of less than 2 dB.
 */
Test(scale, a_difference_reaches_as_far_as_its_values) {
    const double most_db[] = {0.3, 2.0, 2.1, 5.2, 9.0}, reach_db[] = {2.0, 2.0, 3.0, 6.0, 6.0};
    double *gain_db = gradin_arena_alloc(arena, (size_t)hall->model.seats.n_seat, sizeof *gain_db);
    cr_assert_not_null(gain_db);
    a->shade_gain_db = gain_db;
    for (int k = 0; k < 5; k++) {
        gain_db[1] = -most_db[k];
        quantity q = quantity_of(a, GRADIN_MAP_SHADE_GAIN, GRADIN_MAP_SCALE_FITTED);
        cr_expect_eq(q.low, -reach_db[k]);
        cr_expect_eq(q.high, reach_db[k], "%g dB: to %g", most_db[k], q.high);
        q = quantity_of(a, GRADIN_MAP_SHADE_GAIN, GRADIN_MAP_SCALE_FIXED);
        cr_expect_eq(q.high, 6.0);
    }
}

/* One seat in a hundred does not stretch the scale; what lies beyond it has the end's colour. */
Test(scale, outliers_do_not_stretch_it) {
    hall->model.criterion.lamax_dba = 42.0;
    set_levels(39.5, 4.0);
    a->noise.lamax_db[0][7] = 99.0;
    a->noise.lamax_db[0][8] = -99.0;
    quantity q = level();
    check_edges(&q, 39.0, 3.0, 5);
    cr_assert(q.opens_high && q.opens_low);
    colour beyond = quantity_colour(&q, 99.0), last = quantity_colour(&q, 50.9);
    cr_assert(beyond.r == last.r && beyond.g == last.g && beyond.b == last.b);
}

/* At the limit is within it: the colour changes just beyond, and for C just below. */
Test(scale, colour_changes_at_the_limit) {
    hall->model.criterion.lamax_dba = 42.0;
    set_levels(39.5, 4.0);
    quantity q = level();
    cr_assert_eq(quantity_colour(&q, 42.0).r, quantity_colour(&q, 39.5).r);
    cr_assert_neq(quantity_colour(&q, 42.0001).r, quantity_colour(&q, 42.0).r);
    q = quantity_of(a, GRADIN_MAP_C_VALUE, GRADIN_MAP_SCALE_FITTED);
    static const double edge_m[] = {-0.03, 0.0, 0.03, 0.06, 0.09, 0.12, 0.15};
    cr_assert_eq(q.n_edge, 7);
    for (int k = 0; k < 7; k++) cr_assert_float_eq(q.edge[k], edge_m[k], 1e-12);
    for (int i = 0; i < 3; i++) {
        double at = quantity_colour(&q, q.limit[i]).r;
        cr_assert_neq(quantity_colour(&q, q.limit[i] - 1e-6).r, at);
        cr_assert_eq(quantity_colour(&q, q.limit[i] + 1e-6).r, at);
    }
}

static double linear(double channel) {
    return channel <= 0.04045 ? channel / 12.92 : pow((channel + 0.055) / 1.055, 2.4);
}

/* L* of CIE 15 from linear sRGB (IEC 61966-2-1). */
static double lightness(const double rgb[3]) {
    double y = 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2];
    return y > 216.0 / 24389.0 ? 116.0 * cbrt(y) - 16.0 : y * 24389.0 / 27.0;
}

/* Normal, protan and deutan vision: Machado, Oliveira, Fernandes 2009, as in test_colour.c. */
static const double vision[3][3][3] = {{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
                                       {{0.152286, 1.052583, -0.204868},
                                        {0.114503, 0.786281, 0.099216},
                                        {-0.003882, -0.048116, 1.051998}},
                                       {{0.367322, 0.860646, -0.227968},
                                        {0.280085, 0.672501, 0.047413},
                                        {-0.011820, 0.042940, 0.968881}}};

static double lightness_seen(colour c, int eye) {
    const double in[3] = {linear(c.r), linear(c.g), linear(c.b)};
    double out[3] = {0.0, 0.0, 0.0};
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++) out[i] += vision[eye][i][k] * in[k];
    return lightness(out);
}

/* Each step is darker than the one before it by what an eye tells apart side by side, in grey and
 * without red or green, with as many steps as a scale can have. */
Test(scale, steps_keep_their_order_in_grey_and_for_colour_blind_eyes) {
    hall->model.criterion.lamax_dba = 41.5;
    set_levels(20.0, 45.0);
    quantity q = level();
    cr_assert_eq(q.n_edge, 9);
    for (int eye = 0; eye < 3; eye++)
        for (int k = 1; k + 1 < q.n_edge; k++) {
            double before = lightness_seen(quantity_colour(&q, q.edge[k] - 1.0), eye);
            double here = lightness_seen(quantity_colour(&q, q.edge[k] + 1.0), eye);
            cr_assert_gt(before - here, 6.0, "eye %d, step %d: %g", eye, k, before - here);
        }
}

/* No figure reads as the limit that it breaks, at one decimal or more. */
Test(scale, figures_do_not_read_as_a_limit_they_break) {
    static const double level_db[] = {42.0, 42.3, 42.04, 42.004, 41.96, 43.0};
    static const char *const wanted[] = {"42.0", "42.3", "42.04", "42.004", "42.0", "43.0"};
    hall->model.criterion.lamax_dba = 42.0;
    quantity q = level();
    char text[16];
    colour fill;
    q.value = level_db;
    for (int i = 0; i < 6; i++) {
        quantity_seat(&q, i, text, &fill);
        cr_assert_str_eq(text, wanted[i]);
    }
    static const gradin_verdict near[] = {GRADIN_VERDICT_NEAR, GRADIN_VERDICT_NEAR,
                                          GRADIN_VERDICT_NEAR, GRADIN_VERDICT_NEAR,
                                          GRADIN_VERDICT_NEAR, GRADIN_VERDICT_OVER};
    static const char *const judged[] = {"42.0", "42.3", "42.0", "42.0", "42.0", "43.0"};
    q.verdict = near; /* says more than any decimal */
    for (int i = 0; i < 6; i++) {
        quantity_seat(&q, i, text, &fill);
        cr_assert_str_eq(text, judged[i]);
    }
    static const double share[] = {0.95, 0.9496, 0.9449, 0.96};
    static const char *const percent[] = {"95", "94.96", "94", "96"};
    q = quantity_of(a, GRADIN_MAP_VISIBLE, GRADIN_MAP_SCALE_FITTED);
    q.value = share;
    for (int i = 0; i < 4; i++) {
        quantity_seat(&q, i, text, &fill);
        cr_assert_str_eq(text, percent[i]);
    }
}

/* One seat that differs, in print or in class alone, makes a picture worth drawing. */
Test(scale, even_figures_are_told_in_a_line) {
    quantity q = quantity_of(a, GRADIN_MAP_VISIBLE, GRADIN_MAP_SCALE_FITTED);
    char text[200];
    for (int i = 0; i < hall->model.seats.n_seat; i++) a->sight.visible[i] = 1.0;
    cr_assert(quantity_is_even(&q));
    quantity_even_text(&q, text, sizeof text);
    cr_assert_str_eq(text, "Share of the focus area seen: 100 % at each seat");
    int last = hall->model.seats.n_seat - 1;
    a->sight.visible[last] = 0.996; /* still prints 100, and is as clear */
    cr_assert(quantity_is_even(&q));
    a->sight.visible[last] = 0.98;
    cr_assert_not(quantity_is_even(&q));
    for (int i = 0; i <= last; i++) a->sight.visible[i] = NAN;
    quantity_even_text(&q, text, sizeof text);
    cr_assert_str_eq(text, "Share of the focus area seen: applies to no seat");
    q = quantity_of(a, GRADIN_MAP_RATING, GRADIN_MAP_SCALE_FITTED);
    for (int i = 0; i <= last; i++) a->sight.rating[i] = GRADIN_RATING_CLEAR;
    cr_assert_not(quantity_is_even(&q), "the rating is the plan of the layout");
}

Test(scale, maps_left_out_are_named) {
    char *text = NULL;
    for (int i = 0; i < hall->model.seats.n_seat; i++) a->sight.turn_deg[i] = 12.0;
    cr_assert_eq(gradin_maps_left_out(arena, a, &text, NULL), GRADIN_OK);
    cr_assert_str_eq(text, "Head turn from the seat's facing to the focus centre: 12 degrees at "
                           "each seat\n");
    a->sight.turn_deg[0] = 13.0;
    cr_assert_eq(gradin_maps_left_out(arena, a, &text, NULL), GRADIN_OK);
    cr_assert_str_eq(text, "");
}

static double smallest_pt(gradin_map map) {
    unsigned char *bytes = NULL;
    size_t size = 0;
    png_back png;
    cr_assert_eq(gradin_map_png(arena, a, map, 0, &bytes, &size, NULL), GRADIN_OK);
    cr_assert(png_back_read(arena, bytes, size, &png));
    /* A3 upright: the width in dots over its 297 mm (ISO 216). */
    cr_assert_float_eq(png.width / (double)png.per_metre, 0.297, 0.0001);
    cr_assert_float_eq(png.height / (double)png.per_metre, 0.420, 0.0002);
    return strtod(png_back_text(&png, "Smallest text"), NULL);
}

/* 5 pt on the sheet, in a hall of usual size and in one so large that no figure fits a seat. */
Test(scale, no_letter_is_under_5_points) {
    static const gradin_vec2 field[] = {{-90, -90}, {120, -90}, {120, 110}, {-90, 110}};
    static const gradin_map map[] = {GRADIN_MAP_RATING, GRADIN_MAP_C_VALUE, GRADIN_MAP_LAMAX};
    for (int k = 0; k < 3; k++) {
        double points = smallest_pt(map[k]);
        cr_assert_geq(points, 5.0, "%s: %g", gradin_map_name(map[k]), points);
        cr_assert_lt(points, 8.0);
    }
    hall->model.footprint = (gradin_polygon){field, 4};
    cr_assert_geq(smallest_pt(GRADIN_MAP_C_VALUE), 5.0);
}
