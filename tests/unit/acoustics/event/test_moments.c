/* The evaluation window of an event and the point outside: closed forms of a straight pass. */
#include <criterion/criterion.h>

#include "acoustics/event/moments.h"
#include "acoustics/event/outside.h"
#include "gradin/acoustics/event.h"
#include "unit/acoustics/hall.h"

static gradin_arena *arena;

static void open_arena(void) {
    arena = gradin_arena_create();
}
static void close_arena(void) {
    gradin_arena_destroy(arena);
}
TestSuite(moments, .init = open_arena, .fini = close_arena);

static const gradin_vec3 ear_m = {0.0, 0.0, 5.0};

/* The hall's pass, 300 m off and 395 m over the ear. */
static gradin_moments moments_of(const gradin_pass *pass) {
    gradin_traffic traffic;
    gradin_moments m;
    gradin_error error = {0};
    cr_assert(gradin_pass_traffic(arena, pass, &traffic, &error) == GRADIN_OK, "%s",
              error.diagnostic[0].text);
    cr_assert(gradin_moments_make(arena, traffic.track, ear_m, &m, &error) == GRADIN_OK, "%s",
              error.diagnostic[0].text);
    return m;
}

static double level_at(const gradin_moments *m, int i) {
    return -20.0 * log10(gradin_norm(gradin_sub(m->source_m[i], ear_m)));
}

static int closest_at(const gradin_moments *m) {
    int i = 0;
    while (m->time_s[i] < m->closest_s) i++;
    return i;
}

/* Within 30 dB to each side: a half length of d sqrt(999)/V, which the last step passes by less
 * than a tenth. */
Test(moments, window_of_a_straight_pass) {
    hall h;
    hall_make(&h);
    gradin_moments m = moments_of(&h.pass);
    double sum_s = 0.0, d_m = hypot(300.0, 395.0), peak_db = level_at(&m, closest_at(&m));
    cr_assert(fabs(m.closest_m - d_m) < 1e-9, "%.9f", m.closest_m);
    cr_assert(fabs(peak_db + 20.0 * log10(d_m)) < 1e-9);
    for (int i = 0; i < m.n; i++) {
        sum_s += m.weight_s[i];
        cr_assert(i == 0 || fabs(level_at(&m, i) - level_at(&m, i - 1)) <= 1.0, "moment %d", i);
    }
    for (int end = 0; end < 2; end++) {
        double below_db = peak_db - level_at(&m, end ? m.n - 1 : 0);
        cr_assert(below_db >= 30.0 && below_db < 30.9, "%.3f dB", below_db);
    }
    double least_s = 2.0 * d_m * sqrt(999.0) / 80.0;
    cr_assert(fabs(sum_s - m.length_s) < 1e-9 * m.length_s);
    cr_assert(m.length_s >= least_s && m.length_s < 1.1 * least_s, "%.3f", m.length_s);
}

/* Straight pass without absorption: SEL - LAmax = 10 lg(pi d/(V t0)) over all time (derived), of
 * which the window holds the share 2 atan(sqrt 999)/pi and a little more. */
Test(moments, exposure) {
    hall h;
    hall_make(&h);
    gradin_moments m = moments_of(&h.pass);
    double sum = 0.0, peak_db = level_at(&m, closest_at(&m));
    for (int i = 0; i < m.n; i++)
        sum += m.weight_s[i] * pow(10.0, 0.1 * (level_at(&m, i) - peak_db));
    double wanted_db = 10.0 * log10(2.0 * atan(sqrt(999.0)) * m.closest_m / 80.0);
    cr_assert(fabs(10.0 * log10(sum) - wanted_db) < 0.02, "%.4f, not %.4f", 10.0 * log10(sum),
              wanted_db);
}

Test(moments, refusals) {
    hall h;
    gradin_traffic traffic;
    gradin_moments m;
    hall_make(&h);
    h.pass.point_m = (gradin_vec3){50.0, 0.5, 5.0};
    cr_assert(gradin_pass_traffic(arena, &h.pass, &traffic, NULL) == GRADIN_OK);
    cr_assert(gradin_moments_make(arena, traffic.track, ear_m, &m, NULL) == GRADIN_BAD_INPUT);
    h.pass.speed_ms = 0.0;
    cr_assert(gradin_pass_traffic(arena, &h.pass, &traffic, NULL) == GRADIN_BAD_USE);
}

/* The pass says everything that the traffic of one event says. */
Test(moments, a_pass_as_traffic) {
    hall h;
    gradin_traffic t;
    hall_make(&h);
    h.pass.weighting = GRADIN_WEIGHTING_SLOW;
    h.pass.has_lateral = h.pass.has_impedance = true;
    cr_assert(gradin_pass_traffic(arena, &h.pass, &t, NULL) == GRADIN_OK);
    cr_assert(t.n_event == 1 && t.n_class == 1 && t.n_track == 1 && t.event[0].offset_db == 0.0);
    cr_assert(t.weighting == GRADIN_WEIGHTING_SLOW && t.has_lateral && t.has_impedance);
    cr_assert(t.temperature_c == 15.0 && t.humidity_pct == 70.0 && t.pressure_kpa == 101.325);
    cr_assert(t.class_of[0].reference_m == 300.0);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        cr_assert(t.class_of[0].level_db[b] == h.pass.level_db[b]);
}

static double nearest_m(gradin_model *model, const gradin_track *track, gradin_vec3 wanted_m) {
    gradin_vec3 at_m = gradin_outside_m(model, track);
    cr_assert(gradin_norm(gradin_sub(at_m, wanted_m)) < 1e-6, "%g %g %g", at_m.x, at_m.y, at_m.z);
    return gradin_track_closest(track, at_m).apart_m;
}

/* Worked by hand on the 30 m x 20 m x 10 m hall round the origin. */
Test(moments, point_outside) {
    hall h;
    double time_s[2] = {0.0, 100.0};
    hall_make(&h);
    /* slanting past the north-east corner: the line x + y = 125 comes nearest to (15, 10) */
    gradin_vec3 slant_m[2] = {{1125.0, -1000.0, 50.0}, {-1000.0, 1125.0, 50.0}};
    gradin_track track = {"slant", 2, time_s, slant_m, 0.0, NAN};
    double apart_m = nearest_m(&h.model, &track, (gradin_vec3){15.0, 10.0, 10.0});
    cr_assert(fabs(apart_m - hypot(100.0 / sqrt(2.0), 40.0)) < 1e-9, "%.9f", apart_m);
    /* climbing over the roof along x: nearest where the roof begins */
    gradin_vec3 climb_m[2] = {{-1000.0, 2.0, 20.0}, {1000.0, 2.0, 220.0}};
    track.point_m = climb_m;
    apart_m = nearest_m(&h.model, &track, (gradin_vec3){-15.0, 2.0, 10.0});
    cr_assert(fabs(apart_m - 108.5 / sqrt(1.01)) < 1e-9, "%.9f", apart_m);
    /* a plant beside the long wall, lower than the roof */
    gradin_vec3 plant_m = {4.0, -13.0, 6.0};
    gradin_track fixed = {"plant", 1, time_s, &plant_m, 60.0, NAN};
    apart_m = nearest_m(&h.model, &fixed, (gradin_vec3){4.0, -10.0, 6.0});
    cr_assert(fabs(apart_m - 3.0) < 1e-12);
}
