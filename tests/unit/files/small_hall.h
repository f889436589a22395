/* A small venue and layout as text, written to a temporary folder with one passage replaced. */
#ifndef GRADIN_TEST_SMALL_HALL_H
#define GRADIN_TEST_SMALL_HALL_H

#include "gradin/files.h"
#include "gradin/model.h"

/* One file and a passage in it to replace; file is "venue", "layout", "brief", "pass" or NULL. */
typedef struct change {
    const char *file, *from, *to;
} change;

typedef struct hall {
    gradin_arena *arena;
    gradin_model model;
    gradin_error error;
    gradin_status status;
} hall;

/* Reads the small hall with up to two changes (unused ones zeroed). */
hall *hall_open(change first, change second);
void hall_close(hall *h);
/* Text of the first diagnostic without its folder, "" when there is none. */
const char *hall_first(const hall *h);
/* A file of the small hall in a temporary folder, for gradin_file_check(); n tells which folder. */
const char *hall_path(const char *name);

#endif
