/* gradin/acoustics/facade.h: which part of the facade carries what share of the power that a pass
 * sends into the room. Part of the acoustics room.
 *
 * Ownership and threads: The shares live in the arena that is given and point into the model, which
 * must outlive them; rankings of different arenas may run in different threads. */
#ifndef GRADIN_FACADE_H
#define GRADIN_FACADE_H

#include "gradin/acoustics.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum gradin_part_kind {
    GRADIN_PART_BODY,    /* the glass of bays, the leaf of a door */
    GRADIN_PART_SEALS,   /* its joints */
    GRADIN_PART_OPENING, /* the open share of a door */
    GRADIN_PART_VENT,
    GRADIN_N_PART_KIND
} gradin_part_kind;

/* All bays of one facade entry together. */
typedef struct gradin_facade_part {
    const char *entry;
    gradin_element_kind element;
    gradin_part_kind kind;
    double share;                     /* of the A-weighted power, 0..1 */
    double band_share[GRADIN_N_BAND]; /* of the power in each band */
    double without_db;       /* change of the A-weighted level were this part perfect, <= 0;
                                -INFINITY when there is no other */
    int d2m_nt_w_without_db; /* D2m,nT,w of the facade were this part perfect */
} gradin_facade_part;

/* At the time of the room's maximum, by state of the shades, the largest share first. */
typedef struct gradin_facade {
    int n_part;
    gradin_facade_part *part[GRADIN_N_SHADE_STATE]; /* each [n_part] */
} gradin_facade;

/* noise is that of the model. */
GRADIN_API gradin_status gradin_facade_rank(gradin_arena *arena, const gradin_model *model,
                                            const gradin_noise *noise, gradin_facade *facade,
                                            gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
