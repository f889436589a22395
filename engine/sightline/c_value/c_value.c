/* C-value: the height by which the ray from the rear eye to the point of focus passes above the eye
 * in front. Similar triangles in the vertical plane of view; D and R are taken at the FRONT eye.
 *
 * Method: P. Shepherd, University of Bath, worksheet "Stadium design: sightlines", 2012, and
 * "Stadium sightlines", Plus Magazine (plus.maths.org); the two-row form by the same triangles with
 * two risers and two depths. Limits: one plane of view, equal risers and depths in the two-row
 * form; the crown of a round head needs somewhat more than its own height (the ray slopes). */
#include "gradin/sightline.h"

/* C of a ray over a person who sits n_m below and t_m in front of the eye. */
static double pass_height(double d_m, double r_m, double n_m, double t_m) {
    return d_m + t_m > 0.0 ? d_m * (n_m + r_m) / (d_m + t_m) - r_m : NAN;
}

/* Height of the rear eye above the front one that gives c_m. */
static double rise_for(double c_m, double d_m, double r_m, double t_m) {
    return d_m > 0.0 ? (r_m + c_m) * (d_m + t_m) / d_m - r_m : NAN;
}

double gradin_c_value_m(double d_m, double r_m, double n_m, double t_m) {
    return pass_height(d_m, r_m, n_m, t_m);
}

double gradin_riser_m(double c_m, double d_m, double r_m, double t_m) {
    return rise_for(c_m, d_m, r_m, t_m);
}

double gradin_c_value_two_rows_m(double d_m, double r_m, double n_m, double t_m) {
    return pass_height(d_m, r_m, 2.0 * n_m, 2.0 * t_m);
}

double gradin_riser_two_rows_m(double c_m, double d_m, double r_m, double t_m) {
    return 0.5 * rise_for(c_m, d_m, r_m, 2.0 * t_m);
}
