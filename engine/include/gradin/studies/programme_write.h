/* gradin/studies/programme_write.h: a programme's plan as text, CSV, JSON and calendar.
 *
 * Ownership and threads: Texts live in the arena that is given; writers of different arenas may run
 * in different threads. */
#ifndef GRADIN_STUDIES_PROGRAMME_WRITE_H
#define GRADIN_STUDIES_PROGRAMME_WRITE_H

#include "gradin/studies/programme.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Outputs in the arena: text for a terminal, CSV (one line per show), JSON
 * (reference/programme-schema.json), iCalendar (RFC 5545) of shows and changeovers. */
GRADIN_API gradin_status gradin_programme_text(gradin_arena *arena,
                                               const gradin_programme_plan *plan, char **text,
                                               gradin_error *error);
GRADIN_API gradin_status gradin_programme_csv(gradin_arena *arena,
                                              const gradin_programme_plan *plan, char **text,
                                              size_t *size, gradin_error *error);
GRADIN_API gradin_status gradin_programme_json(gradin_arena *arena,
                                               const gradin_programme_plan *plan, char **text,
                                               size_t *size, gradin_error *error);
GRADIN_API gradin_status gradin_programme_ical(gradin_arena *arena,
                                               const gradin_programme_plan *plan, char **text,
                                               size_t *size, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
