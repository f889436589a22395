/* event/keep_incidence.h: what events send onto the facade, kept from one model to the next. */
#ifndef GRADIN_EVENT_KEEP_INCIDENCE_H
#define GRADIN_EVENT_KEEP_INCIDENCE_H

#include "acoustics/event/incidence.h"

typedef struct gradin_kept_incidences gradin_kept_incidences;

/* NULL without memory. */
gradin_kept_incidences *gradin_kept_incidences_create(void);
void gradin_kept_incidences_destroy(gradin_kept_incidences *kept);
/* Drops all when they have become too many; nobody may be using one of them. */
void gradin_kept_incidences_sweep(gradin_kept_incidences *kept);

/* As gradin_incidence_make(), from `kept` where it is there, else kept there or, without `kept` or
 * room in it, in the arena. The same bytes either way; safe from several threads. */
gradin_status gradin_incidence_take(gradin_arena *arena, gradin_kept_incidences *kept,
                                    const gradin_model *model, const gradin_traffic *traffic,
                                    int class_index, int track, const gradin_incidence **incidence,
                                    gradin_error *error);

#endif
