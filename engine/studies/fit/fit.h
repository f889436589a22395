/* studies/fit/fit.h: parts of the rough checks. */
#ifndef GRADIN_STUDIES_FIT_H
#define GRADIN_STUDIES_FIT_H

#include "gradin/studies/fit.h"

/* underfoot.c: height of what a person stands on at a plan point: a lift tread, a deck or platform
 * no more than a step above reach_m, else the floor; -INFINITY over an open stair or outside the
 * room. */
double fit_surface_m(const gradin_model *model, gradin_vec2 at_m, double reach_m);
/* The same of what ends at under_m: what may carry something with its underside there. */
double fit_carrier_m(const gradin_model *model, gradin_vec2 at_m, double under_m);
/* The level passage that a plan point lies in; NULL. */
const gradin_passage *fit_passage(const gradin_model *model, gradin_vec2 at_m);
/* How steep the fixed floor is at a plan point, rise per metre, where it is what somebody at
 * floor_m stands on; else 0. */
double fit_slope(const gradin_model *model, gradin_vec2 at_m, double floor_m);
/* Is it the fixed floor at 0 itself, with nothing on it? */
bool fit_is_fixed_floor(const gradin_model *model, gradin_vec2 at_m);
/* From a point to a piece of a rail on plan; *foot_m (may be NULL): the rail's foot there. */
double fit_off_rail_m(gradin_vec3 a, gradin_vec3 b, gradin_vec2 at_m, double *foot_m);
/* What stands within margin_m of a plan point over a floor of height_m: the name of a solid or of a
 * rail, or the room's wall; NULL when nothing does. */
const char *fit_obstacle(const gradin_model *model, gradin_vec2 at_m, double height_m,
                         double margin_m);
/* The sides of a section as axes, x to its right. In this frame, turned about the plan's origin, a
 * section and its treads are boxes; unturned sections keep their figures to the bit. */
typedef struct fit_frame {
    gradin_vec2 x;
} fit_frame;
fit_frame fit_frame_of(const gradin_section *section);
gradin_vec2 fit_to_frame(fit_frame frame, gradin_vec2 at_m);
gradin_vec2 fit_from_frame(fit_frame frame, gradin_vec2 at_m);
/* One tread of a section in its frame. */
gradin_box2 fit_tread(const gradin_section *section, int tread);
/* Is the centre of a seat within radius_m of the point, seats from..to not counted? */
bool fit_is_seat_near(const gradin_model *model, gradin_vec2 at_m, double radius_m, int from,
                      int to);

/* drop.c: an edge is two floors beside each other. `at_m` lies on the line between them and
 * `outward` is the unit normal away from the floor of height_m that somebody makes. Open: the floor
 * beyond lies more than the venue's drop lower, or is the fixed floor and lies as much higher (a
 * pit), and there is no wall and no rail. *upper_m, *drop_m: the height of the upper floor, and the
 * difference, NAN over an open stair. */
bool fit_is_open(const gradin_model *model, gradin_vec2 at_m, gradin_vec2 outward, double height_m,
                 double *upper_m, double *drop_m);
/* Along a side of an open stair, `outward` away from it: can one fall in from the floor beside it?
 * *height_m: that floor, be it a lift, a row's platform or a set piece. */
bool fit_is_stair_side(const gradin_model *model, gradin_vec2 at_m, gradin_vec2 outward,
                       double *height_m);
/* The same along a side of a level passage; *drop_m: down to its floor, or to a tread over it. */
bool fit_is_passage_side(const gradin_model *model, gradin_vec2 at_m, gradin_vec2 outward,
                         double *height_m, double *drop_m);
/* Does a rail stand beside the point, about as high as the floor? */
bool fit_is_railed(const gradin_model *model, gradin_vec2 at_m, double height_m);
/* Does anybody sit beyond the line through the point? The back of a stage is an edge like any
 * other. */
bool fit_is_before_seats(const gradin_model *model, gradin_vec2 at_m, gradin_vec2 outward);

/* deck_edges.c: adds the edges of slabs, set pieces, platforms and parts of the floor, and before
 * them those of open stairs. False when out of memory. */
typedef struct fit_edges_made {
    gradin_arena *arena;
    gradin_open_edge *item; /* [n] */
    int n, capacity;
    gradin_vec2 *point_m; /* of the last one */
    int point_capacity;
} fit_edges_made;
/* drop.c: a straight one; further pieces that lead it on to a point. */
bool fit_add_edge(fit_edges_made *made, gradin_open_edge edge);
bool fit_lead_on(fit_edges_made *made, gradin_vec2 to_m, bool is_bent);
bool fit_stair_edges(const gradin_model *model, fit_edges_made *made);
bool fit_deck_edges(const gradin_model *model, fit_edges_made *made);

/* Each fills its part; false when out of memory. */
bool fit_edges(gradin_arena *arena, gradin_fit *fit);
bool fit_spacing(gradin_arena *arena, gradin_fit *fit);
void fit_slopes(gradin_fit *fit); /* slopes.c */
/* The steepest floor that a wheelchair's way goes over: the rule, or 1:12. */
double fit_wheelchair_slope(const gradin_local_rules *rules);
bool fit_rows(gradin_arena *arena, gradin_fit *fit);
bool fit_exits(gradin_arena *arena, gradin_fit *fit);
bool fit_loads(gradin_arena *arena, gradin_fit *fit);
bool fit_ways_out(gradin_arena *arena, gradin_fit *fit); /* after fit_exits() */

/* rows.c: last seat of the run of seats side by side that begins with `first`. */
int fit_run_end(const gradin_seats *seats, int first);
/* Is the run a row of a box, which has a door of its own? */
bool fit_is_in_box(const gradin_seats *seats, int first, int last);
/* reach.c: on a tower, or over a slab or a set piece that nobody climbs in one step. */
bool fit_is_on_deck(const gradin_model *model, int seat);

/* gates.c: every way out of the hall as a door, free or not; false when out of memory. */
typedef struct fit_gate {
    gradin_element door;
    int stair;      /* the open vomitory that it is; -1: a door */
    bool has_steps; /* below it */
} fit_gate;
typedef struct fit_gates {
    fit_gate *item; /* [n] */
    int n;
} fit_gates;
bool fit_list_gates(gradin_arena *arena, const gradin_model *model, fit_gates *out);

/* exits.c: one that was found free. */
bool fit_is_free_exit(const gradin_fit *fit, const gradin_element *door);
/* Takes free ones out that no place has a way to: is_out[gates->n]. False when out of memory. */
bool fit_leave_out(gradin_arena *arena, gradin_fit *fit, const fit_gates *gates,
                   const bool *is_out);

#endif
