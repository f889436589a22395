/* glazing/tmm.h: transmission of plane waves through a stack, and its diffuse average. */
#ifndef GRADIN_GLAZING_TMM_H
#define GRADIN_GLAZING_TMM_H

#include "acoustics/glazing/stack.h"

/* One choice for every build-up; see diffuse.c for what each value stands for. */
typedef struct glazing_method {
    double limit_deg;         /* largest angle of incidence of the diffuse field */
    double lateral_pasm2;     /* flow resistivity of a gap along the panes */
    double edge_share;        /* of the panes' resonant energy that a common edge passes on */
    double edge_gap_m;        /* widest gap of a sealed unit; beyond it the share falls as 1/gap2 */
    int n_angle, n_frequency; /* nodes: least of angle, frequencies a third octave */
} glazing_method;

extern const glazing_method gradin_glazing_method;

/* Power transmitted at the incidence theta (from the normal) over power incident, 0 to 1. A stack
 * of no panel passes everything. */
double gradin_glazing_tau(const glazing_stack *stack, double lateral_pasm2, double theta_rad,
                          double f_hz);

/* The same at diffuse incidence up to limit_deg at one frequency, without the edge path. */
double gradin_glazing_tau_diffuse(const glazing_stack *stack, const glazing_method *method,
                                  double f_hz);

/* Mean over the third octave about mid_hz of all paths. */
double gradin_glazing_tau_band(const glazing_stack *stack, const glazing_method *method,
                               double mid_hz);

#endif
