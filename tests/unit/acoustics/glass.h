/* tests/unit/acoustics/glass.h: layers and build-ups of glass for the tests of the glazing. */
#ifndef GRADIN_TEST_GLASS_H
#define GRADIN_TEST_GLASS_H

#include "acoustics/glazing/tmm.h"

#include <stdio.h>

enum { GLASS_MAX_CELL = 20 };

#define GLASS_SHEAR_PA 150e6
#define GLASS_SHEAR_LOSS 0.3

gradin_layer glass_pane(double thickness_mm);
gradin_layer glass_limp(double mass_kgm2);        /* 10 mm thick, no stiffness */
gradin_layer glass_pvb(double thickness_mm);      /* by frequency and temperature */
gradin_layer glass_constant(double thickness_mm); /* a constant modulus near that of PVB */
gradin_layer glass_air(double thickness_mm);

/* Stack of layers that must be valid. */
glazing_stack glass_stack(const gradin_layer *layer, int n_layer);
/* The same at one frequency. */
glazing_stack glass_tuned(const gradin_layer *layer, int n_layer, double f_hz);
/* Bending stiffness of its only panel without edge loss, shear and inertia. */
double complex glass_bend(const gradin_layer *layer, int n_layer, double kx_radm);

/* The next row of a CSV file opened by the caller: its cells as numbers (NAN for an empty or other
 * text), the first 31 characters of the first cell in word; the count of cells, 0 at the end. */
int glass_csv_row(FILE *file, double *cell, char word[32]);
/* reference/NAME, its header line skipped; fails the test when it cannot be opened. */
FILE *glass_csv_open(const char *name);
void glass_csv_close(FILE *file);

#endif
