/* gradin/studies/sweep_write.h: the points of a study as text, CSV and JSON.
 *
 * Ownership and threads: Texts live in the arena that is given; writers of different arenas may run
 * in different threads. */
#ifndef GRADIN_SWEEP_WRITE_H
#define GRADIN_SWEEP_WRITE_H

#include "gradin/studies/sweep.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Outputs in the arena: text for a terminal; CSV, one line per point, and one per value of a key
 * with its means; JSON (reference/sweep-schema.json). */
GRADIN_API gradin_status gradin_sweep_text(gradin_arena *arena, const gradin_sweep_result *result,
                                           char **text, gradin_error *error);
GRADIN_API gradin_status gradin_sweep_csv(gradin_arena *arena, const gradin_sweep_result *result,
                                          char **text, size_t *size, gradin_error *error);
GRADIN_API gradin_status gradin_sweep_effects_csv(gradin_arena *arena,
                                                  const gradin_sweep_result *result, char **text,
                                                  size_t *size, gradin_error *error);
GRADIN_API gradin_status gradin_sweep_json(gradin_arena *arena, const gradin_sweep_result *result,
                                           char **text, size_t *size, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
