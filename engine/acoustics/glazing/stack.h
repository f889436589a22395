/* glazing/stack.h: a build-up as a chain of panels and gaps, and its transmission of one plane
 * wave. */
#ifndef GRADIN_GLAZING_STACK_H
#define GRADIN_GLAZING_STACK_H

#include <complex.h>

#include "gradin/acoustics.h"

enum { GRADIN_MAX_LAYER = 16 };

/* A gap, or one panel: a plate, or plates with interlayers between them. */
typedef struct gradin_part {
    bool is_gap;
    const gradin_layer *layer; /* [n_layer] plate, interlayer, plate, ...; one layer for a gap */
    int n_layer;
    double mass_kgm2;
} gradin_part;

typedef struct gradin_stack {
    gradin_part part[GRADIN_MAX_LAYER];
    int n_part;
} gradin_stack;

/* GRADIN_BAD_INPUT for an order of layers, or values, that this theory does not cover. The layers
 * must outlive the stack. No layers give an empty stack, which transmits everything. */
gradin_status gradin_stack_make(const gradin_buildup *buildup, gradin_stack *stack,
                                gradin_error *error);

/* Bending stiffness of a panel per metre of width [N m] for a wave of trace wave number kx_1m; the
 * imaginary part is its loss. */
double complex gradin_panel_stiffness_nm(const gradin_part *panel, double kx_1m, double f_hz);

/* Sound transmission coefficient of a plane wave at theta from the normal, 0..1. */
double gradin_stack_tau(const gradin_stack *stack, double theta_rad, double f_hz);

#endif
