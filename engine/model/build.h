/* model/build.h: from a venue and a layout to the model. */
#ifndef GRADIN_MODEL_BUILD_H
#define GRADIN_MODEL_BUILD_H

#include "base/complaints.h"
#include "gradin/model.h"

/* A place before it is numbered. */
typedef struct place {
    int block; /* index into builder.block_name */
    int row, number;
    const char *row_label, *seat_label; /* NULL: row and number */
    gradin_seat_kind kind;
    gradin_vec2 at_m;
    double z_m; /* of the tread */
    double facing_deg, width_m, depth_m;
    int deck;          /* index of the tower level that carries it, -1 on floor and lifts */
    const char *level; /* NULL until build_levels() when none is stated */
    int sheet;
} place;

/* Something solid: hides, and nobody may sit or move into it. */
typedef struct obstacle {
    const char *name;
    gradin_cause cause;
    gradin_polygon polygon;
    gradin_box2 bounds;
    double bottom_m, top_m;
    const gradin_solid *mesh; /* whose triangles hide; NULL: the prism */
    int machine; /* equal for parts of one machine, -1 for fixed things: no clash with itself */
} obstacle;

/* A tower level as it stands in this layout. */
typedef struct deck {
    const char *name;
    int tower, level;
    gradin_vec2 front_m; /* middle of the front edge on plan */
    double facing_deg;
    double deck_m; /* front tread */
    int sheet;
} deck;

typedef struct builder {
    complaints *c;
    const gradin_venue *v;
    const gradin_layout *p;
    gradin_model *model;
    place *place;
    obstacle *obstacle;
    deck *deck;
    gradin_rail *rail;
    gradin_solid *solid; /* for drawing */
    gradin_occluder *occluder;
    gradin_element *element;
    const char **occluder_name, **block_name;
    const gradin_place *
        *block_at;  /* [n_block_name] where the block is stated; NULL for tower levels */
    int *n_laid;    /* [n_block of the layout] places before any was left out */
    int full_block; /* that brings the layout over GRADIN_MAX_SEAT places; -1 */
    place doubled;  /* stands over another of its own level */
    bool has_doubled;
    int n_sheet;
    int n_place, n_obstacle, n_deck, n_rail, n_solid, n_occluder, n_occluder_name, n_block_name;
    const char **level; /* [n_level] */
    int n_level, level_capacity;
    int place_capacity, obstacle_capacity, deck_capacity, rail_capacity, occluder_capacity;
    int occluder_name_capacity, block_name_capacity, element_capacity;
    gradin_platform *platform;
    int n_platform, platform_capacity;
} builder;

/* Where the layout sets a section or tower. */
const gradin_setting *section_set(const builder *b, int section);
double tower_hoist_m(const builder *b, int tower);
double tower_slide_m(const builder *b, int tower);
double tower_turn_deg(const builder *b, int tower);
bool is_open(const builder *b, int panel);
/* Unit normal on plan, out of the room, of a wall along `along`. */
gradin_vec2 outward_at(const builder *b, gradin_vec2 middle_m, gradin_vec2 along);
double perimeter_m(gradin_polygon polygon);
/* A new element at the end of the model's, not yet counted; NULL when out of memory. */
gradin_element *blank_element(builder *b);
/* Trim, opening or curtain of the arch; 0 without that machine. */
double arch_set(const builder *b, gradin_machine_kind kind);

/* Each adds to the model; false only when out of memory. Nothing is refused here. */
bool build_decks(builder *b);     /* tower levels: decks, posts */
bool build_obstacles(builder *b); /* solids, lifts, arch; needs the decks and the focus */
bool build_places(builder *b);    /* blocks and decks */
bool build_deck_places(builder *b);
bool build_levels(builder *b); /* level and sheet of each place that is not on a deck */
bool build_aisle_sheets(builder *b);
int sheet_of_level(const builder *b, const char *level);
bool is_in_aisle(const builder *b, const place *p); /* of its own sheet */
void build_deck_sheets(builder *b);                 /* after places have been left out */
bool build_platforms(builder *b);                   /* under the places that are left */
bool build_seats(builder *b);                       /* numbers, ids, eyes, levels */
void build_solid_sheets(builder *b); /* drawn solids follow the sheets of their decks */
bool build_rails(builder *b);
/* Height of a rail's foot at a point of its path: as stated, else what is under it. */
double rail_foot_m(const builder *b, const gradin_rail_entry *rail, gradin_vec2 at_m);
bool build_occluders(builder *b);
bool build_facade(builder *b);
bool build_envelope(builder *b);  /* opaque walls and roofs, after the elements in them */
bool build_machinery(builder *b); /* after the obstacles and blocks */
bool build_loads(builder *b, gradin_loads *loads);
bool build_divide(builder *b);
bool build_drawn(builder *b); /* what is drawn besides; after the machinery */

/* Each complains of what cannot stand and assigns nothing. */
void check_focus(builder *b);
void check_focus_height(builder *b, const gradin_focus *focus);
void check_machines(builder *b); /* towers against lifts, solids, the room */
void check_blocks(builder *b);   /* fills; how many places there are */
void check_passages(builder *b); /* in the room, level */
void check_levels(builder *b);
void check_rail_feet(builder *b);
void check_places(builder *b); /* room, support, solids, overlap */
void check_seats(builder *b);
void check_scenery(builder *b);  /* on one level, on no seat, in the room */
void note_doubts(builder *b);    /* accepted, but seldom meant */
void note_misplaced(builder *b); /* the same of what stands where it is seldom meant */

/* Whether a row of a floor block stands on a platform, raised without a lift; it reaches down to
 * the floor, or to the slab that carries it. */
bool platform_below(const builder *b, const place *p, double *bottom_m);

/* Whether something under a place, down to bottom_m, is in the headroom of a passage under it. */
bool is_in_headroom(const builder *b, const place *p, double bottom_m, const gradin_passage *way);

/* What is under the corners and the middle of a place that stands on the floor or on lifts. */
typedef struct footing {
    double least_m, most_m;
    double jump_m; /* greatest step under it, beyond what slopes of the floor make */
    double lift_m; /* height of the lift under it that is farthest from 0; 0 without one */
    int n_off;     /* of the five points that lie off the lifts */
} footing;
footing footing_of(const builder *b, const place *p);
/* What a place of a floor block stands on, below its own platform: the floor, or the highest fixed
 * solid. */
double ground_below_m(const builder *b, const place *p);
/* The fixed floor, whatever stands or lies on it. */
double fixed_floor_m(const builder *b, gradin_vec2 at_m);

/* How many seats a row of arcs holds; how far its eyes are behind the first row's. */
int arc_holds(const gradin_block *from, int row, double radius_m);
double row_back_m(const gradin_block *from, int row);
bool place_is_in_room(const builder *b, const place *p);
/* "Stalls row C seat 7", for complaints. */
const char *place_name(builder *b, const place *p);

/* Whether a fill takes places of this section; the bearing that all of them face. */
bool is_filled(const builder *b, const gradin_block *from, int section);
typedef struct fill_facing {
    double deg;       /* NAN when there is none */
    int at_odds;      /* section that faces another way than the block; -1 */
    double block_deg; /* the way of the block, when one is at odds */
    bool is_stated;   /* by the block or a terrace */
} fill_facing;
fill_facing fill_facing_of(const builder *b, const gradin_block *from);

/* Points spread over an area of the plan, four per square metre and never fewer than four wanted.
 */
typedef struct spots {
    gradin_vec2 *point_m; /* [n] */
    int n;
} spots;
/* False when out of memory. */
bool find_spots(builder *b, gradin_polygon polygon, spots *found);

/* Shared helpers. */
bool add_place(builder *b, place p);
bool add_obstacle(builder *b, obstacle o);
bool add_rail(builder *b, gradin_rail rail);
int add_occluder_name(builder *b, const char *name); /* -1 when out of memory */
/* Makes room for many at once. */
bool reserve_occluders(builder *b, int n_more);
bool add_occluder(builder *b, gradin_shape shape, gradin_cause cause, int owner, int name);
int add_block_name(builder *b, const char *name, const gradin_place *at);
/* The plan point a distance along a bearing. */
gradin_vec2 point_along_m(gradin_vec2 from_m, double bearing_deg, double distance_m);
/* A rectangle in the arena: along lies along the bearing. corner_m NULL when out of memory. */
gradin_polygon make_rectangle(complaints *c, gradin_vec2 centre_m, double bearing_deg,
                              double along_m, double across_m);
/* One rail from its foot points: bars as capsules, panels as boxes, posts. */
typedef struct rail_form {
    gradin_rail_kind kind;
    double height_m, thickness_m, post_spacing_m;
    int n_bar;
} rail_form;
bool build_rail(builder *b, const char *name, const gradin_vec3 *foot_m, int n_point,
                const rail_form *form, int sheet);
/* Body of a seated person on plan, for overlaps: width x min(depth, BODY_DEPTH_M). */
#define BODY_DEPTH_M 0.60
/* Places less apart in height than this share one level. */
#define HEADROOM_M 1.0
void place_corners(const place *p, double depth_m, gradin_vec2 corner_m[4]);

#endif
