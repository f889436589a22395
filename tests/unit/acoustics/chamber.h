/* unit/acoustics/chamber.h: a plain rectangular room for checks of the room's sound field. */
#ifndef GRADIN_TEST_CHAMBER_H
#define GRADIN_TEST_CHAMBER_H

#include "acoustics/patches/radiosity.h"

enum { CHAMBER_SEATS = 8, CHAMBER_ELEMENTS = 2 };

typedef struct chamber {
    gradin_vec2 corner_m[4];
    gradin_surface surface[GRADIN_N_SURFACE + 1];
    gradin_buildup buildup[1];
    gradin_element element[CHAMBER_ELEMENTS];
    gradin_pass pass;
    gradin_vec3 eye_m[CHAMBER_SEATS], floor_m[CHAMBER_SEATS];
    double facing_deg[CHAMBER_SEATS], width_m[CHAMBER_SEATS], depth_m[CHAMBER_SEATS];
    gradin_vec2 block_m[4];
    gradin_occluder occluder[2];
    gradin_model model;
} chamber;

/* x by y by z metres, every surface with the same absorption; a pane in the middle of the south
 * wall (half its width, half its height) and a vent in the middle of the north wall. Points into
 * *c. */
void chamber_make(chamber *c, double x_m, double y_m, double z_m, double alpha);
/* A block from the floor to top_m. */
void chamber_block(chamber *c, gradin_box2 plan, double top_m);

/* Patches and exchange areas; the test fails when they cannot be made. */
typedef struct cut {
    gradin_patches patches;
    gradin_exchange exchange;
} cut;
cut chamber_cut(gradin_arena *arena, const chamber *c, double size_m);

/* All states and sources; alpha[n_state][n], first[n_source][n], leaving[n_state][n_source][n]. */
gradin_status chamber_solve(gradin_arena *arena, const cut *c, int n_same, int n_state,
                            const double *alpha, double air_1m, int n_source, const double *first,
                            double *leaving);

#endif
