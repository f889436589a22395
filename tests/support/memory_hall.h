/* support/memory_hall.h: the small hall of tests/unit/files/small_hall.c, filled in memory: a
 * 12 x 12 m room with four lift sections of 2 m, one tower, an arch, one glazed wall. Invented. */
#ifndef GRADIN_TEST_MEMORY_HALL_H
#define GRADIN_TEST_MEMORY_HALL_H

#include "gradin/layout.h"

typedef struct memory_hall {
    gradin_arena *arena;
    gradin_error error;
    gradin_venue venue;
    gradin_layout layout;
    gradin_vec2 footprint[4], stage[4], back[2], stair[4], aisle_m[4], column_m[4];
    gradin_layer glass;
    gradin_buildup buildup[1];
    gradin_shade shade[1];
    gradin_facade_entry facade[3];
    gradin_lift_grid grid[1];
    gradin_tower tower[1];
    gradin_tower_level level[1];
    gradin_arch arch;
    gradin_floor_panel panel[1];
    gradin_surface extra[1];
    gradin_solid column[1];
    gradin_seating seating[1];
    gradin_store store;
    gradin_interlock interlock[1];
    int mover[1], holder[1];
    gradin_focus focus[1];
    gradin_block block[4];
    double depth_m[2], rise_m[2];
    gradin_listed_seat listed[2];
    gradin_rail_entry rail[1];
    gradin_area aisle[1];
    gradin_pass pass;
} memory_hall;

/* The hall and its layout as small_hall.c has them in YAML; the venue is complete. */
void memory_hall_make(memory_hall *h);
/* The same with one of everything that a venue and a layout may have. */
void memory_hall_furnish(memory_hall *h);
void memory_hall_close(memory_hall *h);

/* The first diagnostic as it is printed. */
const char *memory_hall_first(const memory_hall *h);

#endif
