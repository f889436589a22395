/* acoustics/glazing/stack.h: a build-up made ready for the plane-wave methods: its layers in parts
 * that sound meets one after the other. Fixed size, no heap. */
#ifndef GRADIN_GLAZING_STACK_H
#define GRADIN_GLAZING_STACK_H

#include "gradin/acoustics.h"

#include <complex.h>

enum { GLAZING_MAX_LAYER = 24, GLAZING_MAX_PLY = 12 };

/* Plates with one interlayer between two of them, as one plate in bending. */
typedef struct glazing_panel {
    int n_ply;
    double mass_kgm2;                           /* plates and interlayers */
    double turn_kg;                             /* sum rho h3/12 of the plies: rotatory inertia */
    double complex bend_nm;                     /* sum of the plies' own bending stiffness */
    double complex shear_nm;                    /* sum kappa G h of the plies */
    double ply_kgm2[GLAZING_MAX_PLY];           /* [n_ply] */
    double complex stretch_nm[GLAZING_MAX_PLY]; /* [n_ply] E h/(1 - nu2), in-plane */
    double complex slip_m3n[GLAZING_MAX_PLY];   /* [n_ply - 1] h/G of the interlayer behind a ply */
    double lever_m[GLAZING_MAX_PLY];            /* [n_ply - 1] between mid-planes of two plies */
} glazing_panel;

/* Gas, or the equivalent fluid of a porous layer, at one frequency. */
typedef struct glazing_fluid {
    double thickness_m;
    double complex inertia_pasm2; /* w rho */
    double complex k2_1m2;        /* square of the wavenumber */
    double complex lighter;       /* rho over the density that acts along the layer */
    bool is_open;                 /* to the room */
} glazing_fluid;

/* An elastic layer in full, at one frequency. */
typedef struct glazing_solid {
    double thickness_m, density_kgm3;
    double complex lame_pa, shear_pa; /* lambda, mu */
} glazing_solid;

/* What the edges of a pane take from a wave that is forced on it; nothing until tuned. */
typedef struct glazing_edges {
    double rim_pasm;  /* pressure over velocity */
    double free4_1m4; /* fourth power of the pane's free wavenumber */
} glazing_edges;

typedef enum glazing_part_kind {
    GLAZING_PANEL,
    GLAZING_FLUID,
    GLAZING_SHEET,
    GLAZING_SOLID /* one layer of a run of plates and interlayers that is no panel */
} glazing_part_kind;

typedef struct glazing_part {
    glazing_part_kind kind;
    int layer;           /* its first */
    double run_kgm2;     /* mass of the panel, or of all solids glued together here */
    double run_nm;       /* bending stiffness of all solids glued together, as one plate */
    glazing_edges edges; /* of a panel, or of solids glued together, in each of them */
    union {              /* by kind; a panel without slip, the others empty, until tuned */
        glazing_panel panel;
        glazing_fluid fluid;
        glazing_solid solid;
        double complex series_pasm; /* sheet: pressure over velocity across it */
    };
} glazing_part;

typedef struct glazing_stack {
    int n_layer, n_part, n_panel;
    bool is_chain;        /* no solids: products of 2x2 matrices do */
    double temperature_c; /* of the interlayers */
    double f_hz;          /* that it is tuned to; 0 before */
    gradin_layer layer[GLAZING_MAX_LAYER];
    glazing_part part[GLAZING_MAX_LAYER];
} glazing_stack;

/* Settings of the method; tmm.h. */
typedef struct glazing_method glazing_method;

/* Checks the layers and fills the stack; GRADIN_BAD_USE without layers or with NULL,
 * GRADIN_BAD_INPUT for more than GLAZING_MAX_LAYER or values that the method does not cover. */
gradin_status gradin_glazing_stack(const gradin_buildup *buildup, glazing_stack *stack,
                                   gradin_error *error);

/* Everything that depends on the frequency: interlayers, fluids, sheets, edge losses. The tuned
 * stack has no layers. */
void gradin_glazing_tune(const glazing_stack *stack, const glazing_method *method, double f_hz,
                         glazing_stack *tuned);

/* The i-th panel, from the outside. */
const glazing_panel *gradin_glazing_panel_at(const glazing_stack *stack, int i);

/* Pressure over deflection, N/m3, with which a panel at the wavenumber kx along it and the angular
 * frequency w resists, its own mass left out. */
double complex gradin_glazing_stiffness(const glazing_panel *panel, double kx_radm, double w);

/* sine2 at which the trace of the incident wave runs along with the panel's free bending wave;
 * above 1 below the critical frequency, INFINITY for a limp panel. The panel of a tuned stack. */
double gradin_glazing_coincidence(const glazing_panel *panel, double f_hz);

/* All of rim_pasm well below the free wavenumber, nothing from there on: the wave is the free one.
 */
static inline double gradin_glazing_rim(const glazing_edges *edges, double kx_radm) {
    if (!(edges->rim_pasm > 0.0)) return 0.0;
    double kx2 = kx_radm * kx_radm;
    return edges->rim_pasm * fmax(1.0 - kx2 * kx2 / edges->free4_1m4, 0.0);
}

/* Square of the wavenumber along a fluid. One that is open to the room has that of air whose wave
 * impedance is z_air: the room's radiation knows the pane's size, and so must the air before it. */
static inline double gradin_glazing_along(const glazing_fluid *fluid, double kx_radm, double w,
                                          double z_air_pasm) {
    if (!fluid->is_open) return kx_radm * kx_radm;
    double k = w / GRADIN_AIR_SPEED_MS, kz = w * GRADIN_AIR_DENSITY_KGM3 / z_air_pasm;
    return k * k - kz * kz;
}

/* Shear correction kappa of a thick plate. */
double gradin_glazing_kappa(double poisson);

/* 1/z, faster than C's own division, which looks after infinities. */
static inline double complex gradin_reciprocal(double complex z) {
    return conj(z) / (creal(z) * creal(z) + cimag(z) * cimag(z));
}

/* A square root of z, either one, likewise. */
static inline double complex gradin_either_root(double complex z) {
    double real = creal(z), imaginary = cimag(z);
    double size = sqrt(real * real + imaginary * imaginary);
    double large = sqrt(0.5 * (size + fabs(real))),
           small = large > 0.0 ? 0.5 * imaginary / large : 0.0;
    return real >= 0.0 ? large + I * small : small + I * large;
}

/* prony.c: complex shear modulus, Pa. */
double complex gradin_relaxation_shear_pa(const gradin_relaxation *relaxation, double f_hz,
                                          double temperature_c);

/* porous.c: inertia_pasm2 and k2_1m2 of a porous layer. */
void gradin_porous_fluid(double resistivity_pasm2, double f_hz, glazing_fluid *fluid);

#endif
