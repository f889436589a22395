/* acoustics/glazing/tmm.h: transmission of plane waves through a stack, and its diffuse average.
 * Angles of incidence are given by the square of their sine, counted from the normal. */
#ifndef GRADIN_GLAZING_TMM_H
#define GRADIN_GLAZING_TMM_H

#include "acoustics/glazing/stack.h"

enum { GLAZING_N_ANGLE = 96 };

/* Finite size of a pane: sigma cos theta by band and angle; finite.c. */
typedef struct glazing_spatial_window {
    double width_m, height_m;
    double factor[GRADIN_N_BAND][GLAZING_N_ANGLE + 1]; /* at cos theta = (i/N)^2 */
} glazing_spatial_window;

/* One choice for every build-up; band.c says what each value stands for. */
struct glazing_method {
    double limit_deg; /* largest angle of incidence of the diffuse field */
    const glazing_spatial_window
        *window;          /* of a pane with a size, which replaces limit_deg, or NULL */
    double lateral_pasm2; /* flow resistivity of a gap along the panes */
    double gap_loss;      /* loss factor of the gas */
    double edge_share;    /* power that the common edge of a sealed unit passes on, 0..1 */
    double edge_gap_m;    /* widest gap of a sealed unit; beyond it the share falls as 1/gap^2 */
    double tolerance;     /* of the integral over the angles, relative */
    int n_frequency;      /* in a third octave */
};

extern const glazing_method gradin_glazing_method;

/* Power transmitted over power incident, 0 to 1. A stack of no part passes everything. NAN when
 * LAPACK finds no solution. */
double gradin_glazing_tau(const glazing_stack *stack, const glazing_method *method, double sine2,
                          double f_hz);

/* Parts first .. end - 1 of a stack. */
typedef struct glazing_span {
    int first, end;
} glazing_span;

static inline glazing_span gradin_glazing_all(const glazing_stack *stack) {
    return (glazing_span){0, stack->n_part};
}

/* The same of some parts of a tuned stack by matrices when it is a chain; else of all of them by
 * layered.c. */
double gradin_glazing_tau_tuned(const glazing_stack *tuned, glazing_span span, double sine2);

/* layered.c: the same for any order of parts, as one banded linear system. */
double gradin_glazing_tau_layered(const glazing_stack *tuned, double sine2);

/* sine2 at which the trace of the incident wave runs along with the panel's free bending wave;
 * above 1 below the critical frequency, INFINITY for a limp panel. The panel of a tuned stack. */
double gradin_glazing_coincidence(const glazing_panel *panel, double f_hz);

/* Mean at diffuse incidence, without the path over the edge. */
double gradin_glazing_tau_diffuse(const glazing_stack *stack, const glazing_method *method,
                                  double f_hz);
double gradin_glazing_tuned_diffuse(const glazing_stack *tuned, glazing_span span,
                                    const glazing_method *method);

/* All paths, mean over the third octave about mid_hz. */
double gradin_glazing_tau_band(const glazing_stack *stack, const glazing_method *method,
                               double mid_hz);

/* Radiation efficiency of a rectangle that a wave of wavenumber k sin(theta) runs along, mean over
 * all directions on it. */
double gradin_glazing_sigma(double width_m, double height_m, double k_radm, double sine);
void gradin_glazing_spatial_window_make(double width_m, double height_m,
                                        glazing_spatial_window *window);
/* sigma cos theta, between the values of the table. */
double gradin_glazing_spatial_window_factor(const glazing_spatial_window *window, int band,
                                            double sine2);

#endif
