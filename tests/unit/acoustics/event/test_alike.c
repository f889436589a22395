/* Classes on one track heard together, and what meets the facade kept from one model to the next:
 * both must be what each class and each model has alone. */
#include <criterion/criterion.h>

#include "acoustics/event/keep_incidence.h"
#include "unit/acoustics/sky.h"

#include <string.h>

static gradin_arena *arena;

static void open_arena(void) {
    arena = gradin_arena_create();
}
static void close_arena(void) {
    gradin_arena_destroy(arena);
}
TestSuite(alike, .init = open_arena, .fini = close_arena);

enum { N_CLASS = 6 };

/* Two that differ in level alone, one with another reference, two that beam alike, a silent band.
 */
static void make_classes(sky *s, gradin_class *c) {
    static const double angle_deg[] = {0.0, 180.0}, gain_db[] = {6.0, -6.0};
    s->lobe = (gradin_lobe){0, GRADIN_N_BAND, 2, angle_deg, gain_db};
    for (int k = 0; k < N_CLASS; k++) {
        c[k] = (gradin_class){.name = "class", .reference_m = k == 2 ? 30.0 : 100.0};
        for (int b = 0; b < GRADIN_N_BAND; b++) c[k].level_db[b] = 90.0 - 0.5 * (k + 1) * b;
        if (k == 3 || k == 4) c[k].directivity = (gradin_directivity){&s->lobe, 1, k == 4};
    }
    c[5].level_db[7] = -INFINITY;
    s->traffic.class_of = c;
    s->traffic.n_class = N_CLASS;
}

static void expect_near(const double *a, const double *b, size_t n, const char *what, int k) {
    for (size_t i = 0; i < n; i++)
        cr_expect(a[i] == b[i] || fabs(a[i] - b[i]) < 1e-9, "class %d, %s %zu: %.12f not %.12f", k,
                  what, i, a[i], b[i]);
}

static void expect_flight(const sky *s, const gradin_flight *a, const gradin_flight *b, int k) {
    size_t n = CHAMBER_SEATS;
    expect_near(a->lamax_db, b->lamax_db, n, "maximum", k);
    expect_near(a->sel_db, b->sel_db, n, "exposure", k);
    expect_near(a->band_db, b->band_db, n * GRADIN_N_BAND, "band", k);
    expect_near(a->share, b->share, (size_t)s->c.model.n_element, "share", k);
    expect_near(&a->outside_lamax_db, &b->outside_lamax_db, 1, "outside", k);
    expect_near(&a->outside_sel_db, &b->outside_sel_db, 1, "outside exposure", k);
}

Test(alike, classes_heard_together_are_as_each_alone) {
    sky s;
    gradin_class c[N_CLASS];
    gradin_flight flight[N_CLASS] = {0}, *all[N_CLASS];
    sky_make(arena, &s, 200.0, 80.0);
    make_classes(&s, c);
    for (int k = 0; k < N_CLASS; k++) {
        flight[k].class_index = k;
        all[k] = &flight[k];
        cr_assert_eq(gradin_flight_alloc(arena, &s.room, 1, &flight[k], NULL), GRADIN_OK);
    }
    cr_assert_eq(gradin_flights_compute(&s.room, &s.traffic, NULL, all, N_CLASS, NULL), GRADIN_OK);
    for (int k = 0; k < N_CLASS; k++) {
        gradin_flight alone = {.class_index = k};
        cr_assert_eq(gradin_flight_alloc(arena, &s.room, 1, &alone, NULL), GRADIN_OK);
        cr_assert_eq(gradin_flight_compute(&s.room, &s.traffic, NULL, &alone, NULL), GRADIN_OK);
        expect_flight(&s, &flight[k], &alone, k);
        cr_expect(k == 0 || fabs(alone.lamax_db[0] - flight[0].lamax_db[0]) > 0.1, "class %d", k);
    }
    flight[1].track = 1;
    cr_expect_eq(gradin_flights_compute(&s.room, &s.traffic, NULL, all, 2, NULL), GRADIN_BAD_USE);
}

static const gradin_incidence *take(const sky *s, gradin_kept_incidences *kept) {
    const gradin_incidence *found = NULL;
    cr_assert_eq(gradin_incidence_take(arena, kept, &s->c.model, &s->traffic, 0, 0, &found, NULL),
                 GRADIN_OK);
    return found;
}

static void expect_same(const gradin_incidence *a, const gradin_incidence *b, const char *what) {
    size_t n_time = (size_t)a->moments.n, n = (size_t)a->n_element * n_time;
    cr_assert_eq(a->moments.n, b->moments.n, "%s", what);
    cr_assert_eq(a->n_element, b->n_element, "%s", what);
    cr_expect(memcmp(a->incident, b->incident, n * GRADIN_N_BAND * sizeof(double)) == 0 &&
                  memcmp(a->angle_rad, b->angle_rad, n * sizeof(double)) == 0 &&
                  memcmp(a->outside, b->outside, n_time * GRADIN_N_BAND * sizeof(double)) == 0 &&
                  a->tau_s == b->tau_s && a->moments.length_s == b->moments.length_s,
              "%s", what);
}

/* The kept one is another one than before, and what is made without it. */
static void expect_anew(const sky *s, gradin_kept_incidences *kept, const char *what) {
    static const gradin_incidence *before;
    const gradin_incidence *found = take(s, kept);
    cr_expect(found != before, "%s: taken from what it was before", what);
    cr_expect(found == take(s, kept), "%s: not kept", what);
    expect_same(found, take(s, NULL), what);
    before = found;
}

/* Each input moved in turn: none may be left out of what it is kept by. */
Test(alike, what_meets_the_facade_is_kept_by_all_that_it_follows_from) {
    sky s;
    gradin_kept_incidences *kept = gradin_kept_incidences_create();
    sky_make(arena, &s, 200.0, 80.0);
    gradin_element *e = &s.c.element[0];
    gradin_vec2 *corner = (gradin_vec2 *)(uintptr_t)s.c.model.footprint.corner_m;
    static const double angle_deg[] = {0.0, 180.0};
    double gain_db[] = {6.0, -6.0};
    s.lobe = (gradin_lobe){0, GRADIN_N_BAND, 2, angle_deg, gain_db};
    expect_anew(&s, kept, "first");
#define MOVED(change) (change), expect_anew(&s, kept, #change)
    MOVED(s.source.level_db[BASS] -= 1.0);
    MOVED(s.source.reference_m = 90.0);
    MOVED((s.source.directivity.lobe = &s.lobe, s.source.directivity.n_lobe = 1));
    MOVED(gain_db[1] = -3.0);
    MOVED(s.source.directivity.is_mean_level = true);
    MOVED(s.point_m[0].z += 10.0);
    MOVED(s.time_s[0] -= 5.0);
    MOVED(s.traffic.temperature_c = 5.0);
    MOVED(s.traffic.humidity_pct = 40.0);
    MOVED(s.traffic.pressure_kpa = 95.0);
    MOVED(s.traffic.weighting = GRADIN_WEIGHTING_SLOW);
    MOVED(s.traffic.has_lateral = true);
    MOVED(s.traffic.has_impedance = true);
    MOVED(s.c.model.ground = GRADIN_GROUND_HARD);
    MOVED(s.c.model.ceiling_m += 0.5);
    MOVED(corner[0].x -= 0.5);
    MOVED(e->corner_m.z += 0.1);
    MOVED(e->width_m += 0.1);
    MOVED(e->height_m += 0.1);
    MOVED(e->tilt_deg += 1.0);
    MOVED(e->wall_top_m += 0.5);
    MOVED(e->outward = ((gradin_vec2){-e->outward.x, -e->outward.y}));
    s.track = (gradin_track){"still", 1, s.time_s, s.point_m, 60.0, NAN};
    expect_anew(&s, kept, "one point");
    MOVED(s.track.hold_s = 30.0);
    MOVED(s.track.bearing_deg = 45.0);
#undef MOVED
    const gradin_incidence *last = take(&s, kept);
    e->buildup = -1;
    e->absorption[3] = 0.5;
    cr_expect(take(&s, kept) == last, "glass and absorption are no part of it");
    gradin_kept_incidences_destroy(kept);
}
