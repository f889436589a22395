/* A hand-made assessment of three seats with every figure set: the tables need no other room. */
#ifndef TEST_SMALL_RESULT_H
#define TEST_SMALL_RESULT_H

#include "gradin/studies.h"

enum { SMALL_SEATS = 3, SMALL_ELEMENTS = 2 };

/* Lives in static storage and is set anew by each call. */
gradin_assessment *small_result(void);
/* The same without an overflight. */
gradin_assessment *small_result_quiet(void);

#endif
