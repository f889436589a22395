/* gradin/studies/view_write.h: the figures of views and of a cut.
 *
 * Ownership and threads: Texts live in the arena that is given; any number of threads may write one
 * view or cut, each with an arena of its own. */
#ifndef GRADIN_VIEW_WRITE_H
#define GRADIN_VIEW_WRITE_H

#include "gradin/studies/cut.h"
#include "gradin/studies/view.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The views of one model as JSON; schema in reference/view-schema.json. The titles of the entries
 * may be NULL. */
GRADIN_API gradin_status gradin_views_json(gradin_arena *arena, const gradin_view_entry *entry,
                                           int n_entry, char **text, size_t *size,
                                           gradin_error *error);

/* The rows of a cut as JSON; schema in reference/section-schema.json. */
GRADIN_API gradin_status gradin_cut_json(gradin_arena *arena, const gradin_cut *cut, char **text,
                                         size_t *size, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
