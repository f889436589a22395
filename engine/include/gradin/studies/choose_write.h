/* gradin/studies/choose_write.h: a choice as text, CSV and JSON.
 *
 * Ownership and threads: Texts live in the arena that is given; writers of different arenas may run
 * in different threads. */
#ifndef GRADIN_STUDIES_CHOOSE_WRITE_H
#define GRADIN_STUDIES_CHOOSE_WRITE_H

#include "gradin/studies/choose.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Outputs in the arena: text for a terminal; CSV with one line per layout, one per must-have of
 * each layout, one per seat held back; JSON (reference/choose-schema.json). */
GRADIN_API gradin_status gradin_choice_text(gradin_arena *arena, const gradin_choice *choice,
                                            char **text, gradin_error *error);
GRADIN_API gradin_status gradin_choice_csv(gradin_arena *arena, const gradin_choice *choice,
                                           char **text, size_t *size, gradin_error *error);
GRADIN_API gradin_status gradin_choice_musts_csv(gradin_arena *arena, const gradin_choice *choice,
                                                 char **text, size_t *size, gradin_error *error);
GRADIN_API gradin_status gradin_choice_held_csv(gradin_arena *arena, const gradin_choice *choice,
                                                char **text, size_t *size, gradin_error *error);
GRADIN_API gradin_status gradin_choice_json(gradin_arena *arena, const gradin_choice *choice,
                                            char **text, size_t *size, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
