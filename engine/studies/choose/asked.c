/* Figures as they are known: a value, its bounds, and what it would be were its doubt off by up to
 * three standard deviations. */
#include "studies/choose/choose.h"

static const int middle = GRADIN_N_SHIFT / 2;

gradin_asked choose_certain(double value) {
    gradin_asked f = {.value = value, .low = value, .high = value};
    for (int k = 0; k < GRADIN_N_SHIFT; k++) f.at[k] = value;
    return f;
}

gradin_asked choose_no_figure(void) {
    return choose_certain(NAN);
}

gradin_asked choose_between(gradin_doubt doubt, double at_low, double value, double at_high) {
    gradin_asked f = {.value = value,
                      .low = fmin(fmin(at_low, at_high), value),
                      .high = fmax(fmax(at_low, at_high), value),
                      .doubt = doubt};
    for (int k = 0; k < GRADIN_N_SHIFT; k++) {
        double share = (double)(k - middle) / middle, end = share < 0.0 ? at_low : at_high;
        f.at[k] = value + fabs(share) * (end - value);
    }
    return f;
}

double choose_at(const gradin_asked *figure, double shift) {
    double place = fmin(fmax(shift + CHOOSE_ENDS, 0.0), 2.0 * CHOOSE_ENDS);
    double step = place / (2.0 * CHOOSE_ENDS) * (GRADIN_N_SHIFT - 1);
    int k = (int)fmin(step, GRADIN_N_SHIFT - 2);
    return figure->at[k] + (step - k) * (figure->at[k + 1] - figure->at[k]);
}
