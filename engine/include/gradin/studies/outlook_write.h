/* gradin/studies/outlook_write.h: an outlook's results as tables.
 *
 * Ownership and threads: Texts live in the arena that is given; any number of threads may write one
 * outlook, each with an arena of its own. */
#ifndef GRADIN_OUTLOOK_WRITE_H
#define GRADIN_OUTLOOK_WRITE_H

#include "gradin/studies/outlook.h"
#include "gradin/table.h"

#ifdef __cplusplus
extern "C" {
#endif

/* One line per point outside and focus area, with the point's count of seats. */
GRADIN_API gradin_status gradin_outlook_points_csv(gradin_arena *arena,
                                                   const gradin_outlook *outlook,
                                                   gradin_csv_units units, char **text,
                                                   size_t *size, gradin_error *error);
/* One line per seat: its share of open glass, and from how many points it is seen. */
GRADIN_API gradin_status gradin_outlook_seats_csv(gradin_arena *arena,
                                                  const gradin_outlook *outlook, char **text,
                                                  size_t *size, gradin_error *error);
/* One line per seat and point that sees something of it. */
GRADIN_API gradin_status gradin_outlook_seen_csv(gradin_arena *arena, const gradin_outlook *outlook,
                                                 gradin_csv_units units, char **text, size_t *size,
                                                 gradin_error *error);
/* Everything as JSON; schema in reference/outlook-schema.json. */
GRADIN_API gradin_status gradin_outlook_json(gradin_arena *arena, const gradin_outlook *outlook,
                                             char **text, size_t *size, gradin_error *error);
/* One screen for a terminal, at most 80 columns. */
GRADIN_API gradin_status gradin_outlook_text(gradin_arena *arena, const gradin_outlook *outlook,
                                             char **text, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
