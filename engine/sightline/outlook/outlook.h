/* sightline/outlook/outlook.h: open glass, the envelope round it as occluders, and who looks
 * through. */
#ifndef GRADIN_SIGHTLINE_OUTLOOK_H
#define GRADIN_SIGHTLINE_OUTLOOK_H

#include "gradin/studies/outlook.h"
#include "sightline/focus/focus.h"

/* solid_angle.c: steradians that a plane convex polygon of n corners fills before the eye, as far
 * as it lies ahead of the plane through the eye with that unit normal. n at most 8. */
double outlook_solid_angle_sr(gradin_vec3 eye_m, gradin_vec3 ahead, const gradin_vec3 *corner_m,
                              int n);

/* open_glass.c: a rectangle of an element that lets see through, from (along, up)[0] to [1] in its
 * own plane. */
typedef struct outlook_hole {
    const gradin_element *element;
    double along_m[2], up_m[2];
} outlook_hole;

gradin_vec3 outlook_hole_point_m(const outlook_hole *hole, double along, double up); /* 0..1 */

typedef struct outlook_glass {
    outlook_hole *hole; /* [n_hole] */
    int n_hole, n_leaning;
    double glass_m2, open_m2;
} outlook_glass;

/* False when out of memory. */
bool outlook_open_glass(gradin_arena *arena, const gradin_model *model, bool are_shades_up,
                        outlook_glass *glass);

/* cut.c: what is left of an outline when holes are cut out, in strips with two sides along y. */
typedef struct outlook_strip {
    double x[2], low[2], high[2];
} outlook_strip;

typedef struct outlook_quad {
    gradin_vec2 corner_m[4];
} outlook_quad;

/* Holes may overlap each other and reach beyond the outline. False when out of memory. */
bool outlook_cut(gradin_arena *arena, gradin_polygon outline, const outlook_quad *hole, int n_hole,
                 outlook_strip **strip, int *n_strip);

/* shell.c: the model's occluders and the walls and roof round the open glass, down to lowest_m.
 * False when out of memory. */
bool outlook_scene(gradin_arena *arena, const gradin_model *model, const outlook_glass *glass,
                   double lowest_m, gradin_scene *scene);

/* What the parts below share. */
typedef struct outlook_job {
    const gradin_model *model;
    const outlook_glass *glass;
    const gradin_mask_scene *mask_scene;
    int n_thread;
    gradin_outlook *out;
} outlook_job;

/* seats.c, stage.c, people.c: each fills its part of the result. False when out of memory. */
bool outlook_seats(const outlook_job *job);
bool outlook_stage(gradin_arena *arena, const outlook_job *job, const sight_focus *focus);
bool outlook_people(const outlook_job *job);

#endif
