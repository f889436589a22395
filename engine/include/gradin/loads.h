/* gradin/loads.h: what a venue's surfaces may carry by its own statement, and what people and
 * things weigh on them. A licensed engineer and the makers decide what may be carried; this only
 * adds up. Loads kN and kN/m2, masses kg.
 *
 * Ownership and threads: Everything here belongs to the model or venue that points to it; any
 * number of threads may read it. */
#ifndef GRADIN_LOADS_H
#define GRADIN_LOADS_H

#include "gradin/geometry.h"

#ifdef __cplusplus
extern "C" {
#endif

#define GRADIN_GRAVITY_MS2 9.80665 /* standard acceleration of free fall */

/* What a surface may carry; NAN where the venue states nothing. */
typedef struct gradin_load_limit {
    double spread_kn_m2, total_kn;
} gradin_load_limit;

/* How people use a surface. */
typedef enum gradin_use {
    GRADIN_USE_SEATED, /* places stand on it */
    GRADIN_USE_OPEN,   /* people may stand and walk */
    GRADIN_USE_STAGE,  /* part of the focus area */
    GRADIN_N_USE
} gradin_use;

GRADIN_API const char *gradin_use_name(gradin_use use); /* "seated", "open floor", "stage" */

/* Live load of each use, from a named source or the venue's own. */
typedef struct gradin_occupancy {
    const char *source;
    double load_kn_m2[GRADIN_N_USE];
    bool is_own[GRADIN_N_USE]; /* stated by the venue, not by the source */
    double person_kg;
} gradin_occupancy;

typedef enum gradin_carrier_kind {
    GRADIN_CARRIER_SECTION, /* a lift section */
    GRADIN_CARRIER_DECK,    /* a level of a tower that is seated */
    GRADIN_CARRIER_PANEL,   /* a floor panel in place */
    GRADIN_CARRIER_FLOOR    /* the fixed floor, all that is left */
} gradin_carrier_kind;

typedef struct gradin_carrier {
    const char *name;
    gradin_carrier_kind kind;
    int index;              /* section: its number; deck: block of its places; else -1 */
    gradin_polygon polygon; /* no corners for the fixed floor */
    double bottom_m, top_m; /* between its lowest and highest tread */
    gradin_load_limit limit;
} gradin_carrier;

/* What a tower may bear besides itself; 0 and NAN where it states nothing. */
typedef struct gradin_payload {
    const char *name;   /* of the tower */
    const int *carrier; /* [n_carrier] its decks */
    int n_carrier;
    int most_people;
    double most_kg;
} gradin_payload;

typedef struct gradin_block_load {
    double seat_kg;        /* a seat itself */
    double platform_kn_m2; /* of the platform under it */
} gradin_block_load;

typedef struct gradin_loads {
    gradin_occupancy occupancy;
    const gradin_carrier *carrier;
    const gradin_payload *payload;
    const gradin_block_load *block; /* [n_block] of the model */
    int n_carrier, n_payload;
    bool is_stated; /* the venue states any limit */
} gradin_loads;

#ifdef __cplusplus
}
#endif

#endif
