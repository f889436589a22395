/* sightline/audience/philox.h: counter-based random numbers. */
#ifndef GRADIN_SIGHTLINE_PHILOX_H
#define GRADIN_SIGHTLINE_PHILOX_H

#include "gradin/base.h"

typedef struct sight_random {
    uint32_t word[4];
} sight_random;

/* Philox4x32-10: four words that depend on nothing but counter and key. */
sight_random gradin_philox(const uint32_t counter[4], const uint32_t key[2]);

#endif
