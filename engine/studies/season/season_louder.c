/* The flights of a season once more, were every class louder: what words are lost is not shifted by
 * decibels as a level is. */
#include "studies/season/season.h"

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

static gradin_status make_louder(gradin_arena *arena, double more_db, gradin_traffic *traffic,
                                 gradin_error *error) {
    size_t n_class = (size_t)traffic->n_class;
    gradin_class *louder = gradin_arena_alloc(arena, n_class, sizeof *louder);
    if (!louder) return out_of_memory(error);
    for (size_t k = 0; k < n_class; k++) {
        louder[k] = traffic->class_of[k];
        for (int b = 0; b < GRADIN_N_BAND; b++) louder[k].level_db[b] += more_db;
    }
    traffic->class_of = louder;
    return GRADIN_OK;
}

gradin_status season_fly_louder(gradin_arena *arena, const gradin_season *s, double more_db,
                                gradin_flight *flight, gradin_error *error) {
    gradin_traffic traffic = *s->traffic;
    gradin_status status = make_louder(arena, more_db, &traffic, error);
    for (int k = 0; k < s->n_flight && status == GRADIN_OK; k++) {
        flight[k] =
            (gradin_flight){.class_index = s->flight[k].class_index, .track = s->flight[k].track};
        status = gradin_flight_alloc(arena, &s->room, s->voice.n_background, &flight[k], error);
    }
    return status == GRADIN_OK ? season_fly(s, &traffic, &s->voice, NULL, flight, error) : status;
}
