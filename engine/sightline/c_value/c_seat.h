/* sightline/c_value/c_seat.h: the C-value of one seat in its own plane of view. */
#ifndef GRADIN_SIGHTLINE_C_SEAT_H
#define GRADIN_SIGHTLINE_C_SEAT_H

#include "sightline/focus/focus.h"
#include "sightline/limits/plan_cross.h"

/* A person between the eye and the point of focus. */
typedef struct sight_person {
    int seat;
    double ahead_m, aside_m; /* from the eye along the plane of view, and off it to the right */
    double forward_m;        /* along the facing of the seat asked */
    bool reaches;            /* its seat reaches into the plane */
} sight_person;

/* The ray over one point of the plane of view: C and its D, N, R, T. */
typedef struct sight_over {
    double c_m, d_m, n_m, r_m, t_m;
} sight_over;
extern const sight_over SIGHT_NO_OVER; /* all NAN */

typedef struct sight_c {
    gradin_c_case c_case;
    sight_over over; /* the front person's eye */
    double c_row_m, c_two_m, window_deg;
    int front_seat;
    sight_over standing; /* wheelchair places: the eye of a person standing in the row in front */
} sight_c;

/* The vertical plane of view: a unit vector on plan, and the point of C in it. */
typedef struct sight_plane {
    gradin_vec2 unit;
    double focus_ahead_m, focus_z_m;
    int area; /* of gradin_c_point */
} sight_plane;

sight_plane gradin_sight_plane(const gradin_model *model, const sight_focus *focus,
                               gradin_vec3 eye_m, double facing_deg);

/* Height of the ray from the eye to the point of focus, ahead_m on. */
double gradin_sight_ray_m(const sight_plane *plane, gradin_vec3 eye_m, double ahead_m);
/* C over a point ahead_m along the plane at height top_m. */
sight_over gradin_sight_over(const sight_plane *plane, gradin_vec3 eye_m, double ahead_m,
                             double top_m);

/* c_line.c: part[n_area] of each area in the floor that C is measured to, in all 1; its middle on
 * plan. At most GRADIN_MAX_FOCUS areas. */
void gradin_sight_c_parts(const gradin_model *model, double *part);
gradin_vec2 gradin_sight_floor_middle(const gradin_model *model);

/* c_window.c: the free angle between the heads beside the plane in the row of `front`; person[n]
 * are all on the ray's level. */
double gradin_sight_window_deg(const gradin_seats *seats, double half_head_m, int seat,
                               const sight_person *front, const sight_person *person, int n);
/* c_aisle.c: how far the other seat is ahead along the facing of `seat`, from middle to middle, and
 * how much lies free between both places. */
double gradin_sight_forward_m(const gradin_seats *seats, int seat, int other);
double gradin_sight_free_m(const gradin_seats *seats, int seat, int other);
/* Does the row of `front` sit across an aisle or a walkway? */
bool gradin_sight_across_aisle(const gradin_model *model, const sight_plane *plane, int seat,
                               const sight_person *front);
/* c_rail.c: C over the top of the rail that the ray passes most closely; *rail its index or -1. */
sight_over gradin_sight_rail(const gradin_model *model, const sight_plane *plane, gradin_vec3 eye_m,
                             int *rail);

/* person is scratch for [n_seat]. */
sight_c gradin_sight_c(const gradin_model *model, const sight_plane *plane, int seat,
                       sight_person *person);

#endif
