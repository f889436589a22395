/* gradin/acoustics/event.h: what one event of traffic does outside and at every seat. An overflight
 * of a layout is traffic of one event.
 *
 * Ownership and threads: Results live in the arena that is given and point into the model and the
 * traffic, which must outlive them; rooms are prepared from one thread of a process at a time, for
 * they set the threads of BLAS, and events of a prepared room may be worked out in several threads
 * between gradin_blas_single() and gradin_blas_restore(), each with a flight of its own. */
#ifndef GRADIN_EVENT_H
#define GRADIN_EVENT_H

#include "gradin/acoustics.h"
#include "gradin/acoustics/glazing.h"
#include "gradin/acoustics/speech.h"
#include "gradin/acoustics/traffic.h"

#ifdef __cplusplus
extern "C" {
#endif

/* What a prepared room may keep: its direct part per seat and facade element and, by radiosity,
 * what its patches send. Refused beyond. */
#define GRADIN_MAX_TRANSFER_BYTES 3.2e9

/* A room's sound field kept in memory for layouts that share it: other glass, the same shape,
 * seats and absorption. All zero is an empty one; gradin_kept_room_clear() frees what it holds. It
 * must outlive every room that was prepared with it, and is cleared when a room differs. */
typedef struct gradin_kept_room {
    gradin_arena *arena; /* of its own */
    char key[33];        /* of all that the field depends on */
    const struct gradin_transfer *transfer;
    struct gradin_kept_glass *glass;           /* what glass lets through, whatever the room */
    struct gradin_kept_incidences *incidences; /* what events send onto the facade, likewise */
    int n_made;                                /* fields worked out so far */
    bool is_as_set_only; /* stated by who keeps it: shades stay as they are set, so that no other
                            state need be worked out */
} gradin_kept_room;

GRADIN_API void gradin_kept_room_clear(gradin_kept_room *kept);

/* A layout made ready for many events: how sound reaches its seats and what its facade lets in. The
 * model must outlive it. */
typedef struct gradin_prepared_room {
    const gradin_model *model;
    const struct gradin_transfer *transfer; /* the library's own */
    int n_patch;                        /* of the room's surface, by radiosity; 0 when diffuse */
    bool is_kept_one;                   /* read from the cache folder */
    char cache_note[GRADIN_TEXT_CHARS]; /* why it could not be kept there, or "" */
    char room_note[GRADIN_TEXT_CHARS];  /* what to know of the room's method, or "" */
    gradin_shade_state shades;          /* as set unless gradin_room_shade() made it */
    const gradin_glass *glass;          /* [n_element] */
    double (*tau_m2)[GRADIN_N_BAND];    /* [n_element] S tau in diffuse incidence */
    /* [n_element] power let in of a plane wave over its intensity, at the angles of gradin_oblique
     */
    double (*passed_m2)[GRADIN_N_BAND][GRADIN_N_OBLIQUE];
    double (*heard_1m2)[GRADIN_N_BAND];    /* [n_element] p^2/(W rho c), sum over the seats; NULL
                                              unless the shades are as set */
    double reverberation_s[GRADIN_N_BAND]; /* on the side with most seats */
    gradin_uncertainty uncertainty;        /* of room and envelope; source and scatter are the
                                              traffic's */
    const char *uncertainty_source;        /* what it is made of and where that is from */
    gradin_calibration calibration;        /* of the envelope by a measurement at the site */
    struct gradin_kept_incidences *incidences; /* of the kept room; NULL without */
} gradin_prepared_room;

/* Everything into the arena. cache_folder (NULL: none) keeps a room's sound field by radiosity, and
 * is looked into first; a folder that fails costs time, no result. GRADIN_BAD_USE without elements,
 * a footprint, a volume; GRADIN_BAD_INPUT when the room makes too many patches or needs more than
 * GRADIN_MAX_TRANSFER_BYTES. */
GRADIN_API gradin_status gradin_room_prepare(gradin_arena *arena, const gradin_model *model,
                                             const char *cache_folder, gradin_prepared_room *room,
                                             gradin_error *error);
/* The same with the field of `kept` where that is this room's, or kept there for the next; NULL: as
 * above. */
GRADIN_API gradin_status gradin_room_prepare_kept(gradin_arena *arena, const gradin_model *model,
                                                  const char *cache_folder, gradin_kept_room *kept,
                                                  gradin_prepared_room *room, gradin_error *error);
/* The same room with its shades in another state; shares the transfer. */
GRADIN_API gradin_status gradin_room_shade(gradin_arena *arena, const gradin_prepared_room *room,
                                           gradin_shade_state shades, gradin_prepared_room *shaded,
                                           gradin_error *error);

/* Uncertainty of the room's levels with a class of this traffic; NANs for one that is not there. */
GRADIN_API gradin_uncertainty gradin_uncertainty_with(const gradin_prepared_room *room,
                                                      const gradin_traffic *traffic,
                                                      int class_index);

/* One class on one track, offset 0. Maxima carry the traffic's time weighting; the mean square is
 * straight between moments that move the outside level by at most 1 dB. */
typedef struct gradin_flight {
    int class_index, track;
    double outside_lamax_db, outside_sel_db; /* free field at outside_m */
    gradin_vec3 outside_m;                   /* point of the room nearest to the track */
    double closest_m, length_s; /* from there to the track; window: within 30 dB of the maximum */
    double *lamax_db, *sel_db;  /* [n_seat] A-weighted */
    double *band_db;            /* [n_seat][GRADIN_N_BAND] at the seat's maximum */
    int n_background;           /* states of the hall's own noise, at least 1 */
    double *sii_least;          /* [n_background][n_seat] at the worst moment of the event */
    double *lost_s;             /* [n_background][n_seat] seconds below the traffic's sii_least */
    double *share;              /* [n_element] of the A-weighted energy, mean of all seats */
    int n_time;                 /* moments worked out */
} gradin_flight;

/* Result arrays of a flight in the arena, for a voice beside n_background states of own noise. */
GRADIN_API gradin_status gradin_flight_alloc(gradin_arena *arena, const gradin_prepared_room *room,
                                             int n_background, gradin_flight *flight,
                                             gradin_error *error);
/* Fills a flight whose arrays are there and whose class_index and track are set; speech is left out
 * without a voice. Safe to call from several threads with BLAS held to one. */
GRADIN_API gradin_status gradin_flight_compute(const gradin_prepared_room *room,
                                               const gradin_traffic *traffic,
                                               const gradin_voice *voice, gradin_flight *flight,
                                               gradin_error *error);
/* The same of several classes on one track: those whose sources differ in level alone are heard
 * once. Each is as it would be alone, to the last few digits. */
GRADIN_API gradin_status gradin_flights_compute(const gradin_prepared_room *room,
                                                const gradin_traffic *traffic,
                                                const gradin_voice *voice,
                                                gradin_flight *const *flight, int n_flight,
                                                gradin_error *error);
/* The maxima alone, lamax_db[n_seat], much quicker. */
GRADIN_API gradin_status gradin_flight_maxima(const gradin_prepared_room *room,
                                              const gradin_traffic *traffic, int class_index,
                                              int track, double *lamax_db, gradin_error *error);

/* What of the model's envelope is not stated, and what it would add to this class on this track.
 * Sets the threads of BLAS as gradin_room_prepare() does. */
GRADIN_API gradin_status gradin_gaps_find(const gradin_model *model, const gradin_traffic *traffic,
                                          int class_index, int track, gradin_gaps *gaps,
                                          gradin_error *error);

/* Levels of one event at each moment of its window, time-weighted as its maximum is. */
typedef struct gradin_event_levels {
    int n_time, n_seat;
    double *time_s;          /* [n_time] as the track counts it; one moment: a source that stays */
    double *outside_db;      /* [n_time] A-weighted */
    double *outside_band_db; /* [n_time][GRADIN_N_BAND] */
    double *seat_db;         /* [n_seat][n_time] A-weighted */
    double *seat_band_db;    /* [n_seat][n_time][GRADIN_N_BAND] */
} gradin_event_levels;

/* Of the event's class on its track with its offset, at seat[n_seat] (indices into the model's
 * seats) and at the flight's point outside. Results into the arena. Not from several threads at
 * once. */
GRADIN_API gradin_status gradin_event_levels_compute(gradin_arena *arena,
                                                     const gradin_prepared_room *room,
                                                     const gradin_traffic *traffic,
                                                     const gradin_event *event, const int *seat,
                                                     int n_seat, gradin_event_levels *levels,
                                                     gradin_error *error);

/* gradin_noise_compute() with the field of `kept`; NULL: without. */
GRADIN_API gradin_status gradin_noise_compute_kept(gradin_arena *arena, const gradin_model *model,
                                                   const char *cache_folder, gradin_kept_room *kept,
                                                   gradin_noise *noise, gradin_error *error);

/* Traffic of one event: the pass, at time 0 with offset 0. Arrays into the arena; GRADIN_BAD_USE
 * without a point, a speed, a reference distance or air. */
GRADIN_API gradin_status gradin_pass_traffic(gradin_arena *arena, const gradin_pass *pass,
                                             gradin_traffic *traffic, gradin_error *error);

/* Lateral attenuation of ECAC Doc 29 for a source seen at elevation_deg over a ground track
 * lateral_m away, dB >= 0. */
GRADIN_API double gradin_lateral_attenuation_db(double lateral_m, double elevation_deg);
/* 10 lg(rho c/409.81): what the day's air adds to levels stated for 409.81 N s/m3. */
GRADIN_API double gradin_impedance_db(double temperature_c, double pressure_kpa);

#ifdef __cplusplus
}
#endif

#endif
