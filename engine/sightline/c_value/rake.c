/* A rake of many rows from the C-value formula (c_value.c): eye heights of a constant-C rake by the
 * recurrence R' = (R + C)(D + T)/D, D' = D + T. */
#include "gradin/sightline.h"

void gradin_rake_constant_c(double d_1_m, double r_1_m, double t_m, double c_m, int n_row,
                            double *r_m) {
    double r = r_1_m;
    for (int i = 0; i < n_row; i++) {
        double d = d_1_m + i * t_m;
        r_m[i] = r;
        r += gradin_riser_m(c_m, d, r, t_m);
    }
}
