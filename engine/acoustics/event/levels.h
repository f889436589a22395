/* event/levels.h: one event's mean squares at the seats, moment by moment. */
#ifndef GRADIN_EVENT_LEVELS_H
#define GRADIN_EVENT_LEVELS_H

#include "acoustics/event/incidence.h"
#include "acoustics/transfer/transfer.h"

/* An event in a room whose shades stand in one state. */
typedef struct gradin_sounding {
    const gradin_prepared_room *room;
    const gradin_incidence *incidence;
    gradin_powers powers;
} gradin_sounding;

/* Powers let in and what they feed, in the arena. */
gradin_status gradin_sounding_make(gradin_arena *arena, const gradin_prepared_room *room,
                                   const gradin_incidence *incidence, gradin_sounding *sounding,
                                   gradin_error *error);

/* What a seat's turn is given: its mean squares [GRADIN_N_BAND][n_time], or A-weighted [n_time],
 * and room for n_time values. */
typedef struct gradin_seat_turn {
    const gradin_sounding *sounding;
    int seat;
    const double *square;
    double *scratch;
    void *user;
} gradin_seat_turn;

/* Calls each seat's turn once, on any number of threads in any order; inside a parallel region on
 * the calling thread alone. BLAS must be held to one thread. */
gradin_status gradin_levels_each(const gradin_sounding *sounding, bool is_a_weighted,
                                 void (*turn)(const gradin_seat_turn *turn), void *user,
                                 gradin_error *error);

/* A flight whose source sends ratio[GRADIN_N_BAND] times what the sounding's does. */
typedef struct gradin_flight_levels {
    gradin_flight *flight;
    double ratio[GRADIN_N_BAND];
} gradin_flight_levels;

/* Figures of all seats of n flights, GRADIN_NUMERIC when a level is none. Scratch into the arena.
 */
gradin_status gradin_sounding_reduce(gradin_arena *arena, const gradin_sounding *sounding,
                                     const gradin_voice *voice, double sii_least,
                                     const gradin_flight_levels *of, int n, gradin_error *error);
/* lamax_db[n_seat] */
gradin_status gradin_sounding_maxima(const gradin_sounding *sounding, double *lamax_db,
                                     gradin_error *error);

/* The element that brings each seat most A-weighted energy at the seat's maximum, loudest[n_seat].
 */
gradin_status gradin_sounding_loudest(const gradin_sounding *sounding, int *loudest,
                                      gradin_error *error);

/* A-weighted sum over the bands, sum[n_time]. */
void gradin_square_a(const double *square, int n_time, double *sum);

#endif
