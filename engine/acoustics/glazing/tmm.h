/* acoustics/glazing/tmm.h: transmission of plane waves through a stack, and its diffuse average.
 * Angles of incidence are given by the square of their sine, counted from the normal; what runs
 * along a pane slower than sound in air has a sine above 1. */
#ifndef GRADIN_GLAZING_TMM_H
#define GRADIN_GLAZING_TMM_H

#include "acoustics/glazing/stack.h"
#include "gradin/acoustics/glazing.h"

enum { GLAZING_N_ANGLE = 64 };

/* Finite size of a pane, by band and sine; finite.c. */
typedef struct glazing_spatial_window {
    double width_m, height_m;
    double most[GRADIN_N_BAND]; /* largest sine of the tables */
    double sigma[GRADIN_N_BAND][2 * GLAZING_N_ANGLE + 1];
    double weight[GRADIN_N_BAND][2 * GLAZING_N_ANGLE + 1];
} glazing_spatial_window;

typedef struct glazing_share {
    double sigma;      /* radiation efficiency */
    double weight;     /* in diffuse incidence, of the pane's own transmission, by sine squared */
    double z_air_pasm; /* radiation impedance */
} glazing_share;

/* How waves and edges are taken; mounting.c says what each value stands for. Without a window the
 * layers have neither end nor edge. */
struct glazing_method {
    double limit_deg; /* largest angle of incidence of the diffuse field on endless layers */
    const glazing_spatial_window
        *window;          /* of a pane with a size, which replaces limit_deg, or NULL */
    double mount_knee;    /* edges take in all bending waves up to this many times fc */
    double rim;           /* how far edges are clamped: 1 clamped, 0.5 hinged */
    double edge_gain;     /* on what edges radiate: 1 hinged and flush .. 4 clamped and deep */
    double lateral_pasm2; /* flow resistivity of a gap along the panes */
    double gap_loss;      /* loss factor of the gas */
    double coupling;      /* of panes held together: share at k d = 1 */
    double coupling_most; /* largest share */
    double tolerance;     /* of the integral over the angles, relative */
    bool is_shaded;       /* air behind the panes counts as a gap, even with nothing behind it */
    int n_frequency;      /* in a third octave */
};

/* Endless layers up to the limiting angle of field incidence. */
extern const glazing_method gradin_glazing_method;

/* mounting.c: loss factor by the edges of a bending wave that meets coincidence at sine2. */
double gradin_mount_loss(const glazing_method *method, double sine2, double f_hz);
/* mounting.c: the method for a build-up as it is held, in a window. */
glazing_method gradin_glazing_mounted(const gradin_buildup *buildup,
                                      const glazing_spatial_window *window);
/* predict.c: R of the layers of a build-up. */
gradin_status gradin_glazing_predict(const gradin_buildup *buildup, const glazing_method *method,
                                     double *r_db, gradin_error *error);
/* R of a build-up in a window; a measured one as measured. */
gradin_status gradin_glazing_r_in_window(const gradin_buildup *buildup,
                                         const glazing_spatial_window *window, double *r_db,
                                         gradin_error *error);
/* Window of the standard sample, made once. */
const glazing_spatial_window *gradin_glazing_sample(void);
/* Perimeter over area. */
double gradin_glazing_rim_1m(const glazing_spatial_window *window);

/* A wave along the layers: its wavenumber and the impedance of the air on both sides. */
typedef struct glazing_wave {
    double kx_radm, z_air_pasm;
} glazing_wave;

/* Of endless layers. */
static inline glazing_wave gradin_glazing_endless(double f_hz, double sine2) {
    return (glazing_wave){2.0 * GRADIN_PI * f_hz / GRADIN_AIR_SPEED_MS * sqrt(sine2),
                          GRADIN_AIR_DENSITY_KGM3 * GRADIN_AIR_SPEED_MS / sqrt(1.0 - sine2)};
}

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
double gradin_glazing_tau_tuned(const glazing_stack *tuned, glazing_span span, glazing_wave wave);

/* layered.c: the same for any order of parts, as one banded linear system. */
double gradin_glazing_tau_layered(const glazing_stack *tuned, glazing_wave wave);

/* Mean at diffuse incidence, without the path over the edge. */
double gradin_glazing_tau_diffuse(const glazing_stack *stack, const glazing_method *method,
                                  double f_hz);
double gradin_glazing_tuned_diffuse(const glazing_stack *tuned, glazing_span span,
                                    const glazing_method *method);

/* All paths, mean over the third octave about mid_hz. */
double gradin_glazing_tau_band(const glazing_stack *stack, const glazing_method *method,
                               double mid_hz);

/* Mean of the pane's own transmission, tau over sigma squared, between two sines squared, without
 * weight: what a wave of about that angle meets. */
double gradin_glazing_tuned_mean(const glazing_stack *tuned, glazing_span span,
                                 const glazing_method *method, double from, double to);
/* The part of gradin_glazing_tuned_diffuse() that runs slower than sound in air. */
double gradin_glazing_tuned_slow(const glazing_stack *tuned, glazing_span span,
                                 const glazing_method *method);

/* Radiation efficiency of a rectangle that a wave of wavenumber k s runs along, mean over all
 * directions on it. */
double gradin_glazing_sigma(double width_m, double height_m, double k_radm, double s);
void gradin_glazing_spatial_window_make(double width_m, double height_m,
                                        glazing_spatial_window *window);
/* Between the values of the tables. */
glazing_share gradin_glazing_spatial_window_at(const glazing_spatial_window *window, int band,
                                               double s2);

/* oblique.c: as gradin_oblique_make(), scaled to a diffuse mean of 1 and without what depends on
 * the direction along the pane. */
gradin_status gradin_oblique_shape(const gradin_buildup *buildup, double width_m, double height_m,
                                   gradin_oblique *oblique, gradin_error *error);

#endif
