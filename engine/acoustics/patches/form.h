/* patches/form.h: rectangles that exchange diffuse sound, and their form factors. */
#ifndef GRADIN_PATCHES_FORM_H
#define GRADIN_PATCHES_FORM_H

#include "gradin/base.h"

/* A rectangle that radiates to the side of its normal; along_m and up_m are its edges. */
typedef struct gradin_rectangle {
    gradin_vec3 corner_m, along_m, up_m;
    gradin_vec3 normal; /* unit */
} gradin_rectangle;

double gradin_rectangle_m2(const gradin_rectangle *r);
/* How far the corner of r that is farthest before the plane of `of` lies before it. */
double gradin_rectangle_before_m(const gradin_rectangle *of, const gradin_rectangle *r);
double gradin_rectangle_radius_m(const gradin_rectangle *r); /* middle to corner */
/* Point at fractions u along and v up. */
gradin_vec3 gradin_rectangle_at_m(const gradin_rectangle *r, double u, double v);

/* Form factor of a small surface at at_m with that normal to the front of the rectangle, 0..1. */
double gradin_form_point(gradin_vec3 at_m, gradin_vec3 normal, const gradin_rectangle *to);
/* A_a F_ab = A_b F_ba of two unhidden rectangles, m2. */
double gradin_form_exchange_m2(const gradin_rectangle *a, const gradin_rectangle *b);
/* Solid angle of the front of the rectangle, sr; 0 from behind. */
double gradin_rectangle_seen_sr(gradin_vec3 from_m, const gradin_rectangle *r);

#endif
