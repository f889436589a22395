/* files/write/state.h: from the structs of a venue and a layout to what their files state: the way
 * back of the readers. All of it goes into the arena of the complaints. */
#ifndef GRADIN_FILES_WRITE_STATE_H
#define GRADIN_FILES_WRITE_STATE_H

#include "files/stated/layout.h"
#include "gradin/layout.h"

/* Room for n structs of the table with their defaults; NULL when there are none. */
void *state_list(complaints *c, const schema_table *table, int n);

/* unit_m: metres in one unit of length of the file. */
void state_venue(complaints *c, const gradin_venue *v, double unit_m, stated_venue *s);
stated_room state_room(complaints *c, const gradin_venue *v);
stated_facade *state_facade(complaints *c, const gradin_venue *v);
stated_machines *state_machines(complaints *c, const gradin_venue *v, double unit_m);
stated_crew *state_crew(complaints *c, const gradin_venue *v);
stated_loads state_loads(const gradin_venue *v);

stated_layer *state_layers(complaints *c, const gradin_layer *layer, int n);
stated_solid *state_solids(complaints *c, const gradin_solid *solid, int n);
/* A drive without its speed; its mass where it is not `mass_kg`. */
gradin_drive state_drive(const gradin_drive *drive, double mass_kg);

stated_settings state_settings(complaints *c, const gradin_venue *v, const gradin_layout *p);
stated_lift state_lift(const gradin_lift_setting *setting, stated_terrace *terrace);
void state_rating(complaints *c, const gradin_layout *p, stated_rating *s);
/* All but the blocks of seat lists with columns of their own and of boxes; their count in *n. */
stated_block *state_blocks(complaints *c, const gradin_venue *v, const gradin_layout *p, int *n);
stated_seat_list *state_seat_lists(complaints *c, const gradin_layout *p, int *n);
stated_scenery *state_scenery(complaints *c, const gradin_venue *v, const gradin_layout *p);
/* Rows of boxes as they were stated, and the solids and rails that are none of theirs. */
stated_boxes *state_boxes(complaints *c, const gradin_layout *p, int *n);
gradin_solid *own_solids(complaints *c, const gradin_layout *p, int *n);
gradin_rail_entry *own_rails(complaints *c, const gradin_layout *p, int *n);

#endif
