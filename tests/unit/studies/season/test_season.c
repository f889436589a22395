/* A season of the demo hall, counted again by plain loops. */
#include <criterion/criterion.h>
#include <omp.h>
#include <string.h>

#define DEMO GRADIN_SOURCE_DIR "/demo/"
#include "unit/studies/season/demo_season.h"

static double systematic_db(const hall *h, int seat) {
    return gradin_systematic_db(&h->season.uncertainty,
                                h->season.band_db + (size_t)seat * GRADIN_N_BAND);
}

/* Its class's scatter less what its offsets state. */
static double scatter_db(const hall *h, int class_index) {
    double sum = 0.0, square = 0.0, all_db = h->traffic.class_of[class_index].scatter_db;
    int n = 0;
    for (int i = 0; i < h->traffic.n_event; i++) {
        if (h->traffic.event[i].class_index != class_index) continue;
        sum += h->traffic.event[i].offset_db;
        square += pow(h->traffic.event[i].offset_db, 2.0);
        n++;
    }
    return sqrt(fmax(all_db * all_db - square / n + sum / n * sum / n, 0.0));
}

/* What the plot shows is the loudest event of the tables, its offset included: its loudest seat's
 * curve peaks at the highest maximum of all seats, and the others at their own of that event. */
static void check_trace(const gradin_season *s) {
    const gradin_event_levels *trace = &s->trace;
    const gradin_flight *f = &s->flight[s->trace_flight];
    double outside_db = -INFINITY;
    cr_assert(s->trace_offset_db > 0.0, "the demo's events have offsets");
    for (int t = 0; t < trace->n_time; t++) outside_db = fmax(outside_db, trace->outside_db[t]);
    cr_assert(fabs(outside_db - f->outside_lamax_db - s->trace_offset_db) < 1e-6);
    for (int k = 0; k < s->n_trace; k++) {
        double most_db = -INFINITY;
        for (int t = 0; t < trace->n_time; t++)
            most_db = fmax(most_db, trace->seat_db[k * trace->n_time + t]);
        double wanted_db = f->lamax_db[s->trace_seat[k]] + s->trace_offset_db;
        cr_assert(fabs(most_db - wanted_db) < 1e-6, "%g, not %g", most_db, wanted_db);
        cr_assert(k > 0 || fabs(most_db - s->lamax_spread.most) < 1e-6);
    }
}

static void check_what_matters(const hall *h) {
    const gradin_season *s = &h->season;
    int n_element = 0;
    double share = 0.0;
    cr_assert(s->n_worst_seat == GRADIN_N_WORST);
    for (int i = 0; i < h->model.seats.n_seat; i++) {
        int place = 0; /* how many of the list come before this seat */
        for (int k = 0; k < s->n_worst_seat; k++) {
            int w = s->worst_seat[k];
            place +=
                s->over_show[w] > s->over_show[i] ||
                (s->over_show[w] == s->over_show[i] &&
                 (s->lamax_db[w] > s->lamax_db[i] || (s->lamax_db[w] == s->lamax_db[i] && w < i)));
        }
        cr_assert(place == GRADIN_N_WORST || s->worst_seat[place] == i, "seat %d", i);
    }
    for (int i = 0; i < s->n_bays; i++) {
        const gradin_bays *bays = &s->bays[i];
        double sum = 0.0;
        for (int e = 0; e < h->model.n_element; e++)
            if (strcmp(h->model.element[e].entry, bays->entry) == 0) {
                sum += s->share[e];
                cr_assert(s->share[e] <= s->share[bays->loudest_element]);
            }
        cr_assert(fabs(bays->share - sum) < 1e-12);
        cr_assert(fabs(bays->without_db - 10.0 * log10(1.0 - sum)) < 1e-9);
        cr_assert(i == 0 || bays->share <= s->bays[i - 1].share);
        n_element += bays->n_element;
        share += sum;
    }
    cr_assert(n_element == h->model.n_element && fabs(share - 1.0) < 1e-9);
}

/* Expected counts, exposure and start times from the flights alone. */
Test(season, counts) {
    hall h;
    make(&h);
    const gradin_season *s = &h.season;
    int n_seat = h.model.seats.n_seat, start = 40, n_event = 0, n_verdict[GRADIN_N_VERDICT] = {0};
    double mean[3] = {0.0}, start_over = 0.0;
    for (int k = 0; k < s->n_flight; k++) n_event += s->n_event[k];
    for (int k = 0; k < h.traffic.n_class; k++)
        cr_assert(fabs(s->class_scatter_db[k] - scatter_db(&h, k)) < 1e-9);
    cr_assert(n_event == h.traffic.n_event && n_event > 900);
    cr_assert(s->n_day == 28 && s->limit_dba == 42.0);
    for (int seat = 0; seat < n_seat; seat++) {
        double over = 0.0, show[3] = {0.0}, energy = 0.0, most_db = -INFINITY;
        for (int i = 0; i < h.traffic.n_event; i++) {
            const gradin_event *e = &h.traffic.event[i];
            const gradin_flight *f = flight_of(&h, e);
            double level_db = f->lamax_db[seat] + e->offset_db, chance[3];
            bool is_shown = is_in_show(e, h.traffic.start_s, h.traffic.length_s);
            chances(&h, e, seat, s->limit_dba, chance);
            over += chance[1];
            for (int k = 0; k < 3; k++) show[k] += is_shown ? chance[k] : 0.0;
            start_over += is_in_show(e, start * 900, h.traffic.length_s) ? chance[1] : 0.0;
            most_db = fmax(most_db, level_db);
            if (is_shown) energy += pow(10.0, 0.1 * (f->sel_db[seat] + e->offset_db));
        }
        cr_assert(fabs(s->over[seat] - over) < 1e-6, "seat %d: %g, %g", seat, over, s->over[seat]);
        cr_assert(fabs(s->over_show_low[seat] - show[0] / 28.0) < 1e-6);
        cr_assert(fabs(s->over_show[seat] - show[1] / 28.0) < 1e-6);
        cr_assert(fabs(s->over_show_high[seat] - show[2] / 28.0) < 1e-6);
        cr_assert(fabs(s->lamax_db[seat] - most_db) < 1e-9);
        cr_assert(fabs(s->laeq_db[seat] - 10.0 * log10(energy / (28.0 * 9000.0))) < 1e-9);
        cr_assert(fabs(gradin_level_a_db(s->band_db + (size_t)seat * GRADIN_N_BAND) - most_db) <
                  1e-6);
        cr_assert(fabs(s->systematic_db[seat] - systematic_db(&h, seat)) < 1e-12);
        n_verdict[s->verdict[seat]]++;
        for (int k = 0; k < 3; k++) mean[k] += show[k] / 28.0 / n_seat;
    }
    cr_assert(fabs(s->show_over_low - mean[0]) < 1e-6);
    cr_assert(fabs(s->show_over - mean[1]) < 1e-6);
    cr_assert(fabs(s->show_over_high - mean[2]) < 1e-6);
    cr_assert(mean[0] < mean[1] && mean[1] < mean[2]);
    cr_assert(fabs(s->start_over[start] - start_over / 28.0 / n_seat) < 1e-6);
    cr_assert(fabs(s->start_over[78] - s->show_over) < 1e-6, "19:30 is the stated start");
    cr_assert(s->worst_show_over >= s->show_over);
    for (int k = 0; k < (int)GRADIN_N_VERDICT; k++) cr_assert_eq(s->n_verdict[k], n_verdict[k]);
    check_what_matters(&h);
    check_trace(s);
    gradin_arena_destroy(h.arena);
}

/* Scatter is counted once: the same events, with their scatter in the offsets or in the class, are
 * expected over the limit as often. */
Test(season, scatter_is_counted_once) {
    enum { N = 2000 };
    hall h;
    read_files(&h);
    gradin_event *event = gradin_arena_alloc(h.arena, N, sizeof *event);
    gradin_class *class_of = (gradin_class *)(uintptr_t)h.traffic.class_of;
    cr_assert(event != NULL);
    for (int i = 0; i < N; i++) {
        event[i] = h.traffic.event[0];
        event[i].offset_db = 0.0;
    }
    h.traffic.event = event;
    h.traffic.n_event = N;
    class_of[event[0].class_index].scatter_db = 4.0;
    compute(&h);
    double by_class = h.season.over[0];
    for (int i = 0; i < N; i++) { /* quantiles of the same normal scatter */
        double low = -40.0, high = 40.0, share = (i + 0.5) / N;
        for (int k = 0; k < 50; k++) {
            double middle = 0.5 * (low + high);
            *(gradin_chance_over(middle, 4.0) < share ? &low : &high) = middle;
        }
        event[i].offset_db = low;
    }
    compute(&h);
    cr_assert(h.season.class_scatter_db[event[0].class_index] < 0.2);
    cr_assert(by_class > 0.02 * N && by_class < 0.98 * N);
    cr_assert(fabs(h.season.over[0] - by_class) < 0.004 * N, "%.2f, not %.2f", h.season.over[0],
              by_class);
    gradin_arena_destroy(h.arena);
}

/* A performance that runs past midnight belongs to the day it begins on; what falls before the
 * first such day belongs to the night before, which is no day of the season. */
Test(season, the_night_before_the_first_day_is_no_day) {
    hall h;
    read_files(&h);
    gradin_event *event = (gradin_event *)(uintptr_t)h.traffic.event, loud = event[0];
    int64_t day_s = loud.time_s / 86400 * 86400;
    h.traffic.start_s = 22 * 3600;
    h.traffic.length_s = 4 * 3600;
    loud.offset_db += 90.0; /* over the limit at every seat, whatever is in doubt */
    static const int after_s[] = {1 * 3600, 3600 + 60, 3600 + 120, 23 * 3600, 49 * 3600, 47 * 3600};
    h.traffic.n_event = 6; /* three in the night before, one on the first day, two on the second */
    for (int i = 0; i < 6; i++) {
        event[i] = loud;
        event[i].time_s = day_s + after_s[i];
    }
    compute(&h);
    cr_expect_eq(h.season.worst_day, 1, "day %d", h.season.worst_day);
    cr_expect_float_eq(h.season.worst_show_over, 2.0, 1e-9, "%g", h.season.worst_show_over);
    gradin_arena_destroy(h.arena);
}

/* The worst class of each seat; a seat without the index has nothing to lose. */
Test(season, words_of_the_worst_class) {
    hall h;
    make_small(&h);
    gradin_season *s = &h.season;
    int n_lost = 0, n_none = 0;
    for (int seat = 0; seat < h.model.seats.n_seat; seat++) {
        double most_s = 0.0;
        for (int k = 0; k < s->n_flight; k++) most_s = fmax(most_s, s->flight[k].lost_s[seat]);
        if (s->voice.sii[seat] < h.traffic.sii_least) {
            cr_assert(isnan(s->lost_s[seat]) && s->lost_flight[seat] < 0);
            n_none++;
            continue;
        }
        cr_assert(s->lost_s[seat] == most_s);
        cr_assert((s->lost_flight[seat] >= 0) == (most_s > 0.0));
        n_lost += most_s > 0.0;
    }
    cr_assert(n_lost > 0 && n_none > 0,
              "a soft voice: words are lost at %d seats, none to lose at %d", n_lost, n_none);
    gradin_arena_destroy(h.arena);
}

/* All shades open: the same as a venue whose shades stand open. */
Test(season, states_of_the_shades) {
    hall h;
    make_small(&h);
    const gradin_season *s = &h.season;
    gradin_shade *shade = (gradin_shade *)(uintptr_t)h.model.shade;
    gradin_error error = {0};
    for (int state = GRADIN_SHADES_OPEN; state <= (int)GRADIN_SHADES_SHUT; state++) {
        gradin_season other;
        for (int i = 0; i < h.model.n_shade; i++)
            shade[i].closed = state == GRADIN_SHADES_SHUT ? 1.0 : 0.0;
        cr_assert(gradin_season_compute(h.arena, &h.model, &h.traffic, NULL, &other, &error) ==
                  GRADIN_OK);
        for (int i = 0; i < h.model.seats.n_seat; i++)
            cr_assert(fabs(s->lamax_shades_db[state][i] - other.lamax_db[i]) < 1e-9, "seat %d", i);
    }
    for (int i = 0; i < h.model.seats.n_seat; i++)
        cr_assert(s->shade_gain_db[i] == s->lamax_shades_db[GRADIN_SHADES_OPEN][i] -
                                             s->lamax_shades_db[GRADIN_SHADES_SHUT][i]);
    cr_assert(s->shade_gain.median > 0.1, "open shades let more in");
    gradin_arena_destroy(h.arena);
}

Test(season, threads_change_nothing) {
    hall a, b;
    int most = omp_get_max_threads();
    omp_set_num_threads(1);
    make(&a);
    omp_set_num_threads(3);
    make(&b);
    omp_set_num_threads(most);
    size_t size = sizeof(double) * (size_t)a.model.seats.n_seat;
    cr_assert(memcmp(a.season.lamax_db, b.season.lamax_db, size) == 0);
    cr_assert(memcmp(a.season.laeq_db, b.season.laeq_db, size) == 0);
    cr_assert(memcmp(a.season.over_show, b.season.over_show, size) == 0);
    cr_assert(memcmp(a.season.shade_gain_db, b.season.shade_gain_db, size) == 0);
    cr_assert(memcmp(a.season.start_over, b.season.start_over, sizeof a.season.start_over) == 0);
    gradin_arena_destroy(a.arena);
    gradin_arena_destroy(b.arena);
}

/* Every class on every track at 20,000 seats: 21 bands and 4 more figures for each, and 2 for the
 * second of the demo's backgrounds. */
Test(season, more_flights_than_fit_are_refused) {
    enum { N = GRADIN_MAX_CLASS * GRADIN_MAX_TRACK };
    hall h;
    gradin_error error = {0};
    read_files(&h);
    gradin_event *event = gradin_arena_alloc(h.arena, N, sizeof *event);
    cr_assert(event != NULL);
    for (int i = 0; i < N; i++)
        event[i] =
            (gradin_event){.class_index = i % GRADIN_MAX_CLASS, .track = i / GRADIN_MAX_CLASS};
    h.traffic.event = event;
    h.traffic.n_event = N;
    h.traffic.n_class = GRADIN_MAX_CLASS;
    h.traffic.n_track = GRADIN_MAX_TRACK;
    h.model.seats.n_seat = GRADIN_MAX_SEAT; /* told before any seat is looked at */
    cr_assert(gradin_season_compute(h.arena, &h.model, &h.traffic, NULL, &h.season, &error) ==
              GRADIN_BAD_INPUT);
    cr_assert_str_eq(error.diagnostic[0].text,
                     "16384 classes on tracks times 20000 seats need 70.8 "
                     "GB; at most 3.0 GB are allowed");
    gradin_arena_destroy(h.arena);
}
