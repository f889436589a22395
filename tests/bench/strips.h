/* bench/strips.h: seats that miss a strip at the near edge. */
#ifndef BENCH_STRIPS_H
#define BENCH_STRIPS_H

#include "gradin/geometry.h"

/* clear[n] says of each sample of the area whether the eye sees it. */
bool strip_is_near(gradin_polygon area, gradin_vec3 eye_m, const gradin_vec3 *sample_m,
                   const bool *clear, int n);

#endif
