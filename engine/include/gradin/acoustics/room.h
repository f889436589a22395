/* gradin/acoustics/room.h: the hall as a room for sound: bands and surfaces.
 * Areas m2.
 *
 * Ownership and threads: Plain values and lists that belong to the model or venue that points to
 * them; any number of threads may read them. */
#ifndef GRADIN_ROOM_H
#define GRADIN_ROOM_H

#include "gradin/geometry.h"

#ifdef __cplusplus
extern "C" {
#endif

/* One-third-octave bands 50 Hz .. 5 kHz and octaves 63 Hz .. 4 kHz. */
enum { GRADIN_N_BAND = 21, GRADIN_N_OCTAVE = 7 };
/* Those that ISO 717-1 rates, 100 to 3150 Hz, within the 21. */
enum { GRADIN_BAND_100_HZ = 3, GRADIN_N_RATED_BAND = 16 };
/* Nominal mid-band (IEC 61260-1 Annex E): 50, 63, 80, ... 5000; 0 for an index outside. */
GRADIN_API int gradin_band_nominal_hz(int band);

/* How the room's own sound field is found. */
typedef enum gradin_room_method {
    GRADIN_ROOM_DIFFUSE,  /* Eyring's diffuse field */
    GRADIN_ROOM_RADIOSITY /* acoustic radiosity over patches */
} gradin_room_method;

/* What lies before the facade: nothing that reflects (or nothing stated), paving or water, grass.
 */
typedef enum gradin_ground {
    GRADIN_GROUND_NONE,
    GRADIN_GROUND_HARD,
    GRADIN_GROUND_SOFT,
    GRADIN_N_GROUND
} gradin_ground;

/* The first surfaces of a model, always there; what follows has no place in the room. */
enum {
    GRADIN_SURFACE_FLOOR,
    GRADIN_SURFACE_CEILING,
    GRADIN_SURFACE_WALL,
    GRADIN_SURFACE_SEATING,
    GRADIN_N_SURFACE
};

/* An absorbing surface of the room other than the facade's own elements. */
typedef struct gradin_surface {
    const char *name;
    double area_m2;
    double absorption[GRADIN_N_BAND]; /* 0..1 */
} gradin_surface;

/* Reverberation as measured in one layout. It scales what the room's surfaces absorb. */
typedef struct gradin_reverberation {
    double measured_s[GRADIN_N_BAND];
    double seating[GRADIN_N_BAND]; /* absorption of the seats as they were then, such as empty; NAN:
                                      as the venue states it */
    int shades;                    /* where they stood, as gradin_shade_state */
    const gradin_place *at;        /* in the layout's file, or NULL */
} gradin_reverberation;

/* What the envelope holds back, as measured at the site: its standardised level difference, or the
 * levels that give it. NANs for what is not stated, and for bands that were not measured; those
 * from 100 to 3150 Hz must be. */
typedef struct gradin_site {
    double d2m_nt_db[GRADIN_N_BAND];
    double outside_db[GRADIN_N_BAND]; /* 2 m before the facade */
    double inside_db[GRADIN_N_BAND];  /* mean of the room at the same time */
    double reverberation_s[GRADIN_N_BAND];
    bool is_shut;           /* all shades were; else all were open */
    const gradin_place *at; /* in the venue's file, or NULL */
} gradin_site;

#ifdef __cplusplus
}
#endif

#endif
