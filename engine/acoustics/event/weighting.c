/* Exponential time weighting of the mean square of an event (IEC 61672-1: F 125 ms, S 1 s).
 *
 * (1) tau dy/dt = x - y, solved exactly for an x that is straight between the moments, which is
 * what the exposure's trapezoids take it for: over a step h from x0 to x1, with s = (x1 - x0)/h,
 * (2) y(t) = x0 + s t - s tau + (y0 - x0 + s tau) e^(-t/tau). A maximum within the step lies where
 * y = x. A source on its way was there before its track begins, so y starts settled; one that
 * stays in its place starts from silence: y = x (1 - e^(-T/tau)) after T. */
#include "acoustics/event/weighting.h"

double gradin_weighting_s(gradin_time_weighting weighting) {
    static const double tau_s[GRADIN_N_WEIGHTING] = {0.0, 0.125, 1.0};
    return tau_s[weighting];
}

/* y after a step = left y0 + early x0 + late x1. */
typedef struct step {
    double left, early, late;
} step;

static step step_of(double length_s, double tau_s) {
    double u = length_s / tau_s, mean = u > 0.0 ? -expm1(-u) / u : 1.0;
    return (step){exp(-u), mean - exp(-u), 1.0 - mean};
}

double gradin_weighted_after(double y0, double x0, double x1, double length_s, double tau_s) {
    step s = step_of(length_s, tau_s);
    return s.left * y0 + s.early * x0 + s.late * x1; /* (2) */
}

/* Time into the step at which y is largest within it, y = x by (1), or length_s. */
static double top_s(double y0, double x0, double x1, double length_s, double tau_s) {
    double lag = (x1 - x0) / length_s * tau_s, off = y0 - x0 + lag;
    if (!(lag < 0.0) || !(off < lag)) return length_s;
    return fmin(tau_s * log(off / lag), length_s);
}

static gradin_peak held_peak(const gradin_steps *steps, const double *square, double tau_s) {
    double rise = tau_s > 0.0 ? -expm1(-steps->hold_s / tau_s) : 1.0;
    return (gradin_peak){rise * square[0], 0, 0.0};
}

gradin_peak gradin_weighted_peak(const gradin_steps *steps, const double *square, double tau_s) {
    if (steps->n == 1) return held_peak(steps, square, tau_s);
    gradin_peak peak = {square[0], 0, 0.0};
    double y = square[0];
    for (int i = 0; i + 1 < steps->n; i++) {
        double length_s = steps->time_s[i + 1] - steps->time_s[i];
        if (!(tau_s > 0.0)) {
            if (square[i + 1] > peak.square) peak = (gradin_peak){square[i + 1], i, length_s};
            continue;
        }
        double at_s = top_s(y, square[i], square[i + 1], length_s, tau_s);
        double x = square[i] + (square[i + 1] - square[i]) * at_s / length_s;
        double most = gradin_weighted_after(y, square[i], x, at_s, tau_s);
        if (most > peak.square) peak = (gradin_peak){most, i, at_s};
        y = gradin_weighted_after(y, square[i], square[i + 1], length_s, tau_s);
    }
    return peak;
}

void gradin_weighted_shares(const gradin_steps *steps, gradin_peak peak, double tau_s,
                            double *share) {
    for (int i = 0; i < steps->n; i++) share[i] = 0.0;
    if (steps->n == 1) {
        share[0] = tau_s > 0.0 ? -expm1(-steps->hold_s / tau_s) : 1.0;
        return;
    }
    double length_s = steps->time_s[peak.step + 1] - steps->time_s[peak.step];
    double part = peak.into_s / length_s, left = 1.0;
    if (tau_s > 0.0) {
        step last = step_of(peak.into_s, tau_s);
        share[peak.step] = last.early + last.late * (1.0 - part);
        share[peak.step + 1] = last.late * part;
        left = last.left;
    } else {
        share[peak.step] = 1.0 - part;
        share[peak.step + 1] = part;
        return;
    }
    for (int i = peak.step - 1; i >= 0; i--) {
        step s = step_of(steps->time_s[i + 1] - steps->time_s[i], tau_s);
        share[i] += left * s.early;
        share[i + 1] += left * s.late;
        left *= s.left;
    }
    share[0] += left;
}

void gradin_weighted_course(const gradin_steps *steps, double tau_s, double *square) {
    if (!(tau_s > 0.0)) return;
    if (steps->n == 1) {
        square[0] *= -expm1(-steps->hold_s / tau_s);
        return;
    }
    double before = square[0], y = before;
    for (int i = 1; i < steps->n; i++) {
        y = gradin_weighted_after(y, before, square[i], steps->time_s[i] - steps->time_s[i - 1],
                                  tau_s);
        before = square[i];
        square[i] = y;
    }
}
