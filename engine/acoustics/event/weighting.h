/* event/weighting.h: exponential time weighting of a mean square over time. */
#ifndef GRADIN_EVENT_WEIGHTING_H
#define GRADIN_EVENT_WEIGHTING_H

#include "gradin/model.h"

/* Time constant; 0 without weighting. */
double gradin_weighting_s(gradin_time_weighting weighting);

/* Moments of a mean square, straight in between; one moment stands for hold_s. */
typedef struct gradin_steps {
    int n;
    const double *time_s; /* [n] rising */
    double hold_s;
} gradin_steps;

/* The largest weighted mean square, reached into_s after the moment `step`. */
typedef struct gradin_peak {
    double square;
    int step;
    double into_s;
} gradin_peak;

/* y at the end of a step from x0 to x1, tau_s > 0. */
double gradin_weighted_after(double y0, double x0, double x1, double length_s, double tau_s);

/* Of square[n]; tau_s 0: the largest of them. */
gradin_peak gradin_weighted_peak(const gradin_steps *steps, const double *square, double tau_s);

/* share[n]: how much of each moment's mean square stands in the weighted one at the peak. */
void gradin_weighted_shares(const gradin_steps *steps, gradin_peak peak, double tau_s,
                            double *share);

/* square[n] becomes the weighted one at each moment; tau_s 0 leaves it. */
void gradin_weighted_course(const gradin_steps *steps, double tau_s, double *square);

#endif
