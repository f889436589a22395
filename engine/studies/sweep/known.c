/* Figures and their bounds. */
#include "studies/sweep/sweep.h"

gradin_known sweep_certain(double value) {
    return (gradin_known){value, value, value};
}

gradin_known sweep_between(double at_low, double value, double at_high) {
    return (gradin_known){value, fmin(fmin(at_low, at_high), value),
                          fmax(fmax(at_low, at_high), value)};
}
