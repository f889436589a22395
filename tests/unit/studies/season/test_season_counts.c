/* Events over several limits, levels by period of the day, and levels against time, by plain loops.
 */
#include <stdlib.h>

#define DEMO GRADIN_SOURCE_DIR "/demo/"
#include "unit/studies/season/demo_season.h"

/* Each limit once, the lowest first, by plain loops. */
static void check_limits(const hall *h) {
    const gradin_season *s = &h->season;
    int n_seat = h->model.seats.n_seat;
    cr_assert_eq(s->n_limit, 3);
    for (int k = 0; k < 3; k++) {
        const gradin_limit_count *c = &s->limit_count[k];
        double mean[3] = {0.0}, worst = 0.0, wanted_dba[3] = {35.0, 42.0, 50.0};
        int n_more = 0;
        cr_assert_eq(c->limit_dba, wanted_dba[k]);
        for (int seat = 0; seat < n_seat; seat++) {
            double show[3] = {0.0};
            for (int i = 0; i < h->traffic.n_event; i++) {
                double chance[3];
                if (!is_in_show(&h->traffic.event[i], h->traffic.start_s, h->traffic.length_s))
                    continue;
                chances(h, &h->traffic.event[i], seat, c->limit_dba, chance);
                for (int j = 0; j < 3; j++) show[j] += chance[j] / 28.0;
            }
            for (int j = 0; j < 3; j++) mean[j] += show[j] / n_seat;
            worst = fmax(worst, show[1]);
            n_more += show[1] > c->p90;
            if (seat != c->worst_seat) continue;
            cr_assert(fabs(c->worst_low - show[0]) < 1e-6 && fabs(c->worst - show[1]) < 1e-6 &&
                      fabs(c->worst_high - show[2]) < 1e-6);
        }
        cr_assert(fabs(c->mean_low - mean[0]) < 1e-6 && fabs(c->mean - mean[1]) < 1e-6 &&
                  fabs(c->mean_high - mean[2]) < 1e-6);
        cr_assert(fabs(c->worst - worst) < 1e-6);
        cr_assert(abs(10 * n_more - n_seat) <= 20, "%d of %d seats", n_more, n_seat);
        cr_assert(c->p90_low < c->p90 && c->p90 < c->p90_high);
    }
    cr_assert(fabs(s->limit_count[1].mean - s->show_over) < 1e-9);
}

/* Directive 2002/49/EC, Annex I, as it is printed: 12, 4 and 8 hours, 5 and 10 dB. */
static void check_periods(const hall *h) {
    const gradin_season *s = &h->season;
    const double hours[GRADIN_N_PERIOD] = {12.0, 4.0, 8.0};
    double outside[GRADIN_N_PERIOD] = {0.0}, first_seat[GRADIN_N_PERIOD] = {0.0};
    double loudest[GRADIN_N_PERIOD];
    for (int i = 0; i < h->traffic.n_event; i++) {
        const gradin_event *e = &h->traffic.event[i];
        const gradin_flight *f = flight_of(h, e);
        int hour = (int)(e->time_s % 86400 / 3600);
        int period = hour >= 7 && hour < 19 ? 0 : hour >= 19 && hour < 23 ? 1 : 2;
        outside[period] += pow(10.0, 0.1 * (f->outside_sel_db + e->offset_db));
        first_seat[period] += pow(10.0, 0.1 * (f->sel_db[0] + e->offset_db));
    }
    for (int k = 0; k < GRADIN_N_PERIOD; k++) {
        double shared = 28.0 * 3600.0 * hours[k], wanted = 10.0 * log10(outside[k] / shared);
        double seat_db = 10.0 * log10(first_seat[k] / shared);
        cr_assert_eq(s->period[k].hours, hours[k]);
        cr_assert(fabs(s->period[k].outside_db - wanted) < 1e-9, "%d: %g, not %g", k,
                  s->period[k].outside_db, wanted);
        cr_assert(seat_db >= s->period[k].seat_db.least - 1e-9 &&
                  seat_db <= s->period[k].seat_db.most + 1e-9);
        loudest[k] = wanted;
    }
    double den_db = 10.0 * log10((12.0 * pow(10.0, 0.1 * loudest[0]) +
                                  4.0 * pow(10.0, 0.1 * (loudest[1] + 5.0)) +
                                  8.0 * pow(10.0, 0.1 * (loudest[2] + 10.0))) /
                                 24.0);
    cr_assert(fabs(s->outside_den_db - den_db) < 1e-9, "%g, not %g", s->outside_den_db, den_db);
}

/* Histories peak at each flight's own maxima. */
Test(season, histories_of_every_flight) {
    hall h;
    gradin_error error = {0};
    make_small(&h);
    cr_assert(!h.season.history);
    cr_assert_eq(gradin_season_histories(h.arena, &h.season, &error), GRADIN_OK);
    cr_assert_eq(h.season.n_trace, 3);
    for (int k = 0; k < h.season.n_flight; k++)
        for (int i = 0; i < 3; i++) {
            const gradin_event_levels *history = &h.season.history[k];
            double most_db = -INFINITY;
            for (int t = 0; t < history->n_time; t++)
                most_db = fmax(most_db, history->seat_db[i * history->n_time + t]);
            double wanted_db = h.season.flight[k].lamax_db[h.season.trace_seat[i]];
            cr_assert(fabs(most_db - wanted_db) < 1e-6, "%g, not %g", most_db, wanted_db);
        }
    gradin_arena_destroy(h.arena);
}

Test(season, limits_and_periods) {
    hall h;
    make(&h);
    check_limits(&h);
    check_periods(&h);
    gradin_arena_destroy(h.arena);
}

/* How often, under a roof that nobody states: at most one event per performance is sure only when
 * it would be with all that the roof may add, as the same season says at a limit lower by that. */
static void hear_often(hall *h, double open_m2, double limit_dba, gradin_season *season) {
    h->model.open_roof_m2 = open_m2;
    h->traffic.limit_dba = limit_dba;
    compute(h);
    *season = h->season;
}

/* One event many times, at the start of the first performance: quick. */
static void repeat_one(hall *h) {
    enum { N = 4000, DAY_S = 86400 };
    gradin_event *event = gradin_arena_alloc(h->arena, N, sizeof *event);
    cr_assert_not_null(event);
    for (int i = 0; i < N; i++) {
        event[i] = h->traffic.event[0];
        event[i].time_s += h->traffic.start_s + 60 - event[i].time_s % DAY_S;
    }
    h->traffic.event = event;
    h->traffic.n_event = N;
}

Test(season_counts, often_with_what_is_not_stated) {
    hall h;
    int n_lost = 0, n_kept = 0;
    read_files(&h);
    repeat_one(&h);
    double open_m2 = 0.3 * gradin_polygon_area_m2(h.model.footprint);
    for (double limit_dba = 70.0; limit_dba < 76.0; limit_dba += 5.0) {
        gradin_season open, lower;
        hear_often(&h, open_m2, limit_dba, &open);
        cr_assert_gt(open.gaps.adds_db, 1.0);
        hear_often(&h, 0.0, limit_dba - open.gaps.adds_db, &lower);
        for (int seat = 0; seat < h.model.seats.n_seat; seat++) {
            if (open.over_show_high[seat] > 1.0) continue;
            bool is_sure = lower.over_show_high[seat] <= 1.0;
            cr_expect_eq(open.often[seat], is_sure ? GRADIN_VERDICT_WITHIN : GRADIN_VERDICT_NEAR);
            *(is_sure ? &n_kept : &n_lost) += 1;
        }
    }
    cr_expect(n_lost > 100 && n_kept > 100, "%d lost, %d kept", n_lost, n_kept);
    gradin_arena_destroy(h.arena);
}
