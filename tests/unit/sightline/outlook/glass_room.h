/* unit/sightline/outlook/glass_room.h: a room of 10 m by 8 m, 4 m high, from (0, 0), without
 * anything in it; glass, seats and points outside are added by the tests. Pavement lies south of
 * y = 0. */
#ifndef UNIT_SIGHTLINE_GLASS_ROOM_H
#define UNIT_SIGHTLINE_GLASS_ROOM_H

#include "gradin/studies/outlook.h"
#include "unit/sightline/hall.h"

enum { ROOM_ELEMENTS = 4, ROOM_POINTS = 4 };

typedef struct glass_room {
    hall hall;
    gradin_vec2 corner_m[4];
    gradin_element element[ROOM_ELEMENTS];
    gradin_shade shade;
    gradin_buildup buildup;
    gradin_layer layer[3];
    gradin_outside_point point[ROOM_POINTS];
    gradin_outside outside;
    gradin_arena *arena;
} glass_room;

/* Empty, with no seat and no focus. */
void room_start(glass_room *r);
void room_end(glass_room *r);
/* A pane in the south wall, from x_m, with the room's shade. */
gradin_element *room_pane(glass_room *r, double x_m, double sill_m, double width_m,
                          double height_m);
/* A point outside; its name is made up. */
void room_point(glass_room *r, double x_m, double y_m, double z_m);
/* The room with everything in it turned clockwise about the origin, or its mirror image in x. */
void room_turn(glass_room *r, double turn_deg);
void room_mirror(glass_room *r);

gradin_outlook room_look(glass_room *r, bool are_shades_up);

#endif
