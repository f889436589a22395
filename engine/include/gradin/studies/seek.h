/* gradin/studies/seek.h: a study's keys searched for a good point in place of trying all of them.
 * What is found is the best of the points that were tried, and approves nothing. The hall's own
 * rules and its interlocks hold: a key that would move a rule, take a rail away or change how one
 * is filled is refused, and so is a point that opens edges or misses rough checks that the files as
 * they are keep.
 *
 * Ownership and threads: As of a sweep; one search of a process at a time. */
#ifndef GRADIN_SEEK_H
#define GRADIN_SEEK_H

#include "gradin/studies/sweep.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Makes study->chosen ready for as many points as its search may try. GRADIN_BAD_INPUT for a study
 * that states no search, or varies what a search must leave alone; model: the layout as it is
 * written. */
GRADIN_API gradin_status gradin_seek_begin(gradin_arena *arena, gradin_study *study,
                                           const gradin_model *model, gradin_error *error);

/* Works out a point whose values stand in study->chosen, into the caller's row[point]. */
typedef gradin_status (*gradin_seek_try)(void *user, int point, gradin_error *error);

/* Tries points one after the other, each once: row[study->n_chosen]. The same points each time, for
 * the same rows. */
GRADIN_API gradin_status gradin_seek(gradin_arena *arena, gradin_study *study,
                                     const gradin_sweep_row *row, gradin_seek_try try_point,
                                     void *user, gradin_sought *sought, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
