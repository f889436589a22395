/* A season of the demo hall, counted again by plain loops. */
#include <criterion/criterion.h>
#include <omp.h>
#include <string.h>

#include "gradin/season.h"

static const char layout_path[] = GRADIN_SOURCE_DIR "/demo/round.yaml";
static const char traffic_path[] = GRADIN_SOURCE_DIR "/demo/season.yaml";

typedef struct hall {
    gradin_arena *arena;
    gradin_model model;
    gradin_traffic traffic;
    gradin_season season;
} hall;

static void make(hall *h) {
    gradin_error error = {0};
    h->arena = gradin_arena_create();
    cr_assert(gradin_model_read(h->arena, layout_path, &h->model, &error) == GRADIN_OK);
    cr_assert(gradin_traffic_read(h->arena, traffic_path, false, &h->traffic, NULL, &error) ==
                  GRADIN_OK,
              "%s", error.diagnostic[0].text);
    cr_assert(gradin_season_compute(h->arena, &h->model, &h->traffic, NULL, &h->season, &error) ==
                  GRADIN_OK,
              "%s", error.diagnostic[0].text);
}

static const gradin_flight *flight_of(const hall *h, const gradin_event *e) {
    for (int k = 0; k < h->season.n_flight; k++)
        if (h->season.flight[k].class_index == e->class_index &&
            h->season.flight[k].track == e->track)
            return &h->season.flight[k];
    cr_assert_fail("an event has no flight");
    return NULL;
}

static bool is_in_show(const gradin_event *e, int start_s, int length_s) {
    int day_s = (int)(e->time_s % 86400), after_s = day_s - start_s;
    return (after_s < 0 ? after_s + 86400 : after_s) < length_s;
}

/* Counts, exposure and start times from the flights alone. */
Test(season, counts) {
    hall h;
    make(&h);
    const gradin_season *s = &h.season;
    int n_seat = h.model.seats.n_seat, start = 40, n_event = 0;
    double show_over = 0.0, start_over = 0.0;
    for (int k = 0; k < s->n_flight; k++) n_event += s->n_event[k];
    cr_assert(n_event == h.traffic.n_event && n_event > 900);
    cr_assert(s->n_day == 28 && s->limit_dba == 42.0);
    for (int seat = 0; seat < n_seat; seat++) {
        int n_over = 0, n_show = 0;
        double energy = 0.0, most_db = -INFINITY;
        for (int i = 0; i < h.traffic.n_event; i++) {
            const gradin_event *e = &h.traffic.event[i];
            const gradin_flight *f = flight_of(&h, e);
            double level_db = f->lamax_db[seat] + e->offset_db;
            bool is_over = level_db > s->limit_dba;
            bool is_shown = is_in_show(e, h.traffic.start_s, h.traffic.length_s);
            n_over += is_over;
            n_show += is_over && is_shown;
            start_over += is_over && is_in_show(e, start * 900, h.traffic.length_s);
            most_db = fmax(most_db, level_db);
            if (is_shown) energy += pow(10.0, 0.1 * (f->sel_db[seat] + e->offset_db));
        }
        cr_assert(n_over == s->n_over[seat], "seat %d: %d, %d", seat, n_over, s->n_over[seat]);
        cr_assert(fabs(s->over_show[seat] - n_show / 28.0) < 1e-12);
        cr_assert(fabs(s->lamax_db[seat] - most_db) < 1e-9);
        cr_assert(fabs(s->laeq_db[seat] - 10.0 * log10(energy / (28.0 * 9000.0))) < 1e-9);
        cr_assert(fabs(gradin_level_a_db(s->band_db + (size_t)seat * GRADIN_N_BAND) - most_db) <
                  1e-6);
        show_over += n_show / 28.0 / n_seat;
    }
    cr_assert(fabs(s->show_over - show_over) < 1e-9);
    cr_assert(fabs(s->start_over[start] - start_over / 28.0 / n_seat) < 1e-9);
    cr_assert(fabs(s->start_over[78] - s->show_over) < 1e-9, "19:30 is the stated start");
    cr_assert(s->worst_show_over >= s->show_over);
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
    cr_assert(memcmp(a.season.start_over, b.season.start_over, sizeof a.season.start_over) == 0);
    gradin_arena_destroy(a.arena);
    gradin_arena_destroy(b.arena);
}
