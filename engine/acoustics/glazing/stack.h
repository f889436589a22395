/* acoustics/glazing/stack.h: a build-up made ready for the transfer matrices: panels (a plate, or
 * plates and interlayers glued to one) with gas gaps between them. Fixed size, no heap. */
#ifndef GRADIN_GLAZING_STACK_H
#define GRADIN_GLAZING_STACK_H

#include "gradin/acoustics.h"

#include <complex.h>

enum { GLAZING_MAX_LAYER = 16, GLAZING_MAX_PLY = 8 };

typedef struct glazing_panel {
    int n_ply;
    double mass_kgm2;                         /* plates and interlayers */
    double complex bend_nm;                   /* sum of the plies' own bending stiffness */
    double complex flex_mn[GLAZING_MAX_PLY];  /* [n_ply] 1/(E h/(1 - nu2)), in-plane */
    double complex slip_m3n[GLAZING_MAX_PLY]; /* [n_ply - 1] h/G of the interlayer behind a ply */
    double lever_m[GLAZING_MAX_PLY];          /* [n_ply - 1] between mid-planes of two plies */
} glazing_panel;

typedef struct glazing_gap {
    double thickness_m, density_kgm3, speed_ms;
} glazing_gap;

typedef struct glazing_stack {
    int n_panel;
    glazing_panel panel[GLAZING_MAX_PLY];
    glazing_gap gap[GLAZING_MAX_PLY]; /* [n_panel - 1] gap[i] lies behind panel[i] */
} glazing_stack;

/* Checks the layers and fills the stack; GRADIN_BAD_USE without layers or with NULL,
 * GRADIN_BAD_INPUT for layers in an order or with values that the method does not cover. */
gradin_status gradin_glazing_stack(const gradin_buildup *buildup, glazing_stack *stack,
                                   gradin_error *error);

/* Complex bending stiffness of a panel at the wavenumber kx along it, without edge losses. */
double complex gradin_glazing_stiffness(const glazing_panel *panel, double kx_radm);

#endif
