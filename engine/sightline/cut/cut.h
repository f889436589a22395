/* sightline/cut/cut.h: what an upright plane cuts. */
#ifndef GRADIN_SIGHTLINE_CUT_H
#define GRADIN_SIGHTLINE_CUT_H

#include "gradin/studies/cut.h"
#include "sightline/c_value/c_seat.h"

typedef struct cutter {
    gradin_arena *arena;
    const gradin_model *model;
    gradin_vec2 from_m, unit;
    double length_m;
    bool is_wall[2];
    gradin_cut_part *part;
    gradin_cut_ring *ring;
    gradin_cut_trace *trace;
    gradin_cut_focus *focus;
    int n_part, n_ring, n_trace, n_focus;
    int part_capacity, ring_capacity, trace_capacity, focus_capacity;
} cutter;

/* On plan into the cut: x along it, y to its right. */
gradin_vec2 cut_into(const cutter *c, gradin_vec2 at_m);
/* cut_parts.c: all that is solid, and the focus; false when out of memory. */
bool cut_scene(cutter *c);
bool cut_focus(cutter *c);
/* Stretches of the line inside a polygon, rising pairs: x_m[most]; their count of ends. */
int cut_polygon(const cutter *c, gradin_polygon polygon, double *x_m, int most);

#endif
