/* table/export/things.h: what stands on a plan besides seats, thing by thing, each with the layer
 * it belongs to. */
#ifndef GRADIN_TABLE_THINGS_H
#define GRADIN_TABLE_THINGS_H

#include "gradin/studies.h"

typedef enum plan_layer {
    LAYER_ROOM,
    LAYER_FLOORS,
    LAYER_LIFTS,
    LAYER_TOWERS,
    LAYER_PLATFORMS,
    LAYER_STRUCTURE,
    LAYER_SET,
    LAYER_ARCH,
    LAYER_RAILS,
    LAYER_AISLES,
    LAYER_VOMITORIES,
    LAYER_GLAZING,
    LAYER_DOORS,
    LAYER_FOCUS,
    LAYER_ROWS,
    LAYER_SEATS,
    LAYER_NAMES,
    N_PLAN_LAYER
} plan_layer;

const char *plan_layer_name(plan_layer layer);

typedef struct plan_thing {
    plan_layer layer;
    const char *name;
    const gradin_vec2 *point_m; /* [n_point] */
    int n_point;                /* 1: a point */
    bool is_closed;
    double bottom_m, top_m; /* NAN where it has no height of its own */
    const double *z_m;      /* [n_point] of its points, where they differ; else NULL */
} plan_thing;

typedef struct plan_things {
    gradin_arena *arena;
    plan_thing *thing; /* [n] */
    int n, capacity;
    bool failed; /* out of memory */
} plan_things;

/* All of a model, layer by layer but for seats, rows and names. */
void plan_things_list(plan_things *list, const gradin_model *model);

/* Seats first .. end-1 are one row. The end of the row that begins at `first`. */
int plan_row_end(const gradin_seats *seats, int first);
/* The house's label of a seat's row and seat, or its number in text[24]. */
const char *plan_row_label(const gradin_seats *seats, int seat, char text[24]);

#endif
