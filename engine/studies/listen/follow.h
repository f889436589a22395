/* studies/listen/follow.h: noise made to follow a level. */
#ifndef GRADIN_STUDIES_LISTEN_FOLLOW_H
#define GRADIN_STUDIES_LISTEN_FOLLOW_H

#include "gradin/acoustics/listen.h"

/* A recording is levelled in steps of half a second. */
enum { LISTEN_STEP = GRADIN_LISTEN_RATE_HZ / 2, LISTEN_MOST_STEPS = 2 * GRADIN_LISTEN_MOST_S };

/* Scales noise of mean square 1 so that its mean square follows square, both a sample each,
 * [n_step * LISTEN_STEP], and has the mean of square over each step. n_step is at most
 * LISTEN_MOST_STEPS. */
void listen_follow(const float *square, float *noise, int n_step);

#endif
