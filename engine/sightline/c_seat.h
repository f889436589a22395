/* sightline/c_seat.h: the C-value of one seat in its own plane of view. */
#ifndef GRADIN_SIGHTLINE_C_SEAT_H
#define GRADIN_SIGHTLINE_C_SEAT_H

#include "sightline/focus.h"

/* A person between the eye and the point of focus. */
typedef struct sight_person {
    int seat;
    double ahead_m, aside_m; /* from the eye along the plane of view, and off it (unsigned) */
} sight_person;

typedef struct sight_c {
    gradin_c_case c_case;
    double c_m, d_m, n_m, r_m, t_m, c_row_m, c_two_m;
    int front_seat;
} sight_c;

/* The vertical plane of view: a unit vector on plan, and the point of focus in it. */
typedef struct sight_plane {
    gradin_vec2 unit;
    double focus_ahead_m, focus_z_m;
} sight_plane;

sight_plane gradin_sight_plane(const sight_focus *focus, gradin_vec3 eye_m, double facing_deg);

/* person is scratch for [n_seat]. */
sight_c gradin_sight_c(const gradin_model *model, const sight_focus *focus, int seat,
                       sight_person *person);

#endif
