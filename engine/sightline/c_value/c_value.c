/* C-value: the height by which the ray from the rear eye to the point of focus passes above the eye
 * in front. Similar triangles in the vertical plane of view; D and R are taken at the FRONT eye.
 *
 * Method: P. Shepherd, University of Bath, worksheet "Stadium design: sightlines", 2012, and
 * "Stadium sightlines", Plus Magazine (plus.maths.org). Past the person two rows ahead the same
 * triangles hold with that person's N and T. Limits: one plane of view; the crown of a round head
 * needs somewhat more than its own height (the ray slopes). */
#include "gradin/sightline.h"

double gradin_c_value_m(double d_m, double r_m, double n_m, double t_m) {
    return d_m + t_m > 0.0 ? d_m * (n_m + r_m) / (d_m + t_m) - r_m : NAN;
}

double gradin_riser_m(double c_m, double d_m, double r_m, double t_m) {
    return d_m > 0.0 ? (r_m + c_m) * (d_m + t_m) / d_m - r_m : NAN;
}
