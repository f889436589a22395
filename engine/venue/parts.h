/* venue/parts.h: what the rooms above share of a venue and a layout of it. */
#ifndef GRADIN_VENUE_PARTS_H
#define GRADIN_VENUE_PARTS_H

#include "base/complaints.h"
#include "gradin/layout.h"

/* Index of the item of that name, or -1. Items are structs of `stride` bytes whose first member is
 * `const char *name`. */
int index_of(const void *items, int n, size_t stride, const char *name);

/* Is the value within [least, most]? A billionth is rounding. */
bool is_in_range(double value, const double range[2]);
/* Metres in one unit of the layout's lengths. */
double layout_unit_m(const gradin_layout *p);

/* machine_list.c: names the sections and lists the machines. False after a complaint. */
bool complete_venue(complaints *c, gradin_venue *v);
bool is_complete(const gradin_venue *v);
/* Where this layout sets an item's machine. */
const gradin_machine_state *state_of(const gradin_venue *v, const gradin_layout *p,
                                     gradin_machine_kind kind, int item);
bool is_panel_open(const gradin_venue *v, const gradin_layout *p, int panel);

/* layout_defaults.c: a layout without machines; their states as parked. */
gradin_layout empty_layout(void);
bool park_machines(complaints *c, const gradin_venue *v, gradin_layout *p);

/* occupancy.c: live loads from a named source. */
enum { OCCUPANCY_EN_1991_1_1, OCCUPANCY_ASCE_7, N_OCCUPANCY };
gradin_occupancy occupancy_of(int source);

/* settings.c: what keeps a machine from a setting. */
typedef enum setting_fault {
    SETTING_POSSIBLE,
    SETTING_BEYOND,     /* the position is out of its travel */
    SETTING_TOP_BEYOND, /* the highest tread is */
    SETTING_TREADS,     /* more treads than the section makes */
    SETTING_RISER,      /* between its treads */
    SETTING_FACING      /* a bearing towards which it cannot terrace */
} setting_fault;
setting_fault fault_of_setting(const gradin_venue *v, int machine, const gradin_setting *set);
void check_settings(complaints *c, const gradin_venue *v, const gradin_layout *p);

/* interlocks.c: complains of interlocks that the layout breaks. */
void check_interlocks(complaints *c, const gradin_venue *v, const gradin_layout *p);

/* check_venue.c: does the venue fit together? */
void check_venue(complaints *c, const gradin_venue *v);
/* Complains of a rail lower than the venue's own local rules allow; `at` is its entry. */
void check_rail_height(complaints *c, const gradin_place *at, const char *name, double height_m,
                       double rail_min_m, const char *units);

/* required_venue.c, required_layout.c: fields that must be there, by name. */
bool require_venue(complaints *c, const gradin_venue *v);
/* Sections, machines and interlocks, too. */
bool require_whole_venue(complaints *c, const gradin_venue *v);
bool require_layout(complaints *c, const gradin_venue *v, const gradin_layout *p);

/* surface.c: height of the walking surface under a plan point: a lift tread, or the floor at 0.
 * *section (may be NULL) gets the lift section, or -1. */
double surface_m(const gradin_venue *v, const gradin_layout *p, gradin_vec2 at_m, int *section);
/* Plan rectangle of one tread of a section. */
void tread_corners(const gradin_lift_section *s, const gradin_setting *set, int tread,
                   gradin_vec2 corner_m[4]);

#endif
