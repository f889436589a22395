/* base/philox.h: counter-based random numbers. */
#ifndef GRADIN_BASE_PHILOX_H
#define GRADIN_BASE_PHILOX_H

#include "gradin/base.h"

typedef struct random_words {
    uint32_t word[4];
} random_words;

/* Philox4x32-10: four words that depend on nothing but counter and key. */
random_words gradin_philox(const uint32_t counter[4], const uint32_t key[2]);

#endif
