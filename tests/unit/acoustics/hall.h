/* unit/acoustics/hall.h: a small hall built by hand, symmetric about the plane x = 0, with a track
 * that runs along x. */
#ifndef GRADIN_TEST_HALL_H
#define GRADIN_TEST_HALL_H

#include "gradin/acoustics.h"

enum { HALL_SEATS = 12, HALL_PANES = 4, HALL_DOOR = 4, HALL_VENT = 5, HALL_ELEMENTS = 6 };
enum { HALL_SINGLE, HALL_DOUBLE, HALL_MEASURED, HALL_BUILDUPS };

typedef struct hall {
    gradin_vec2 corner_m[4];
    gradin_surface surface[2];
    gradin_layer single[1], pair[3];
    gradin_buildup buildup[HALL_BUILDUPS];
    gradin_shade shade[1];
    gradin_element element[HALL_ELEMENTS];
    gradin_pass pass;
    gradin_vec3 eye_m[HALL_SEATS];
    gradin_occluder occluder[8];
    gradin_model model;
} hall;

/* 30 m x 20 m x 10 m, panes 0..3 in the south wall, a door in the north wall, a vent in the middle
 * of the south wall; seats i and i + 6 are mirror images. Points into *h: do not copy it. */
void hall_make(hall *h);

/* An obstacle of a cause; appended to the scene. */
void hall_add(hall *h, gradin_shape shape, gradin_cause cause);

/* Noise of the hall; the test fails when it cannot be computed. */
gradin_noise hall_noise(gradin_arena *arena, const hall *h);

#endif
