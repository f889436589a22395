/* gradin/model.h: one layout of a venue, built: every seat with an eye, a head and a facing,
 * everything that can hide the focus, every element that lets noise in. Lengths m, heights above
 * the plan origin's level, bearings clockwise from north.
 *
 * Ownership and threads: A model lives in the arena that is given and points into the venue and the
 * layout, which must outlive it; it is never changed once it is built, so any number of threads may
 * read it. */
#ifndef GRADIN_MODEL_H
#define GRADIN_MODEL_H

#include "gradin/layout.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Refused beyond these. */
enum { GRADIN_MAX_SAMPLE = 65536, GRADIN_MAX_PATCH = 8000 };

/* What hides. */

typedef enum gradin_cause {
    GRADIN_CAUSE_HEAD, /* heads and shoulders of the audience */
    GRADIN_CAUSE_RAIL,
    GRADIN_CAUSE_STRUCTURE, /* decks, soffits, columns, walls, lifts, set pieces */
    GRADIN_CAUSE_ARCH,
    GRADIN_N_CAUSE
} gradin_cause;

GRADIN_API const char *
gradin_cause_name(gradin_cause cause); /* "heads", "rails", "structure", "arch" */

/* Seats. */

enum { GRADIN_ON_FLOOR = -1, GRADIN_ON_DECK = -2 };

/* Struct of arrays; a seat is its index in all of them and in every later result. */
typedef struct gradin_seats {
    int n_seat;
    const char **id;   /* [n_seat] "block-row-number", unique, by the labels where given */
    int *block;        /* [n_seat] index into gradin_model.block_name */
    int *row, *number; /* [n_seat] 1-based in the block; rows from the front */
    const char **row_label, **seat_label; /* per seat as the house writes them; NULL, the arrays or
                                             an entry: row and number */
    gradin_seat_kind *kind;               /* [n_seat] */
    gradin_vec3 *floor_m; /* [n_seat] centre of the place on the tread it stands on */
    gradin_vec3 *eye_m;   /* [n_seat] mid-eye of the seated person, straight above floor_m */
    double *facing_deg;   /* [n_seat] bearing the seat faces */
    double *width_m;      /* [n_seat] across the facing */
    double *depth_m;      /* [n_seat] row depth, along the facing */
    int *sheet;           /* [n_seat] 0-based drawing sheet; places of one sheet never overlap */
    int *section;         /* [n_seat] lift section it stands on, GRADIN_ON_FLOOR, GRADIN_ON_DECK */
    int *level;           /* [n_seat] index into gradin_model.level_name */
    int n_sheet;
    int n_wheelchair, n_companion;
} gradin_seats;

/* What stands in the room (for drawing and for the room's acoustics). */

/* How a part of the fixed floor that is not at 0 lies. */
typedef struct gradin_floor_lie {
    gradin_vec2 middle_m; /* of its outline */
    double low_m, high_m;
    double slope, uphill_deg; /* rise per metre; NAN where it is level */
} gradin_floor_lie;

/* What a row of a block stands on when it is higher than the floor or the slab below, its aisles
 * included. */
typedef struct gradin_platform {
    const char *name; /* block and row */
    gradin_polygon polygon;
    double bottom_m, top_m;
} gradin_platform;

typedef struct gradin_rail {
    const char *name;
    const gradin_vec3 *point_m; /* [n_point] foot of the rail */
    int n_point;
    double height_m; /* top above its foot */
    int sheet;       /* sheet on which it is drawn; -1 on all */
    double thickness_m;
    bool has_top; /* bars or a panel; posts alone have no top to look over */
    gradin_rail_kind kind;
    int n_bar;
    double post_spacing_m;
} gradin_rail;

/* The arch when it is in: it divides the room into two along its line. Side 0 lies left of the line
 * from its first to its second end, side 1 right of it. */
typedef struct gradin_divide {
    const char *name, *side_name[2]; /* "arch"; "north", "south" */
    gradin_vec2 line_m[2];
    double section_m2, opening_m2; /* of the room at the line; what is open below the header */
    const char *closing_name;      /* NULL without a closing element */
    double closed;                 /* 0 up .. 1 down */
    double closing_r_db[GRADIN_N_BAND], closing_absorption[GRADIN_N_BAND];
} gradin_divide;

/* Side on which a plan point lies; 0 when nothing divides the room. */
GRADIN_API int gradin_divide_side(const gradin_divide *divide, gradin_vec2 at_m);

/* A lift section as it stands. */
typedef struct gradin_section {
    const char *name; /* such as F-A1 */
    gradin_vec2 corner_m[4];
    const gradin_machine *machine; /* where it is set, its travel and its drive */
    const gradin_lift_grid *grid;  /* what its treads can do */
} gradin_section;

/* Facade. */

/* One element of the envelope. A rectangle: corner_m is its lower corner, along its level base. An
 * upright one rises from there; a tilted one leans inwards, its outward normal tilt_deg above the
 * horizon, so that at 90 it is level and lies from its base against `outward`. */
typedef struct gradin_element {
    const char *name;
    const char *entry; /* facade entry that it is a bay of; NULL stands for its own name */
    gradin_element_kind kind;
    gradin_vec3 corner_m;
    gradin_vec2 along;   /* unit vector on plan of the base */
    gradin_vec2 outward; /* unit normal on plan, out of the room */
    double width_m, height_m;
    double tilt_deg; /* 0 upright .. 90 level */
    double taken;    /* wall, roof: share of the rectangle that is not its own, 0..1 */
    double absorption[GRADIN_N_BAND]; /* wall, roof: of its room side */
    double wall_top_m;                /* top of the wall it stands in, for its own shielding */
    int buildup;                      /* index, -1 for a vent and for what lets nothing through */
    int shade;                        /* index, -1 without */
    double joint_m;                   /* length of its seals */
    double joint_r_db; /* joint sound reduction per metre of seal at 500 Hz; INFINITY when no seal
                          is stated */
    double joint_shape_db[GRADIN_N_BAND]; /* added to it in each band */
    double dn_e_db[GRADIN_N_BAND];        /* vent */
    double open;                          /* door: 0 shut .. 1 open */
    gradin_exit exit;                     /* door: does it count as an exit */
} gradin_element;

/* Unit vectors at right angles: along its base, from the base to the far edge, out of the room. */
typedef struct gradin_frame {
    gradin_vec3 along, up, outward;
} gradin_frame;

GRADIN_API gradin_frame gradin_element_frame(const gradin_element *element);
/* Point of the element's plane. */
GRADIN_API gradin_vec3 gradin_element_point_m(const gradin_element *element, double along_m,
                                              double up_m);
/* A roof, a rooflight, or what leans more than it stands. */
GRADIN_API bool gradin_element_is_overhead(const gradin_element *element);
/* A wall or a roof. */
GRADIN_API bool gradin_element_is_opaque(const gradin_element *element);

/* People. */

enum { GRADIN_N_BODY = 3 };

/* Head, neck and shoulders of a seated person of these sizes as others see them. */
GRADIN_API void gradin_body_shapes(const gradin_audience *person, gradin_vec3 eye_m,
                                   double facing_deg, gradin_shape shape[GRADIN_N_BODY]);

/* The model. */

typedef struct gradin_model {
    const char *venue_name, *layout_name;
    gradin_form form;
    char digest[33]; /* hex XXH3-128 of all input files, in order of reading */

    gradin_polygon footprint;
    double ceiling_m, volume_m3;
    const gradin_section *section;
    const gradin_floor_region *floor;  /* [n_floor] the fixed floor is at 0 elsewhere */
    const gradin_floor_lie *floor_lie; /* [n_floor] */
    int n_floor;
    const gradin_solid *solid;
    const gradin_platform *platform;
    const gradin_rail *rail;
    const gradin_area *aisle, *vomitory;
    const gradin_surface *surface;
    const double *vomitory_top_deg; /* [n_vomitory] side at which the stair comes up; NAN when not
                                       stated */
    const gradin_way_under *vomitory_leads;        /* [n_vomitory] */
    const gradin_passage *const *vomitory_passage; /* [n_vomitory] the level passage that it is;
                                                      NULL: under a floor panel */
    const double *vomitory_exit_m; /* [n_vomitory] its clear width; NAN: that of its side */
    const int *aisle_sheet; /* [n_aisle] sheet of the seats it runs through; -1 when it has none */
    int n_section, n_solid, n_platform, n_rail, n_aisle, n_vomitory, n_surface;
    const gradin_divide *divide; /* NULL unless the arch is in */

    const char *const *block_name;
    int n_block;
    const char *const
        *level_name; /* [n_level] in order of first seat; "main floor" unless stated */
    const char *const
        *sheet_name; /* [seats.n_sheet] the levels on it, such as "main floor, lower" */
    int n_level;
    gradin_seats seats;
    gradin_audience audience;
    const gradin_focus *focus;
    int n_focus;
    const gradin_c_line *c_line; /* NULL: the edge of the lowest floor area */
    double axis_deg; /* bearing the stage faces; NAN when it has none (round, traverse) */

    gradin_scene scene;               /* all occluders; .cause is a gradin_cause, .owner a seat */
    const char *const *occluder_name; /* [n_occluder_name], index in gradin_occluder.name */
    int n_occluder_name;

    const gradin_buildup *buildup;
    const gradin_shade *shade;
    const gradin_element *element;
    int n_buildup, n_shade, n_element;
    double open_roof_m2, open_wall_m2; /* of roof and walls without a stated sound reduction */
    gradin_ground ground;              /* before the facade */
    bool has_finite_panes;             /* R of each pane by its own width and height */
    const gradin_site *site;           /* measured there; NULL: nothing */
    gradin_room_method room_method;
    bool has_diffuse_anyway;                   /* one field is asked for in a plan of any shape */
    double room_patch_m;                       /* longest side of a patch, radiosity */
    const gradin_reverberation *reverberation; /* measured in this layout; NULL: not */
    const gradin_pass *pass;                   /* NULL when the layout names none */

    gradin_limits limits;
    gradin_criterion criterion;
    const gradin_machinery *machinery; /* NULL: none, then fit and changeovers are refused */
    double rail_min_m;                 /* lowest rail that the venue's own local rules allow */
    const char *units;                 /* "m" or "ft": of the layout's file */
    const char *file, *venue_file;     /* that state it; NULL when made in memory */
    const char *const *note;           /* [n_note] accepted, but worth the user's knowing */
    int n_note;
} gradin_model;

/* Builds the model of a layout on a completed venue, then checks it. GRADIN_BAD_USE when a required
 * field is missing (the diagnostic names it), GRADIN_BAD_INPUT when the layout cannot stand: all
 * that can be found is told at once (up to GRADIN_MAX_DIAGNOSTIC). */
GRADIN_API gradin_status gradin_model_build(gradin_arena *arena, const gradin_venue *venue,
                                            const gradin_layout *layout, gradin_model *model,
                                            gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
