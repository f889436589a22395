/* gradin/programme.h: a run of shows in one hall, and what changeovers between them cost. Times are
 * local, in seconds since 1970; money in the currency of whoever states it.
 *
 * Ownership and threads: All of it belongs to the arena of whoever reads it; any number of threads
 * may read a programme that nobody changes. */
#ifndef GRADIN_PROGRAMME_H
#define GRADIN_PROGRAMME_H

#include <stdint.h>

#include "gradin/base.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { GRADIN_MAX_BOOKING = 400, GRADIN_MAX_PROGRAMME_LAYOUT = 20 };

typedef struct gradin_booking {
    const char *name;
    int64_t start_s, end_s;
    const int *layout; /* [n_layout] allowed ones, best first: indices of the programme's */
    int n_layout;
    bool is_any_order;      /* none of them is wished for more than another */
    int seats, wheelchairs; /* least that are needed; 0: any */
    const gradin_place *at; /* in a file, or NULL */
} gradin_booking;

/* Required: name, layout, booking by rising start without overlap, night_factor. */
typedef struct gradin_programme {
    const char *name, *file;
    const char *const *layout_name; /* [n_layout] */
    const char *const *layout_path; /* [n_layout] as seen from here */
    int n_layout;
    const gradin_booking *booking; /* [n_booking] */
    int n_booking;
    int first_layout;     /* stands at first_free_s; -1: that of the first show does */
    int64_t first_free_s; /* from here on the first changeover may be worked */
    double clear_s;       /* after a show, before a changeover may begin */
    double ready_s;       /* before a show, when it must be done */
    double margin_s;      /* of each gap that stays free besides */
    int night_from_s;     /* of the day; alike with night_to_s: no night */
    int night_to_s;
    double night_factor; /* what an hour of work at night costs of one by day, 1 or more */
    double hour_cost;    /* of one person; 1: costs are person-hours */
    double step_cost;    /* of each step down a show's list of layouts */
    char digest[33];     /* hex XXH3-128 of the file */
} gradin_programme;

#ifdef __cplusplus
}
#endif

#endif
