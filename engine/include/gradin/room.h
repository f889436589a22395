/* gradin/room.h: the hall as a room for sound: bands, surfaces, and an arch that divides it.
 * Lengths m. */
#ifndef GRADIN_ROOM_H
#define GRADIN_ROOM_H

#include "gradin/geometry.h"

#ifdef __cplusplus
extern "C" {
#endif

/* One-third-octave bands 50 Hz .. 5 kHz and octaves 63 Hz .. 4 kHz. */
enum { GRADIN_N_BAND = 21, GRADIN_N_OCTAVE = 7 };
/* Nominal mid-band (IEC 61260-1 Annex E): 50, 63, 80, ... 5000; 0 for an index outside. */
GRADIN_API int gradin_band_nominal_hz(int band);

/* How the room's own sound field is found. */
typedef enum gradin_room_method {
    GRADIN_ROOM_DIFFUSE,  /* Eyring's diffuse field */
    GRADIN_ROOM_RADIOSITY /* acoustic radiosity over patches */
} gradin_room_method;

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

/* The arch when it is in: it divides the room into two along its line. Side 0 lies left of the line
 * from its first to its second end, side 1 right of it. */
typedef struct gradin_divide {
    const char *name, *side_name[2]; /* "arch"; "north", "south" */
    gradin_vec2 line_m[2];
    double section_m2, opening_m2; /* of the room at the line; what is open below the header */
    const char *closing_name;      /* NULL without a closing element */
    double closed;                 /* 0 up .. 1 down */
    double closing_r_db[GRADIN_N_BAND], closing_absorption[GRADIN_N_BAND];
} gradin_divide;

/* Side on which a plan point lies; 0 when nothing divides the room. */
GRADIN_API int gradin_divide_side(const gradin_divide *divide, gradin_vec2 at_m);

#ifdef __cplusplus
}
#endif

#endif
