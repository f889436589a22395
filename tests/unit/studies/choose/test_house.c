/* What is sold of a layout, by hand on two rows of twelve; events and words of a show's own
 * performances, by plain loops over the demo's season. */
#define DEMO GRADIN_SOURCE_DIR "/demo/"
#include "studies/choose/choose.h"
#include "unit/studies/compare/halls.h"
#include "unit/studies/season/demo_season.h"

#include <string.h>

enum { FEW_SEATS = 60, N_SHOW = 8 };

typedef struct rated {
    small_hall h;
    double zero[HALL_SEATS];
    gradin_rating c_class[HALL_SEATS];
    gradin_candidate c;
} rated;

/* Fair from 0.60 of the focus: four seats below it, one 0.001 above, one 0.005 below, one good. */
static rated *make_rated(gradin_arena *arena) {
    rated *r = gradin_arena_alloc(arena, 1, sizeof *r);
    gradin_error error = {0};
    small_hall_make(&r->h);
    for (int i = 0; i < 4; i++) r->h.visible[i] = 0.5;
    r->h.visible[4] = 0.601;
    r->h.visible[5] = 0.595;
    r->h.visible[6] = 0.9;
    r->h.kind[0] = r->h.kind[12] = GRADIN_SEAT_WHEELCHAIR;
    r->h.distance_m[2] = 30.0; /* a poor one, not sold */
    r->h.distance_m[23] = 14.0;
    gradin_sight *s = &r->h.a.sight;
    s->c_row_m = s->c_two_m = s->window_deg = s->off_axis_deg = s->down_deg = r->zero;
    s->c_class = r->c_class;
    r->h.model.limits.is_left_out[GRADIN_REASON_OFF_AXIS] = true;
    for (int k = 0; k < 3; k++) {
        r->h.model.limits.off_axis_max_deg[k] = r->h.model.limits.down_max_deg[k] = NAN;
        r->h.model.limits.turn_max_deg[k] = NAN;
    }
    cr_assert_eq(gradin_sight_rate(&r->h.model, NULL, s, &error), GRADIN_OK);
    r->c.model = &r->h.model;
    r->c.assessment = r->h.a;
    return r;
}

Test(choose_house, seats_sold_and_held_back) {
    static const char *const stalls[] = {"Stalls"};
    static const gradin_price price[] = {
        {"near", 50.0, stalls, 1, {1, 1}, GRADIN_RATING_CLEAR, INFINITY, NULL},
        {"far", 20.0, NULL, 0, {0, 0}, GRADIN_RATING_POOR, 13.0, NULL}};
    gradin_show show = gradin_show_defaults();
    gradin_error error = {0};
    gradin_arena *arena = gradin_arena_create();
    rated *r = make_rated(arena);
    show.price = price;
    show.n_price = 2;
    cr_assert_eq(choose_look(arena, &show, &r->c, &error), GRADIN_OK);
    const gradin_asked *f = r->c.figure;
    /* 24 less four and the one at 0.595; three standard errors of 0.003 move one either way */
    cr_expect(f[GRADIN_ASK_SEATS].value == 19 && f[GRADIN_ASK_SEATS].low == 18 &&
              f[GRADIN_ASK_SEATS].high == 20);
    cr_expect_eq(r->c.n_held, 5);
    cr_expect_eq(r->c.n_held_reason[GRADIN_REASON_VISIBLE], 5);
    cr_expect_eq(r->c.n_held_wheelchair, 1);
    cr_expect_eq(f[GRADIN_ASK_WHEELCHAIRS].value, 1);
    cr_expect(r->c.is_held[5] && !r->c.is_held[4]);
    cr_expect_float_eq(f[GRADIN_ASK_CLEAR].value, 17.0 / 19, 1e-12);
    cr_expect_float_eq(f[GRADIN_ASK_CLEAR].low, 17.0 / 20, 1e-12);
    cr_expect_float_eq(f[GRADIN_ASK_CLEAR].high, 17.0 / 18, 1e-12);
    cr_expect_float_eq(f[GRADIN_ASK_GOOD].value, 18.0 / 19, 1e-12);
    /* 14 m of those sold, 50 mm either way */
    cr_expect_float_eq(f[GRADIN_ASK_DISTANCE].low, 13.95, 1e-9);
    cr_expect_float_eq(f[GRADIN_ASK_DISTANCE].high, 14.05, 1e-9);
    /* 6 m by 4 m */
    cr_expect_float_eq(f[GRADIN_ASK_STAGE].value, 24.0, 1e-9);
    /* five clear ones in the stalls; of the other fourteen the farthest has no price */
    cr_expect(r->c.sale[0].n_seat == 5 && r->c.sale[0].takings == 250.0);
    cr_expect(r->c.sale[1].n_seat == 13 && r->c.sale[1].takings == 260.0);
    cr_expect(r->c.sale[2].n_seat == 1 && r->c.sale[2].takings == 0.0);
    cr_expect_eq(f[GRADIN_ASK_TAKINGS].value, 510.0);
    cr_expect_eq(f[GRADIN_ASK_TAKINGS].high, 530.0);
    /* with poor seats sold nothing is held back */
    show.sold_to = GRADIN_RATING_POOR;
    r = make_rated(arena);
    cr_assert_eq(choose_look(arena, &show, &r->c, &error), GRADIN_OK);
    cr_expect(r->c.n_held == 0 && r->c.figure[GRADIN_ASK_SEATS].low == 24);
    cr_expect_float_eq(r->c.figure[GRADIN_ASK_DISTANCE].value, 30.0, 1e-9);
    gradin_arena_destroy(arena);
}

static int by_value(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Definition 7 of Hyndman and Fan. */
static double percentile(double *value, int n, double p) {
    qsort(value, (size_t)n, sizeof *value, by_value);
    double h = (n - 1) * p;
    int k = (int)h;
    return k + 1 < n ? value[k] + (h - k) * (value[k + 1] - value[k]) : value[k];
}

/* Saturdays and Sundays from 19:00 for two hours. */
static bool is_heard(const gradin_event *e) {
    int64_t day = e->time_s / 86400;
    return (day + 3) % 7 >= 5 && e->time_s % 86400 >= 19 * 3600 && e->time_s % 86400 < 21 * 3600;
}

/* The season at some of the seats, with a soft voice, so that words are lost. */
static void make_few(hall *h) {
    read_files(h);
    h->model.seats.n_seat = FEW_SEATS;
    h->traffic.voice = GRADIN_EFFORT_NORMAL;
    h->traffic.sii_least = 0.57;
    compute(h);
}

static void check_events(hall *h, const gradin_candidate *c, const gradin_show *show) {
    const gradin_show_noise *noise = &c->noise;
    int n = 0, n_event = 0, n_seat = h->model.seats.n_seat;
    double *sold = gradin_arena_alloc(h->arena, (size_t)n_seat, sizeof *sold);
    for (int i = 0; i < h->traffic.n_event; i++) n_event += is_heard(&h->traffic.event[i]);
    cr_assert(n_event > 3, "%d", n_event);
    cr_expect_eq(noise->n_event, n_event);
    cr_expect_eq(noise->n_performance, N_SHOW, "four weeks");
    for (int seat = 0; seat < n_seat; seat++) {
        double sum[3] = {0}, chance[3];
        for (int i = 0; i < h->traffic.n_event; i++) {
            if (!is_heard(&h->traffic.event[i])) continue;
            chances(h, &h->traffic.event[i], seat, show->limit_dba, chance);
            for (int k = 0; k < 3; k++) sum[k] += chance[k] / N_SHOW;
        }
        cr_assert_float_eq(noise->over_low[seat], sum[0], 2e-3, "seat %d", seat);
        cr_assert_float_eq(noise->over[seat], sum[1], 2e-3, "seat %d", seat);
        cr_assert_float_eq(noise->over_high[seat], sum[2], 2e-3, "seat %d", seat);
        if (!c->is_held[seat]) sold[n++] = noise->over[seat];
    }
    double wanted = percentile(sold, n, 0.2);
    cr_expect_float_eq(c->figure[GRADIN_ASK_EVENTS].value, wanted, 1e-12);
    cr_expect(c->figure[GRADIN_ASK_EVENTS].low < wanted &&
              c->figure[GRADIN_ASK_EVENTS].high > wanted);
    for (int k = 1; k < GRADIN_N_SHIFT; k++)
        cr_expect_gt(c->figure[GRADIN_ASK_EVENTS].at[k], c->figure[GRADIN_ASK_EVENTS].at[k - 1]);
}

static void check_words(hall *h, const gradin_candidate *c) {
    int n_lacking = 0, n_heard = 0;
    for (int seat = 0; seat < h->model.seats.n_seat; seat++) {
        bool lacks = h->season.voice.sii[seat] < h->traffic.sii_least;
        double lost_s = 0.0;
        for (int i = 0; i < h->traffic.n_event; i++)
            if (is_heard(&h->traffic.event[i]))
                lost_s += flight_of(h, &h->traffic.event[i])->lost_s[seat] / N_SHOW;
        cr_assert_float_eq(c->noise.lost_s[seat], lacks ? 7200.0 : fmin(lost_s, 7200.0), 1e-6);
        n_lacking += lacks;
        n_heard += !lacks && lost_s > 0.0;
    }
    cr_assert(n_lacking > 0 && n_heard > 0, "%d lack the index, %d lose words", n_lacking, n_heard);
    const gradin_asked *f = &c->figure[GRADIN_ASK_WORDS];
    cr_expect(f->low <= f->value && f->value <= f->high && f->low < f->high, "%g %g %g, %d lack",
              f->low, f->value, f->high, n_lacking);
}

Test(choose_quiet, own_performances) {
    hall h;
    gradin_error error = {0};
    gradin_show show = gradin_show_defaults();
    make_few(&h);
    show.limit_dba = h.season.limit_dba;
    show.n_start = 1;
    show.start_s[0] = 19 * 3600;
    show.length_s = 7200;
    show.is_day_played[5] = show.is_day_played[6] = true;
    show.words_lost_a_show_s = 10.0;
    show.percentile = 20.0; /* the seats that lack the index are more than a tenth */
    gradin_candidate c = {.model = &h.model};
    c.is_held = gradin_arena_alloc(h.arena, (size_t)h.model.seats.n_seat, sizeof *c.is_held);
    for (int i = 0; i < 20; i++) c.is_held[i] = true;
    gradin_status status = choose_listen(h.arena, &show, &h.traffic, NULL, NULL, &c, &error);
    cr_assert_eq(status, GRADIN_OK, "%s", error.diagnostic[0].text);
    check_events(&h, &c, &show);
    check_words(&h, &c);
    gradin_arena_destroy(h.arena);
}

/* A roof without a stated sound reduction: no figure moves but the upper bound, by what a light one
 * would add. */
Test(choose_quiet, what_is_in_no_level) {
    hall h;
    gradin_error error = {0};
    gradin_show show = gradin_show_defaults();
    make_few(&h);
    show.limit_dba = h.season.limit_dba;
    gradin_candidate whole = {.model = &h.model}, open;
    whole.is_held = gradin_arena_alloc(h.arena, FEW_SEATS, sizeof *whole.is_held);
    open = whole;
    cr_assert_eq(choose_listen(h.arena, &show, &h.traffic, NULL, NULL, &whole, &error), GRADIN_OK);
    cr_expect(whole.noise.gaps.n_gap == 0 && whole.noise.gaps_db == 0.0, "the demo states all");
    h.model.open_roof_m2 = 300.0;
    cr_assert_eq(choose_listen(h.arena, &show, &h.traffic, NULL, NULL, &open, &error), GRADIN_OK);
    cr_assert_eq(open.noise.gaps.n_gap, 1);
    cr_expect_float_eq(open.noise.gaps_db, open.noise.gaps.gap[0].light_db, 1e-9);
    for (int i = 0; i < FEW_SEATS; i++) {
        double sum = 0.0, factor = gradin_coverage_factor(show.confidence);
        for (int k = 0; k < h.traffic.n_event; k++) {
            const gradin_event *e = &h.traffic.event[k];
            if (!is_in_show(e, h.traffic.start_s, h.traffic.length_s)) continue;
            double excess_db = flight_of(&h, e)->lamax_db[i] + e->offset_db - show.limit_dba +
                               factor * h.season.systematic_db[i] + open.noise.gaps_db;
            sum += gradin_chance_over(excess_db, h.season.class_scatter_db[e->class_index]);
        }
        cr_assert_float_eq(open.noise.over_high[i], sum / h.season.n_day, 2e-3, "seat %d", i);
        cr_assert_eq(whole.noise.over_low[i], open.noise.over_low[i]);
        cr_assert_eq(whole.noise.over[i], open.noise.over[i]);
    }
    cr_expect_gt(open.figure[GRADIN_ASK_EVENTS].high, whole.figure[GRADIN_ASK_EVENTS].high);
    gradin_arena_destroy(h.arena);
}

/* The season's own performances at the season's own start: the same counts as the season's. */
Test(choose_quiet, as_the_season_counts) {
    hall h;
    gradin_error error = {0};
    gradin_show show = gradin_show_defaults();
    make_few(&h);
    show.limit_dba = h.season.limit_dba;
    gradin_candidate c = {.model = &h.model};
    c.is_held = gradin_arena_alloc(h.arena, (size_t)h.model.seats.n_seat, sizeof *c.is_held);
    cr_assert_eq(choose_listen(h.arena, &show, &h.traffic, NULL, NULL, &c, &error), GRADIN_OK);
    cr_expect_eq(c.noise.n_performance, h.season.n_day);
    for (int i = 0; i < h.model.seats.n_seat; i++) {
        cr_assert_float_eq(c.noise.over[i], h.season.over_show[i], 1e-9, "seat %d", i);
        cr_assert_float_eq(c.noise.over_low[i], h.season.over_show_low[i], 1e-9);
        cr_assert_float_eq(c.noise.over_high[i], h.season.over_show_high[i], 1e-9);
    }
    cr_expect_float_eq(c.figure[GRADIN_ASK_EVENTS].value, h.season.over_spread.p90, 1e-9);
    cr_expect_null(c.noise.lost_s, "no words are asked for");
    gradin_arena_destroy(h.arena);
}
