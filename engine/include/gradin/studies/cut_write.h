/* gradin/studies/cut_write.h: the figures of a cut.
 *
 * Ownership and threads: Texts live in the arena that is given; any number of threads may write one
 * cut, each with an arena of its own. */
#ifndef GRADIN_CUT_WRITE_H
#define GRADIN_CUT_WRITE_H

#include "gradin/studies/cut.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The rows of a cut as JSON; schema in reference/section-schema.json. */
GRADIN_API gradin_status gradin_cut_json(gradin_arena *arena, const gradin_cut *cut, char **text,
                                         size_t *size, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
