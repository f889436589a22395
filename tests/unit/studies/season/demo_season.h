/* unit/studies/season/demo_season.h: a season of the demo hall for tests that count it again. DEMO
 * is the folder: the build tells it to files that name it. */
#ifndef GRADIN_TEST_DEMO_SEASON_H
#define GRADIN_TEST_DEMO_SEASON_H

#include <criterion/criterion.h>

#include "gradin/files.h"
#include "gradin/studies/season.h"

typedef struct hall {
    gradin_arena *arena;
    gradin_model model;
    gradin_traffic traffic;
    gradin_season season;
} hall;

static inline void read_files(hall *h) {
    gradin_error error = {0};
    h->arena = gradin_arena_create();
    cr_assert(gradin_model_read(h->arena, DEMO "round.yaml", &h->model, &error) == GRADIN_OK);
    h->model.room_method =
        GRADIN_ROOM_DIFFUSE; /* the quicker one: the room is not what is tested */
    cr_assert(gradin_traffic_read(h->arena, DEMO "season.yaml", false, &h->traffic, NULL, &error) ==
                  GRADIN_OK,
              "%s", error.diagnostic[0].text);
}

static inline void compute(hall *h) {
    gradin_error error = {0};
    cr_assert(gradin_season_compute(h->arena, &h->model, &h->traffic, NULL, &h->season, &error) ==
                  GRADIN_OK,
              "%s", error.diagnostic[0].text);
}

/* Events are counted over three limits, one of which is the brief's own. */
static inline void make(hall *h) {
    static const double more_limit_dba[] = {50.0, 35.0, 42.0};
    read_files(h);
    h->traffic.more_limit_dba = more_limit_dba;
    h->traffic.n_more_limit = 3;
    compute(h);
}

/* The first class on its track alone, with a soft voice: quick, and words are lost. */
static inline void make_small(hall *h) {
    read_files(h);
    gradin_event *event = (gradin_event *)(uintptr_t)h->traffic.event, first = event[0];
    int n = 0;
    for (int i = 0; i < h->traffic.n_event; i++)
        if (event[i].class_index == first.class_index && event[i].track == first.track)
            event[n++] = event[i];
    h->traffic.n_event = n;
    h->traffic.voice = GRADIN_EFFORT_NORMAL;
    h->traffic.sii_least = 0.5;
    compute(h);
}

static inline const gradin_flight *flight_of(const hall *h, const gradin_event *e) {
    for (int k = 0; k < h->season.n_flight; k++)
        if (h->season.flight[k].class_index == e->class_index &&
            h->season.flight[k].track == e->track)
            return &h->season.flight[k];
    cr_assert_fail("an event has no flight");
    return NULL;
}

static inline bool is_in_show(const gradin_event *e, int start_s, int length_s) {
    int day_s = (int)(e->time_s % 86400), after_s = day_s - start_s;
    return (after_s < 0 ? after_s + 86400 : after_s) < length_s;
}

/* Chances of an event at a seat: were levels lower or higher by what is systematic, one standard
 * uncertainty of 84 % each, and over all. */
static inline void chances(const hall *h, const gradin_event *e, int seat, double limit_dba,
                           double chance[3]) {
    double excess_db = flight_of(h, e)->lamax_db[seat] + e->offset_db - limit_dba;
    double known_db = h->season.systematic_db[seat],
           own_db = h->season.class_scatter_db[e->class_index];
    chance[0] = 0.5 * erfc(-(excess_db - 0.9944579 * known_db) / (own_db * sqrt(2.0)));
    chance[1] = 0.5 * erfc(-excess_db / (hypot(known_db, own_db) * sqrt(2.0)));
    chance[2] = 0.5 * erfc(-(excess_db + 0.9944579 * known_db) / (own_db * sqrt(2.0)));
}

#endif
