/* gradin/layout.h: the venue and one layout of it, read from YAML, checked, and built into a model:
 * every seat with an eye, a head and a facing, every thing that can hide the focus, every element
 * that lets noise in. The model and all that it points to live in the arena given to
 * gradin_model_read(). Lengths m, heights above the plan origin's level, bearings clockwise from
 * north. */
#ifndef GRADIN_LAYOUT_H
#define GRADIN_LAYOUT_H

#include "gradin/buildup.h"
#include "gradin/machines.h"
#include "gradin/room.h"
#include "gradin/source.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Refused beyond these. */
enum {
    GRADIN_MAX_SEAT = 20000,
    GRADIN_MAX_BAY = 2000,
    GRADIN_MAX_SAMPLE = 65536,
    GRADIN_MAX_SECTION = 4096,
    GRADIN_MAX_PATCH = 8000,
    GRADIN_MAX_FOCUS = 32,
    GRADIN_MAX_TRIANGLE = 5000000 /* of all meshes of a layout and its venue */
};

/* ---- what hides ------------------------------------------------------------------------------ */

typedef enum gradin_cause {
    GRADIN_CAUSE_HEAD, /* heads and shoulders of the audience */
    GRADIN_CAUSE_RAIL,
    GRADIN_CAUSE_STRUCTURE, /* decks, soffits, columns, walls, lifts, set pieces */
    GRADIN_CAUSE_ARCH,
    GRADIN_N_CAUSE
} gradin_cause;

GRADIN_API const char *
gradin_cause_name(gradin_cause cause); /* "heads", "rails", "structure", "arch" */

/* ---- seats ----------------------------------------------------------------------------------- */

typedef enum gradin_seat_kind {
    GRADIN_SEAT_STANDARD,
    GRADIN_SEAT_WHEELCHAIR,
    GRADIN_SEAT_COMPANION
} gradin_seat_kind;

GRADIN_API const char *
gradin_seat_kind_name(gradin_seat_kind kind); /* "seat", "wheelchair", "companion" */

enum { GRADIN_ON_FLOOR = -1, GRADIN_ON_DECK = -2 };

/* Struct of arrays; a seat is its index in all of them and in every later result. */
typedef struct gradin_seats {
    int n_seat;
    const char **id;        /* [n_seat] "block-row-number", unique */
    int *block;             /* [n_seat] index into gradin_model.block_name */
    int *row, *number;      /* [n_seat] 1-based in the block */
    gradin_seat_kind *kind; /* [n_seat] */
    gradin_vec3 *floor_m;   /* [n_seat] centre of the place on the tread it stands on */
    gradin_vec3 *eye_m;     /* [n_seat] mid-eye of the seated person, straight above floor_m */
    double *facing_deg;     /* [n_seat] bearing the seat faces */
    double *width_m;        /* [n_seat] across the facing */
    double *depth_m;        /* [n_seat] row depth, along the facing */
    int *sheet;             /* [n_seat] 0-based drawing sheet; places of one sheet never overlap */
    int *section; /* [n_seat] lift section it stands on, GRADIN_ON_FLOOR, GRADIN_ON_DECK */
    int n_sheet;
    int n_wheelchair, n_companion;
} gradin_seats;

/* ---- the room, the machines, what stands in it (for drawing and for the room's acoustics) ---- */

typedef struct gradin_focus {
    const char *name;
    gradin_polygon polygon;
    double z_m;    /* height of the acting plane above the plan origin */
    double weight; /* > 0; shares of the sum count */
} gradin_focus;

typedef enum gradin_rail_kind {
    GRADIN_RAIL_BAR,
    GRADIN_RAIL_SOLID,
    GRADIN_RAIL_POSTS
} gradin_rail_kind;

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

typedef enum gradin_solid_kind {
    GRADIN_SOLID_COLUMN,
    GRADIN_SOLID_SLAB, /* decks, soffits, galleries */
    GRADIN_SOLID_WALL,
    GRADIN_SOLID_SET,  /* set pieces */
    GRADIN_SOLID_MESH, /* triangles of a model file; the polygon is their outline */
    GRADIN_SOLID_ARCH  /* panels of the proscenium arch */
} gradin_solid_kind;

typedef struct gradin_solid {
    const char *name;
    gradin_solid_kind kind;
    gradin_polygon polygon;
    double bottom_m, top_m;
    int sheet;                          /* sheet on which it is drawn; -1 on all */
    double mass_kg, carries_kn;         /* its own, and what it bears; 0 when not stated */
    const gradin_vec3 (*triangle_m)[3]; /* [n_triangle] of a mesh; NULL: a prism */
    int n_triangle;
} gradin_solid;

typedef struct gradin_section {
    const char *name; /* lift section, such as F-A1 */
    gradin_vec2 corner_m[4];
    double height_m;   /* of its lowest tread */
    int n_step;        /* treads, 1 when flat */
    double riser_m;    /* between treads */
    double facing_deg; /* bearing that people on the treads face: the lowest tread is in front */
    double travel_m[2], riser_limit_m[2]; /* lowest and highest tread; between its treads */
    int most_steps;                       /* treads it can make */
    bool faces[4];                        /* bearings 0, 90, 180, 270 towards which it terraces */
    double speed_ms;
} gradin_section;

typedef struct gradin_area {
    const char *name;
    gradin_polygon polygon;
} gradin_area;

/* ---- facade -------------------------------------------------------------------------------- */

typedef enum gradin_element_kind {
    GRADIN_ELEMENT_PANE, /* one glazed bay */
    GRADIN_ELEMENT_DOOR,
    GRADIN_ELEMENT_VENT /* small element by its Dn,e; no area of its own */
} gradin_element_kind;

/* People open a door by hand; one that a machine opens is an exit only while it stands open. */
typedef enum gradin_exit {
    GRADIN_EXIT_BY_HAND,
    GRADIN_EXIT_WHEN_OPEN,
    GRADIN_EXIT_NONE
} gradin_exit;

/* One element of the facade. A rectangle in a wall: corner_m is its lower corner, along its base.
 */
typedef struct gradin_element {
    const char *name;
    const char *entry; /* facade entry that it is a bay of; NULL stands for its own name */
    gradin_element_kind kind;
    gradin_vec3 corner_m;
    gradin_vec2 along;   /* unit vector on plan of the base */
    gradin_vec2 outward; /* unit normal on plan, out of the room */
    double width_m, height_m;
    double wall_top_m; /* top of the wall it stands in, for its own shielding */
    int buildup;       /* index, -1 for a vent */
    int shade;         /* index, -1 without */
    double joint_m;    /* length of its seals */
    double joint_r_db; /* joint sound reduction per metre of seal, one value; INFINITY when
                          no seal is stated */
    double dn_e_db[GRADIN_N_BAND]; /* vent */
    double open;                   /* door: 0 shut .. 1 open */
    gradin_exit exit;              /* door: does it count as an exit */
} gradin_element;

/* A straight, level overflight. */
typedef struct gradin_pass {
    const char *name;
    gradin_vec3 point_m; /* one point of the track; z is the altitude above the plan origin */
    double bearing_deg;  /* direction of flight */
    double speed_ms;
    double reference_m;             /* distance at which level_db holds, free field */
    double level_db[GRADIN_N_BAND]; /* dB re 20 uPa */
    gradin_directivity directivity;
    gradin_time_weighting weighting; /* of the maximum */
    double temperature_c, humidity_pct, pressure_kpa;
} gradin_pass;

/* ---- people, thresholds ---------------------------------------------------------------------- */

/* Whom the draws of a population are made from. */
typedef struct gradin_population {
    double women, men, children; /* shares, sum 1 */
    double slump_m;              /* the most that a person sits lower than erect */
    double seat_height_m;        /* of the loaded seat above the tread */
} gradin_population;

typedef struct gradin_audience {
    double eye_height_m;            /* seated eye above the tread */
    double wheelchair_eye_height_m; /* above the tread */
    double standing_eye_height_m;   /* of a person who stands up in a row, above the tread */
    double crown_m;                 /* eye to crown */
    double head_height_m, head_breadth_m, head_length_m;
    double shoulder_breadth_m, shoulder_drop_m; /* over all; eye to shoulder top */
    double eye_distance_m; /* between the two eyes; 0: only the mid-eye looks */
    gradin_population population;
} gradin_audience;

enum { GRADIN_N_BODY = 3 };

/* Head, neck and shoulders of a seated person of these sizes as others see them. */
GRADIN_API void gradin_body_shapes(const gradin_audience *person, gradin_vec3 eye_m,
                                   double facing_deg, gradin_shape shape[GRADIN_N_BODY]);

typedef enum gradin_rating {
    GRADIN_RATING_CLEAR,
    GRADIN_RATING_GOOD,
    GRADIN_RATING_FAIR,
    GRADIN_RATING_POOR,
    GRADIN_N_RATING
} gradin_rating;

GRADIN_API const char *
gradin_rating_name(gradin_rating rating); /* "clear", "good", "fair", "poor" */

/* Limits of the three upper ratings [clear, good, fair]; a seat's rating is the worst of its
 * figures. NAN means no limit. */
typedef struct gradin_limits {
    double visible_min[3];      /* fraction of the focus */
    double c_value_min_m[3];    /* only where somebody sits in front */
    double distance_max_m[3];   /* eye to focus centroid */
    double off_axis_max_deg[3]; /* only when the layout states an axis */
    double down_max_deg[3];
    double turn_max_deg[3];
} gradin_limits;

typedef struct gradin_criterion {
    double nc;        /* noise criterion of the hall, 15..70; NAN when none */
    double lamax_dba; /* limit of an event's maximum; NAN when none */
} gradin_criterion;

typedef enum gradin_form {
    GRADIN_FORM_END_STAGE,
    GRADIN_FORM_THRUST,
    GRADIN_FORM_ROUND,
    GRADIN_FORM_TRAVERSE,
    GRADIN_FORM_FLAT_FLOOR,
    GRADIN_FORM_CUSTOM
} gradin_form;

GRADIN_API const char *gradin_form_name(gradin_form form); /* "end stage", ... */

/* ---- the model ------------------------------------------------------------------------------- */

typedef struct gradin_model {
    const char *venue_name, *layout_name;
    gradin_form form;
    char digest[33]; /* hex XXH3-128 of all input files, in order of reading */

    gradin_polygon footprint;
    double ceiling_m, volume_m3;
    const gradin_section *section;
    const gradin_solid *solid;
    const gradin_rail *rail;
    const gradin_area *aisle, *vomitory;
    const gradin_surface *surface;
    const double *vomitory_top_deg; /* [n_vomitory] side at which the stair comes up; NAN when not
                                       stated */
    int n_section, n_solid, n_rail, n_aisle, n_vomitory, n_surface;
    const gradin_divide *divide; /* NULL unless the arch is in */

    const char *const *block_name;
    int n_block;
    gradin_seats seats;
    gradin_audience audience;
    const gradin_focus *focus;
    int n_focus;
    double axis_deg; /* bearing the stage faces; NAN when it has none (round, traverse) */

    gradin_scene scene;               /* all occluders; .cause is a gradin_cause, .owner a seat */
    const char *const *occluder_name; /* [n_occluder_name], index in gradin_occluder.name */
    int n_occluder_name;

    const gradin_buildup *buildup;
    const gradin_shade *shade;
    const gradin_element *element;
    int n_buildup, n_shade, n_element;
    bool has_finite_panes; /* R of each pane by its own width and height */
    gradin_room_method room_method;
    double room_patch_m;     /* longest side of a patch, radiosity */
    const char *room_cache;  /* folder that keeps the room's transfer by radiosity; NULL: none */
    const gradin_pass *pass; /* NULL when the layout names none */

    gradin_limits limits;
    gradin_criterion criterion;
    const gradin_machinery *machinery;
    double rail_min_m;       /* lowest rail that the venue's own local rules allow */
    const char *units;       /* "m" or "ft": of the layout's file */
    const char *const *note; /* [n_note] accepted, but worth the user's knowing */
    int n_note;
} gradin_model;

/* Reads the layout, its venue and the files they name, checks everything and builds the model into
 * the arena. All errors of a file come at once (up to GRADIN_MAX_DIAGNOSTIC). */
GRADIN_API gradin_status gradin_model_read(gradin_arena *arena, const char *layout_path,
                                           gradin_model *model, gradin_error *error);

/* The same from a text that stands for the file of that path; NULL reads the file. */
GRADIN_API gradin_status gradin_model_read_text(gradin_arena *arena, const char *layout_path,
                                                const char *text, gradin_model *model,
                                                gradin_error *error);

/* Checks any one input file (venue, layout, overflight, traffic, brief or wishes, told by its
 * `format` key); a layout is built as by gradin_model_read(). *kind (may be NULL) gets its English
 * name. */
GRADIN_API gradin_status gradin_file_check(const char *path, const char **kind,
                                           gradin_error *error);

/* Build-ups without a model. */
typedef struct gradin_buildups {
    const char *source; /* the venue's name, or the name of the file of values */
    char digest[33];    /* of the files read, as in gradin_model */
    const gradin_buildup *buildup;
    int n_buildup;
    const gradin_shade *shade; /* [n_shade] of the venue */
    int n_shade;
    const char *const *note; /* [n_note] as in gradin_model */
    int n_note;
} gradin_buildups;

/* Those of a venue file; n_name > 0 picks some by name, in that order. */
GRADIN_API gradin_status gradin_buildups_read(gradin_arena *arena, const char *venue_path,
                                              const char *const *name, int n_name,
                                              gradin_buildups *found, gradin_error *error);
/* One measured build-up from a CSV file of band values; bands that it lacks are NAN. */
GRADIN_API gradin_status gradin_curve_read(gradin_arena *arena, const char *csv_path,
                                           gradin_buildups *found, gradin_error *error);

/* Replaces the thresholds of a model by those of a brief file. */
GRADIN_API gradin_status gradin_brief_read(gradin_arena *arena, const char *brief_path,
                                           gradin_model *model, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
