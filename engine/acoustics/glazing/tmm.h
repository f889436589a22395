/* acoustics/glazing/tmm.h: transmission of plane waves through a stack, and its diffuse average.
 * Angles of incidence are given by the square of their sine, counted from the normal. */
#ifndef GRADIN_GLAZING_TMM_H
#define GRADIN_GLAZING_TMM_H

#include "acoustics/glazing/stack.h"

/* One choice for every build-up; band.c says what each value stands for. */
typedef struct glazing_method {
    double limit_deg;     /* largest angle of incidence of the diffuse field */
    double lateral_pasm2; /* flow resistivity of a gap along the panes */
    double gap_loss;      /* loss factor of the gas */
    double edge_share;    /* power that the common edge of a sealed unit passes on, 0..1 */
    double edge_gap_m;    /* widest gap of a sealed unit; beyond it the share falls as 1/gap^2 */
    double tolerance;     /* of the integral over the angles, relative */
    int n_frequency;      /* in a third octave */
} glazing_method;

extern const glazing_method gradin_glazing_method;

/* Power transmitted over power incident, 0 to 1. A stack of no panel passes everything. */
double gradin_glazing_tau(const glazing_stack *stack, const glazing_method *method, double sine2,
                          double f_hz);

/* sine2 at which the trace of the incident wave runs along with the panel's free bending wave;
 * above 1 below the critical frequency, INFINITY for a limp panel. */
double gradin_glazing_coincidence(const glazing_panel *panel, double f_hz);

/* Mean at diffuse incidence up to the limiting angle, without the path over the edge. */
double gradin_glazing_tau_diffuse(const glazing_stack *stack, const glazing_method *method,
                                  double f_hz);

/* All paths, mean over the third octave about mid_hz. */
double gradin_glazing_tau_band(const glazing_stack *stack, const glazing_method *method,
                               double mid_hz);

#endif
