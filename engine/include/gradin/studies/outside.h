/* gradin/studies/outside.h: points outside a hall from which somebody may look in: a pavement, a
 * window across the street.
 *
 * Ownership and threads: The points belong to whoever fills them and must outlive what is made from
 * them; any number of threads may read points that nobody changes. */
#ifndef GRADIN_OUTSIDE_H
#define GRADIN_OUTSIDE_H

#include "gradin/base.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Refused beyond these. */
enum { GRADIN_MAX_OUTSIDE = 64 };

typedef struct gradin_outside_point {
    const char *name;
    gradin_vec3 eye_m; /* of whoever looks in; height above the plan origin's level */
    const gradin_place *at;
} gradin_outside_point;

typedef struct gradin_outside {
    const gradin_outside_point *point; /* [n_point] */
    int n_point;
    char digest[33]; /* of the file that states them, as in gradin_model; "" when made in memory */
} gradin_outside;

#ifdef __cplusplus
}
#endif

#endif
