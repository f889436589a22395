/* unit/studies/room/trace.h: a tracer of rays that knows nothing of patches and form factors. */
#ifndef GRADIN_TEST_TRACE_H
#define GRADIN_TEST_TRACE_H

#include "gradin/acoustics.h"

/* Mean square pressure per (W rho c) at n_seat of the model's seats, seat[n_seat], from a unit of
 * power that leaves one element evenly as a Lambert surface, in one band: n_walk walks, each heard
 * at every seat from wherever it is thrown back. square[n_seat] and its standard error[n_seat]. */
void trace_element(const gradin_model *model, gradin_shade_state state, int band, int element,
                   int n_walk, const int *seat, int n_seat, double *square, double *error);

#endif
