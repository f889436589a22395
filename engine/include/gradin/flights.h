/* gradin/flights.h: what one event of a season's traffic does at every seat. */
#ifndef GRADIN_FLIGHTS_H
#define GRADIN_FLIGHTS_H

#include "gradin/acoustics.h"
#include "gradin/speech.h"
#include "gradin/traffic.h"

#ifdef __cplusplus
extern "C" {
#endif

/* A layout made ready for many events: its transfer and what its facade lets in. */
typedef struct gradin_house {
    const gradin_model *model;
    gradin_transfer transfer;
    gradin_shade_state shades;       /* as set unless gradin_house_shaded() made it */
    double (*tau_m2)[GRADIN_N_BAND]; /* [n_element] S tau */
    gradin_vec3 centre_m;            /* of the room */
    double reverberation_s[GRADIN_N_BAND];
    double uncertainty_db; /* standard uncertainty of a level */
    const char *uncertainty_source;
} gradin_house;

/* Needs at least one element. Everything into the arena. */
GRADIN_API gradin_status gradin_house_make(gradin_arena *arena, const gradin_model *model,
                                           gradin_house *house, gradin_error *error);

/* One class on one track, offset 0. Maxima and histories carry the traffic's time weighting; the
 * mean square is straight between moments that move the outside level by at most 1 dB. */
typedef struct gradin_flight {
    int class_index, track;
    double outside_lamax_db, outside_sel_db; /* free field at the room's centre */
    double closest_m, length_s;              /* window: within 30 dB of the maximum */
    double *lamax_db, *sel_db;               /* [n_seat] A-weighted */
    double *band_db;                         /* [n_seat][GRADIN_N_BAND] at the seat's maximum */
    double *sii_least;                       /* [n_seat] at the worst moment of the event */
    double *lost_s;                          /* [n_seat] seconds below the traffic's sii_least */
    double *share; /* [n_element] of the A-weighted energy, mean of all seats */
    int n_time;
    const double *time_s; /* [n_time]; NULL unless kept */
    double *history_db;   /* [n_time][n_seat] A-weighted; NULL unless kept */
    double *outside_db;   /* [n_time] A-weighted; NULL unless kept */
} gradin_flight;

/* The same layout with its shades in another state; shares the transfer. */
GRADIN_API gradin_status gradin_house_shaded(gradin_arena *arena, const gradin_house *house,
                                             gradin_shade_state shades, gradin_house *shaded,
                                             gradin_error *error);

/* Result arrays of a flight in the arena. */
GRADIN_API gradin_status gradin_flight_take(gradin_arena *arena, const gradin_house *house,
                                            gradin_flight *flight, gradin_error *error);
/* Fills a flight that was taken; its class_index and track are set. The history is kept in
 * `history` when that is no NULL; speech is left out without a voice. Safe to call from several
 * threads with BLAS held to one. */
GRADIN_API gradin_status gradin_flight_compute(const gradin_house *house,
                                               const gradin_traffic *traffic,
                                               const gradin_voice *voice, gradin_flight *flight,
                                               gradin_arena *history, gradin_error *error);

/* Lateral attenuation of ECAC Doc 29 for a source seen at elevation_deg over a ground track
 * lateral_m away, dB >= 0. */
GRADIN_API double gradin_lateral_attenuation_db(double lateral_m, double elevation_deg);
/* 10 lg(rho c/409.81): what the day's air adds to levels stated for 409.81 N s/m3. */
GRADIN_API double gradin_impedance_db(double temperature_c, double pressure_kpa);

#ifdef __cplusplus
}
#endif

#endif
