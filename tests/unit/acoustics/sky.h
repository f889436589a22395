/* unit/acoustics/sky.h: a straight pass along x over the middle of a diffuse chamber. */
#ifndef GRADIN_TEST_SKY_H
#define GRADIN_TEST_SKY_H

#include "chamber.h"

#include "acoustics/event/moments.h"
#include "gradin/acoustics/event.h"

enum { BASS = 0 }; /* 50 Hz, the source's only band: air takes 0.05 dB a kilometre */

typedef struct sky {
    chamber c;
    gradin_prepared_room room;
    gradin_lobe lobe; /* for the test's own use */
    gradin_class source;
    gradin_track track;
    double time_s[2];
    gradin_vec3 point_m[2];
    gradin_traffic traffic;
} sky;

/* The source passes above_m over the middle of the chamber's roof, which is 4 m up. Points into *s:
 * do not copy it. */
void sky_make(gradin_arena *arena, sky *s, double above_m, double speed_ms);

#endif
