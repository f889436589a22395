/* One class on one track: exposure, distance, adjustments, and the matrix product. */
#include <criterion/criterion.h>

#include "support/reference.h"
#include "unit/acoustics/sky.h"

static gradin_arena *arena;

static void open_arena(void) {
    arena = gradin_arena_create();
}
static void close_arena(void) {
    gradin_arena_destroy(arena);
}
TestSuite(flights, .init = open_arena, .fini = close_arena);

static gradin_flight fly(const sky *s) {
    gradin_flight flight = {0};
    gradin_error error = {0};
    cr_assert(gradin_flight_alloc(arena, &s->room, 1, &flight, &error) == GRADIN_OK);
    cr_assert(gradin_flight_compute(&s->room, &s->traffic, NULL, &flight, &error) == GRADIN_OK,
              "%s", error.diagnostic[0].text);
    return flight;
}

/* Levels of its event at all seats. */
static gradin_event_levels course_of(const sky *s, double offset_db) {
    int seat[CHAMBER_SEATS];
    gradin_event_levels levels;
    const gradin_event event = {.offset_db = offset_db};
    for (int i = 0; i < CHAMBER_SEATS; i++) seat[i] = i;
    cr_assert(gradin_event_levels_compute(arena, &s->room, &s->traffic, &event, seat, CHAMBER_SEATS,
                                          &levels, NULL) == GRADIN_OK);
    return levels;
}

/* Doc 29, 4th ed., vol. 2, 4.5.4, worked out from its formula in reference/doc-29. */
Test(flights, lateral_attenuation) {
    reference table;
    reference_read("doc-29/lateral.csv", &table);
    for (int i = 0; i < table.n_row; i++) {
        double lateral_m = reference_number(&table, i, "lateral_m");
        double elevation_deg = reference_number(&table, i, "elevation_deg");
        double got = gradin_lateral_attenuation_db(lateral_m, elevation_deg);
        cr_assert(fabs(got - reference_number(&table, i, "attenuation_db")) < 6e-4,
                  "%g m, %g deg: %.4f", lateral_m, elevation_deg, got);
    }
    cr_assert(gradin_lateral_attenuation_db(500, 60) == 0.0);
    cr_assert(gradin_lateral_attenuation_db(0.0, 0.0) == 0.0, "straight below");
    cr_assert(fabs(gradin_lateral_attenuation_db(2000, -5) - 10.857) < 1e-12);
}

/* Doc 29, 5th ed., vol. 2, Appendix D: from a published spectrum at 1000 ft, in the atmosphere of
 * AIR 1845, A-weighted levels at ten distances at 10 degC and 80 %. Printed to 0.1 dB; the engine's
 * bands end at 5 kHz, which the approach shows close by. */
Test(flights, published_spectra_by_distance) {
    static const char *const what[2][2] = {{"dep_103_db", "dep_103_arp5534_dba"},
                                           {"arr_205_db", "arr_205_arp5534_dba"}};
    reference spectra, levels;
    sky s;
    reference_read("doc-29/spectra.csv", &spectra);
    reference_read("doc-29/levels.csv", &levels);
    for (int k = 0; k < 2; k++)
        for (int i = 0; i < levels.n_row; i++) {
            double away_m = 0.3048 * reference_number(&levels, i, "distance_ft");
            sky_make(arena, &s, away_m, 80.0);
            s.track = (gradin_track){"still", 1, s.time_s, s.point_m, 60.0, NAN};
            s.point_m[0] = (gradin_vec3){4.0, 3.0, 4.0 + away_m};
            s.traffic.temperature_c = 10.0;
            s.traffic.humidity_pct = 80.0;
            s.traffic.pressure_kpa = 101.325;
            s.source.reference_m = 304.8;
            for (int b = 0; b < GRADIN_N_BAND; b++)
                s.source.level_db[b] = reference_number(&spectra, b, what[k][0]) +
                                       reference_number(&spectra, b, "air1845_1000_ft_db") -
                                       reference_number(&spectra, b, "arp5534_1000_ft_db");
            double got = fly(&s).outside_lamax_db;
            double wanted = reference_number(&levels, i, what[k][1]);
            cr_expect(got > wanted - (away_m < 100.0 ? 0.25 : 0.12) && got < wanted + 0.12,
                      "%s, %.0f m: %.2f, not %.2f", what[k][1], away_m, got, wanted);
        }
}

/* 416.86 N s/m3 at 15 degC and 101.325 kPa against 409.81: 0.074 dB (Doc 29, from memory). */
Test(flights, impedance) {
    cr_assert(fabs(gradin_impedance_db(15.0, 101.325) - 0.0741) < 1e-4);
    cr_assert(gradin_impedance_db(35.0, 95.0) < 0.0);
}

/* Straight pass, no absorption: SEL - LAmax = 10 lg(pi d/(V t0)) (derived); over the window of
 * 30 dB the angle is 2 atan sqrt(999) instead of pi, 0.09 dB less. */
Test(flights, exposure_of_a_straight_pass) {
    const double d_m[3] = {150.0, 400.0, 1000.0}, v_ms[3] = {60.0, 80.0, 130.0};
    for (int i = 0; i < 3; i++) {
        sky s;
        sky_make(arena, &s, d_m[i], v_ms[i]);
        gradin_flight f = fly(&s);
        double whole = 10.0 * log10(GRADIN_PI * d_m[i] / v_ms[i]);
        double window = 10.0 * log10(2.0 * atan(sqrt(999.0)) * d_m[i] / v_ms[i]);
        double got = f.outside_sel_db - f.outside_lamax_db;
        cr_assert(fabs(f.closest_m - d_m[i]) < 1e-6);
        cr_assert(fabs(got - window) < 0.1, /* air takes some of the far ends */
                  "%g m: %.3f, not %.3f", d_m[i], got, window);
        cr_assert(fabs(got - whole) < 0.18, "%g m: %.3f, whole %.3f", d_m[i], got, whole);
    }
}

/* Doubling the distance takes 6.02 dB off a maximum and 3.01 dB off an exposure. */
Test(flights, doubling_the_distance) {
    sky near_by, far_off;
    sky_make(arena, &near_by, 300.0, 80.0);
    gradin_flight a = fly(&near_by);
    sky_make(arena, &far_off, 600.0, 80.0);
    gradin_flight b = fly(&far_off);
    cr_assert(fabs(a.outside_lamax_db - b.outside_lamax_db - 6.0206) < 0.03);
    cr_assert(fabs(a.outside_sel_db - b.outside_sel_db - 3.0103) < 0.08);
}

Test(flights, a_source_that_stays) {
    sky s;
    sky_make(arena, &s, 300.0, 80.0);
    s.track = (gradin_track){"roof", 1, s.time_s, s.point_m + 1, 600.0, NAN};
    s.point_m[1] = (gradin_vec3){40.0, -30.0, 10.0};
    s.traffic.has_lateral = true;
    gradin_flight f = fly(&s);
    for (int i = 0; i < CHAMBER_SEATS; i++)
        cr_assert(fabs(f.sel_db[i] - f.lamax_db[i] - 27.7815) < 1e-4, "10 lg 600 s");
    double apart_m = sqrt(32.0 * 32.0 + 30.0 * 30.0 + 6.0 * 6.0); /* to the corner (8, 0, 4) */
    double wanted = 100.0 + 20.0 * log10(100.0 / apart_m) + gradin_a_weight_db(50.118723);
    cr_assert(fabs(f.outside_lamax_db - wanted) < 0.02, "%.3f, not %.3f", f.outside_lamax_db,
              wanted);
}

Test(flights, lateral_attenuation_acts_on_the_level) {
    sky s;
    sky_make(arena, &s, 300.0, 80.0);
    s.point_m[0].y += 800.0;
    s.point_m[1].y += 800.0;
    gradin_flight plain = fly(&s);
    s.traffic.has_lateral = true;
    s.traffic.has_impedance = true;
    gradin_flight less = fly(&s);
    double wanted = gradin_lateral_attenuation_db(797.0, gradin_deg(atan2(300.0, 797.0))) -
                    gradin_impedance_db(20.0, 101.325);
    cr_assert(fabs(plain.outside_lamax_db - less.outside_lamax_db - wanted) < 0.01);
}

/* Doc 29, vol. 2, 4.5.4: a straight piece of track has one lateral distance and one elevation,
 * those of its closest point. So an event's exposure loses what its maximum loses, also off to the
 * side and low, and a climbing track takes the distance of its ground track. */
Test(flights, lateral_attenuation_is_that_of_the_event) {
    static const double off_m[] = {500.0, 200.0}, up_m[] = {100.0, 30.0}, climb_m[] = {0.0, 400.0};
    for (int k = 0; k < 2; k++) {
        sky s;
        sky_make(arena, &s, up_m[k], 80.0);
        for (int i = 0; i < 2; i++) {
            s.point_m[i].y += off_m[k];
            s.point_m[i].z += i == 0 ? -climb_m[k] : climb_m[k];
        }
        gradin_flight plain = fly(&s);
        s.traffic.has_lateral = true;
        gradin_flight less = fly(&s);
        double lateral_m = s.point_m[0].y - plain.outside_m.y;
        double wanted =
            gradin_lateral_attenuation_db(lateral_m, gradin_deg(acos(lateral_m / plain.closest_m)));
        cr_assert(wanted > 1.0);
        cr_assert(fabs(plain.outside_sel_db - less.outside_sel_db - wanted) < 1e-3,
                  "%.4f, not %.4f", plain.outside_sel_db - less.outside_sel_db, wanted);
        cr_assert(fabs(plain.outside_lamax_db - less.outside_lamax_db - wanted) < 1e-3);
        for (int i = 0; i < CHAMBER_SEATS; i++)
            cr_assert(fabs(plain.sel_db[i] - less.sel_db[i] - wanted) < 1e-3);
    }
}

/* A track in pieces is the same pass as one in a single piece. */
Test(flights, pieces_of_a_track) {
    enum { N = 201 };
    sky s;
    double time_s[N];
    gradin_vec3 point_m[N];
    sky_make(arena, &s, 350.0, 75.0);
    gradin_flight whole = fly(&s);
    for (int i = 0; i < N; i++) {
        double x_m = -40000.0 + 400.0 * i;
        time_s[i] = x_m / 75.0;
        point_m[i] = (gradin_vec3){x_m + 4.0, 3.0, 354.0};
    }
    s.track = (gradin_track){"pieces", N, time_s, point_m, 0.0, NAN};
    gradin_flight pieces = fly(&s);
    for (int i = 0; i < CHAMBER_SEATS; i++) {
        cr_assert(fabs(pieces.lamax_db[i] - whole.lamax_db[i]) < 1e-9);
        cr_assert(fabs(pieces.sel_db[i] - whole.sel_db[i]) < 0.02);
    }
}

/* The same pass by gradin_noise_compute(), which makes its own traffic of it. */
Test(flights, agrees_with_the_single_pass) {
    sky s;
    gradin_noise noise;
    sky_make(arena, &s, 400.0, 80.0);
    for (int b = 0; b < GRADIN_N_BAND; b++) s.source.level_db[b] = 75.0 - 0.5 * b;
    s.source.reference_m = s.c.pass.reference_m;
    s.c.pass.point_m = (gradin_vec3){4.0, -250.0, 404.0};
    s.c.pass.bearing_deg = 90.0;
    s.c.pass.temperature_c = 20.0;
    s.c.pass.humidity_pct = 80.0;
    for (int b = 0; b < GRADIN_N_BAND; b++) s.c.pass.level_db[b] = s.source.level_db[b];
    for (int i = 0; i < 2; i++) s.point_m[i].y = -250.0;
    gradin_flight f = fly(&s);
    cr_assert(gradin_noise_compute(arena, &s.c.model, NULL, &noise, NULL) == GRADIN_OK);
    for (int i = 0; i < CHAMBER_SEATS; i++)
        cr_assert(fabs(f.lamax_db[i] - noise.lamax_db[0][i]) < 1e-9, "seat %d: %.9f, %.9f", i,
                  f.lamax_db[i], noise.lamax_db[0][i]);
}

/* Straightforward sums over elements and bands at one moment. */
Test(flights, product_is_the_plain_sum) {
    sky s;
    sky_make(arena, &s, 400.0, 80.0);
    for (int b = 0; b < GRADIN_N_BAND; b++) s.source.level_db[b] = 75.0 - 0.5 * b;
    gradin_flight f = fly(&s);
    gradin_event_levels course = course_of(&s, 0.0);
    for (int i = 0; i < CHAMBER_SEATS; i++) {
        double bands = gradin_level_a_db(f.band_db + (size_t)i * GRADIN_N_BAND), most = -INFINITY;
        for (int t = 0; t < f.n_time; t++) most = fmax(most, course.seat_db[i * f.n_time + t]);
        cr_assert(fabs(bands - f.lamax_db[i]) < 1e-9, "seat %d: %.9f, %.9f", i, bands,
                  f.lamax_db[i]);
        cr_assert(fabs(most - f.lamax_db[i]) < 1e-12);
    }
    double sum = 0.0;
    for (int e = 0; e < CHAMBER_ELEMENTS; e++) sum += f.share[e];
    cr_assert(fabs(sum - 1.0) < 1e-12);
}

/* A pass of 1/(1 + (V t/d)^2) weighted by small steps of the differential equation; the flight's
 * moments are up to a tenth of the distance apart and straight in between. */
static double weighted_pass_db(double d_m, double v_ms, double tau_s) {
    double y = 0.0, most = 0.0, step_s = 1e-4;
    for (double t_s = -31.6 * d_m / v_ms; t_s < 31.6 * d_m / v_ms; t_s += step_s) {
        double x = 1.0 / (1.0 + v_ms * v_ms * t_s * t_s / (d_m * d_m));
        y += -expm1(-step_s / tau_s) * (x - y);
        most = fmax(most, y);
    }
    return 10.0 * log10(most);
}

Test(flights, time_weighting_of_a_straight_pass) {
    const double d_m[3] = {60.0, 150.0, 400.0}, tau_s[3] = {0.0, 0.125, 1.0};
    for (int i = 0; i < 3; i++) {
        double plain_db = 0.0;
        sky s;
        sky_make(arena, &s, d_m[i], 80.0);
        for (int k = 0; k < 3; k++) {
            s.traffic.weighting = (gradin_time_weighting)k;
            gradin_flight f = fly(&s);
            gradin_event_levels course = course_of(&s, 0.0);
            if (k == 0) plain_db = f.outside_lamax_db;
            double wanted_db = k ? weighted_pass_db(d_m[i], 80.0, tau_s[k]) : 0.0;
            double got_db = f.outside_lamax_db - plain_db;
            cr_assert(fabs(got_db - wanted_db) < 0.03, "%g m, tau %g: %.4f, not %.4f", d_m[i],
                      tau_s[k], got_db, wanted_db);
            for (int seat = 0; seat < CHAMBER_SEATS; seat++) {
                double bands = gradin_level_a_db(f.band_db + (size_t)seat * GRADIN_N_BAND);
                cr_assert(fabs(bands - f.lamax_db[seat]) < 1e-9, "seat %d: %.9f, %.9f", seat, bands,
                          f.lamax_db[seat]);
                for (int t = 0; t < f.n_time; t++)
                    cr_assert(course.seat_db[seat * f.n_time + t] < f.lamax_db[seat] + 1e-9);
            }
        }
    }
}

Test(flights, through_the_room) {
    sky s;
    gradin_error error = {0};
    sky_make(arena, &s, 0.2, 80.0);
    gradin_flight flight = {0};
    gradin_flight_alloc(arena, &s.room, 1, &flight, NULL);
    cr_assert(gradin_flight_compute(&s.room, &s.traffic, NULL, &flight, &error) ==
              GRADIN_BAD_INPUT);
    cr_assert_str_eq(
        error.diagnostic[0].text,
        "track pass runs through the room or right beside it; it must stay at least 1 m away");
}

/* Deafening all through the window: every second of it is lost; next to silence: none. */
Test(flights, words_lost) {
    sky s;
    gradin_voice voice;
    gradin_vec2 corner_m[4] = {{3, 2}, {5, 2}, {5, 4}, {3, 4}};
    gradin_focus focus = {.polygon = {corner_m, 4}, .weight = 1.0};
    sky_make(arena, &s, 30.0, 80.0); /* so near that air takes little at the ends */
    s.c.model.focus = &focus;
    s.c.model.n_focus = 1;
    s.c.model.axis_deg = NAN;
    s.traffic.sii_least = 0.45;
    cr_assert(gradin_voice_make(arena, &s.c.model, GRADIN_EFFORT_LOUD, NULL, 0, &voice, NULL) ==
              GRADIN_OK);
    for (int loud = 0; loud < 2; loud++) {
        gradin_flight f = {0};
        for (int b = 0; b < GRADIN_N_BAND; b++) s.source.level_db[b] = loud ? 180.0 : -50.0;
        gradin_flight_alloc(arena, &s.room, 1, &f, NULL);
        cr_assert(gradin_flight_compute(&s.room, &s.traffic, &voice, &f, NULL) == GRADIN_OK);
        for (int i = 0; i < CHAMBER_SEATS; i++) {
            cr_assert(voice.sii[i] > 0.45, "seat %d: %.3f", i, voice.sii[i]);
            cr_assert(fabs(f.lost_s[i] - (loud ? f.length_s : 0.0)) < 1e-9, "seat %d: %.3f of %.3f",
                      i, f.lost_s[i], f.length_s);
            cr_assert(loud ? f.sii_least[i] == 0.0 : fabs(f.sii_least[i] - voice.sii[i]) < 1e-3);
        }
    }
}
