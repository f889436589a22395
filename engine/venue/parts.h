/* venue/parts.h: parts of completing and checking a venue and a layout of it. */
#ifndef GRADIN_VENUE_PARTS_H
#define GRADIN_VENUE_PARTS_H

#include "base/complaints.h"
#include "base/lengths.h"
#include "gradin/layout.h"

/* machine_list.c: names the sections and lists the machines. False after a complaint. */
bool complete_venue(complaints *c, gradin_venue *v);
bool is_complete(const gradin_venue *v);

/* settings.c: the unit in which a machine's positions are shown, none for shares; complains of
 * machines that cannot stand as set. */
length_unit machine_unit_of(gradin_machine_kind kind, const char *units);
void check_settings(complaints *c, const gradin_venue *v, const gradin_layout *p);

/* interlocks.c: complains of interlocks that the layout breaks. */
void check_interlocks(complaints *c, const gradin_venue *v, const gradin_layout *p);

/* check_venue.c: does the venue fit together? */
void check_venue(complaints *c, const gradin_venue *v);
/* Complains of a rail lower than the venue's own local rules allow; `at` is its entry, `key` that
 * of the height. */
void check_rail_height(complaints *c, const gradin_place *at, const char *name, const char *key,
                       double height_m, double rail_min_m, const char *units);

/* floors.c: complains of regions of the floor that overlap, bend or leave the room. */
void check_floors(complaints *c, const gradin_venue *v);

/* check_solids.c: complains of solids that reach out of the room. */
/* Whether no more of it lies outside the room than what is drawn a little into a wall. */
bool ends_at_walls(const gradin_venue *v, gradin_polygon polygon);
void check_solids(complaints *c, const gradin_venue *v, const gradin_solid *solid, int n);

/* check_scenery.c: complains of scenery that nobody could bring in. */
void check_scenery_work(complaints *c, const gradin_venue *v, const gradin_layout *p);

/* required_venue.c, required_layout.c: fields that must be there, by name. */
bool require_venue(complaints *c, const gradin_venue *v);
/* Sections, machines and interlocks, too. */
bool require_whole_venue(complaints *c, const gradin_venue *v);
bool require_layout(complaints *c, const gradin_venue *v, const gradin_layout *p);

#endif
