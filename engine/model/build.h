/* model/build.h: from a plan on a venue to the model. */
#ifndef GRADIN_LAYOUT_BUILD_H
#define GRADIN_LAYOUT_BUILD_H

#include "venue/plan.h"

/* A place before it is numbered. */
typedef struct place {
    int block; /* index into builder.block_name */
    int row, number;
    gradin_seat_kind kind;
    gradin_vec2 at_m;
    double z_m; /* of the tread */
    double facing_deg, width_m, depth_m;
    int deck; /* index of the tower level that carries it, -1 on floor and lifts */
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
    reader *r;
    const venue *v;
    plan *p;
    gradin_model *model;
    place *place;
    obstacle *obstacle;
    deck *deck;
    gradin_rail *rail;
    gradin_solid *solid; /* for drawing */
    gradin_occluder *occluder;
    const char **occluder_name, **block_name;
    const node **block_at; /* [n_block_name] where the block is stated, NULL for tower levels */
    int n_place, n_obstacle, n_deck, n_rail, n_solid, n_occluder, n_occluder_name, n_block_name;
    int place_capacity, obstacle_capacity, deck_capacity, rail_capacity, occluder_capacity;
    int occluder_name_capacity, block_name_capacity;
} builder;

/* Height of the walking surface under a plan point: a lift tread, or the floor at 0. *section (may
 * be NULL) gets the lift section, or -1. */
double surface_m(const venue *v, const plan *p, gradin_vec2 at_m, int *section);
/* Plan rectangle of one tread of a section. */
void tread_corners(const lift_section *s, const section_state *state, int tread,
                   gradin_vec2 corner_m[4]);

/* Each adds to the builder and complains on its own; false only when out of memory. */
bool build_decks(builder *b);        /* tower levels: decks, posts, rails, solids */
bool build_obstacles(builder *b);    /* solids, lifts, arch */
void build_solid_sheets(builder *b); /* drawn solids follow the sheets of their decks */
bool build_places(builder *b);       /* blocks and decks */
bool build_deck_places(builder *b);
bool place_file_rows(builder *b, int index, const seat_block *from);
void check_places(builder *b);   /* room, support, solids, overlap */
void check_machines(builder *b); /* towers against lifts, solids, the room */
bool build_seats(builder *b);    /* numbers, ids, eyes, sheets */
bool build_rails(builder *b);
bool build_occluders(builder *b);
/* Whether a row of a floor block stands on a platform, raised without a lift; it reaches down to
 * the floor, or to the slab that carries it. */
bool platform_below(const builder *b, const place *p, double *bottom_m);
bool build_facade(builder *b);
bool build_focus(builder *b);
bool build_machinery(builder *b); /* after the obstacles and blocks */
bool build_loads(builder *b, gradin_loads *loads);
bool build_divide(builder *b);

/* Shared helpers. */
bool add_place(builder *b, place p);
bool add_obstacle(builder *b, obstacle o);
bool add_rail(builder *b, gradin_rail rail);
int add_occluder_name(builder *b, const char *name); /* -1 when out of memory */
/* Makes room for many at once. */
bool reserve_occluders(builder *b, int n_more);
bool add_occluder(builder *b, gradin_shape shape, gradin_cause cause, int owner, int name);
int add_block_name(builder *b, const char *name, const node *at);
/* The plan point a distance along a bearing. */
gradin_vec2 step_m(gradin_vec2 from_m, double bearing_deg, double distance_m);
/* A rectangle in the arena: along lies along the bearing. corner_m NULL when out of memory. */
gradin_polygon make_rectangle(reader *r, gradin_vec2 centre_m, double bearing_deg, double along_m,
                              double across_m);
/* One rail from its foot points: bars as capsules, panels as boxes, posts. */
typedef struct rail_form {
    int kind; /* gradin_rail_kind */
    double height_m, thickness_m, post_spacing_m;
    int n_bar;
} rail_form;
bool build_rail(builder *b, const char *name, const gradin_vec3 *foot_m, int n_point,
                const rail_form *form, int sheet);
/* Body of a seated person on plan, for overlaps: width x min(depth, BODY_DEPTH_M). */
#define BODY_DEPTH_M 0.60
void place_corners(const place *p, double depth_m, gradin_vec2 corner_m[4]);

#endif
