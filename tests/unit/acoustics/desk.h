/* unit/acoustics/desk.h: an arena for each test, and arrays from it. */
#ifndef GRADIN_TEST_DESK_H
#define GRADIN_TEST_DESK_H

#include "acoustics/patches/exchange.h"

extern gradin_arena *desk_arena;

/* .init and .fini of a suite */
void desk_open(void);
void desk_close(void);

/* Noughts; the test fails when there is no memory. */
double *desk_numbers(size_t n);

/* A_i F_ij */
double desk_exchange_m2(const gradin_exchange *exchange, int i, int j);

#endif
