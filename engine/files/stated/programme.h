/* files/stated/programme.h: a programme as its file states it. */
#ifndef GRADIN_FILES_STATED_PROGRAMME_H
#define GRADIN_FILES_STATED_PROGRAMME_H

#include "files/schema/schema.h"
#include "gradin/model.h"
#include "gradin/programme.h"

typedef struct stated_stand {
    const char *name, *file;
    const node *at;
} stated_stand;

typedef struct stated_booking {
    const char *name, *start, *end;
    const char **layout; /* [n_layout] */
    int n_layout, seats, wheelchairs;
    const node *at;
} stated_booking;

typedef struct stated_before {
    const char *layout, *from;
    const node *at;
} stated_before;

typedef struct stated_night {
    const char *from, *to;
    double factor;
} stated_night;

typedef struct stated_programme {
    const char *name;
    stated_stand *layout; /* [n_layout] */
    stated_booking *show; /* [n_show] */
    int n_layout, n_show;
    stated_before *before; /* NULL when not stated */
    stated_night *night;   /* NULL when not stated */
    double clear_min, ready_min, margin_min, hour_cost, step_cost;
} stated_programme;

extern const schema_file programme_schema;

#endif
