/* studies/listen/noise.h: noise of one third octave. */
#ifndef GRADIN_STUDIES_LISTEN_NOISE_H
#define GRADIN_STUDIES_LISTEN_NOISE_H

#include "gradin/acoustics/listen.h"

/* Scratch for noise; freed with listen_noise_end(). */
typedef struct listen_noise {
    void *plan, *spectrum;
    float *piece;
} listen_noise;

/* False when out of memory; listen_noise_end() is due in either case. */
bool listen_noise_begin(listen_noise *scratch);
void listen_noise_end(listen_noise *scratch);

/* Gaussian noise of mean square 1 between the edges of band (0 is 50 Hz), out[n]. */
void listen_noise_fill(const listen_noise *scratch, int band, uint32_t seed, float *out, int n);

#endif
