/* tests/support/finite_sigma.c: radiation efficiency of a rectangle for the check against NumPy.
 * Answers every line WIDTH HEIGHT K SINE of standard input by sigma. */
#include "acoustics/glazing/tmm.h"

#include <stdio.h>

int main(void) {
    double width_m, height_m, k_radm, sine;
    while (scanf("%lf %lf %lf %lf", &width_m, &height_m, &k_radm, &sine) == 4)
        printf("%.17g\n", gradin_glazing_sigma(width_m, height_m, k_radm, sine));
    return 0;
}
