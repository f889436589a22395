/* gradin/layout.h: one layout of a venue as it is stated: where it puts the machines, which rows of
 * seats it sets up, what is looked at, who looks, and what counts as good. No file format: a layout
 * is read by gradin/files.h or filled in memory. Lengths m, heights above the plan origin's level,
 * bearings clockwise from north.
 *
 * Ownership and threads: Everything a layout points to belongs to the caller and must outlive
 * whatever is built from it; any number of threads may read a layout that nobody changes. */
#ifndef GRADIN_LAYOUT_H
#define GRADIN_LAYOUT_H

#include "gradin/source.h"
#include "gradin/venue.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Refused beyond these. */
enum { GRADIN_MAX_SEAT = 20000, GRADIN_MAX_FOCUS = 32, GRADIN_MAX_BLOCK_ROW = 200 };

typedef enum gradin_form {
    GRADIN_FORM_END_STAGE,
    GRADIN_FORM_THRUST,
    GRADIN_FORM_ROUND,
    GRADIN_FORM_TRAVERSE,
    GRADIN_FORM_FLAT_FLOOR,
    GRADIN_FORM_CUSTOM
} gradin_form;

GRADIN_API const char *gradin_form_name(gradin_form form); /* "end stage", ... */

typedef enum gradin_seat_kind {
    GRADIN_SEAT_STANDARD,
    GRADIN_SEAT_WHEELCHAIR,
    GRADIN_SEAT_COMPANION
} gradin_seat_kind;

GRADIN_API const char *
gradin_seat_kind_name(gradin_seat_kind kind); /* "seat", "wheelchair", "companion" */

/* Machines. */

/* Where one machine of the venue stands in this layout. */
typedef struct gradin_machine_state {
    gradin_setting set;
    const gradin_place *at; /* entry that sets it; NULL when parked or made in memory */
} gradin_machine_state;

/* Seats. */

/* Lift sections that are set alike: a rectangle of one grid from its south-west to its north-east
 * section. */
typedef struct gradin_lift_setting {
    const char *from, *to; /* names of the sections; the same for one alone */
    gradin_setting set;
} gradin_lift_setting;

typedef enum gradin_row_kind {
    GRADIN_ROWS_STRAIGHT,
    GRADIN_ROWS_CURVED, /* arcs about a centre */
    GRADIN_ROWS_FILL,   /* as many as the treads of lift sections hold */
    GRADIN_ROWS_LISTED  /* seat by seat */
} gradin_row_kind;

typedef enum gradin_support { GRADIN_SUPPORT_FLOOR, GRADIN_SUPPORT_LIFTS } gradin_support;

typedef struct gradin_listed_seat {
    int row, number;
    gradin_seat_kind kind;
    gradin_vec2 at_m;
    double facing_deg;
} gradin_listed_seat;

/* A block of seats. Required: name, seat_width_m, row_depth_m or depth_m, and what its kind of rows
 * asks for. Zero does for the rest, but facing_deg of a fill is NAN when its lifts give it. */
typedef struct gradin_block {
    const char *name;
    const gradin_place *at;
    gradin_support on;
    gradin_row_kind rows;
    double seat_width_m;
    double row_depth_m;
    const double *depth_m; /* [n_row] of straight or curved rows; NULL: all row_depth_m */
    double base_m;         /* height of the platform's front row above the floor */
    double riser_m;        /* rise of each row above the one before, of the first above the base */
    const double *rise_m;  /* [n_row]; NULL: all riser_m */
    double stagger;        /* share of a seat by which every other row is shifted */
    int n_row;             /* straight, curved */
    int n_seat;            /* seats per straight row */
    gradin_vec2 front_m;   /* straight: middle of the first row; curved: centre of the arcs */
    double facing_deg;     /* straight, and fill on flat lifts */
    double radius_m;       /* curved: of the first row's eyes */
    double arc_deg[2];     /* curved: bearings from the centre, clockwise from first to last */
    int from_section, to_section;     /* fill: south-west and north-east one, of one grid */
    const gradin_listed_seat *listed; /* [n_listed] */
    int n_listed;
    const char *list_file; /* name of their seat list as the layout's file has it; may be NULL */
    gradin_seat_kind pattern[16]; /* repeated along each row */
    int n_pattern;                /* 0: one seat */
    double platform_kn_m2;        /* weight of the platform under it; 0 when not stated */
    int seating;                  /* index into the venue's seating, where it lists any */
} gradin_block;

/* A rail that the crew sets up. Required: name, two points, height_m, thickness_m, and for bars
 * n_bar and post_spacing_m. */
typedef struct gradin_rail_entry {
    const char *name;
    const gradin_place *at;
    const gradin_vec2 *point_m; /* [n_point] */
    int n_point;
    gradin_rail_kind kind;
    double height_m, thickness_m, post_spacing_m;
    int n_bar;
    double foot_m; /* NAN: the surface below each point */
} gradin_rail_entry;

/* What is looked at and heard. */

/* Required: name, polygon, weight. */
typedef struct gradin_focus {
    const char *name;
    gradin_polygon polygon;
    double z_m;    /* height of the acting plane above the plan origin; NAN: on the surface below */
    double weight; /* > 0; shares of the sum count */
    const gradin_place *at;
} gradin_focus;

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
    bool has_lateral, has_impedance; /* as in gradin_traffic */
    double temperature_c, humidity_pct, pressure_kpa;
} gradin_pass;

/* People, thresholds. */

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

/* The layout. */

/* A layout. Required: name, one focus area, and what each entry asks for. Start from
 * gradin_layout_defaults(), then fill in. */
typedef struct gradin_layout {
    const char *name;
    const gradin_place *at;
    const char *units; /* "m" or "ft": in which complaints and results show lengths */
    gradin_form form;
    double axis_deg; /* bearing the stage faces; NAN when it has none (round, traverse) */

    gradin_machine_state *machine; /* [n_machine of the venue] */
    bool *is_seated;               /* [n_tower of the venue] its seats are part of this layout */
    bool is_arch_in;

    const gradin_block *block;
    const gradin_rail_entry *rail;
    const gradin_solid *solid; /* that stand in this layout only */
    const gradin_area *aisle;  /* places that it touches are left out */
    const gradin_focus *focus;
    int n_block, n_rail, n_solid, n_aisle, n_focus;

    gradin_room_method room_method;
    double room_patch_m; /* longest side of a patch, radiosity */
    gradin_audience audience;
    gradin_limits limits;
    gradin_criterion criterion;
    const gradin_pass *pass; /* NULL without */
} gradin_layout;

/* An empty layout of the completed venue: every machine parked (lifts at floor level, towers at
 * hoist and slide 0 without seats, the arch flown out, shades open, doors shut), the audience of
 * gradin_audience_defaults(), the limits of gradin_limits_defaults(), a diffuse room. The states
 * of the machines go into the arena. GRADIN_BAD_USE for a venue that is not complete. */
GRADIN_API gradin_status gradin_layout_defaults(gradin_arena *arena, const gradin_venue *venue,
                                                gradin_layout *layout, gradin_error *error);

/* The two halves of that: all but the machines, and the states of the machines as parked. */
GRADIN_API gradin_layout gradin_layout_empty(void);
GRADIN_API gradin_status gradin_layout_park(gradin_arena *arena, const gradin_venue *venue,
                                            gradin_layout *layout, gradin_error *error);

/* Where the layout sets the machine that moves an item; NULL when there is none. */
GRADIN_API const gradin_machine_state *gradin_layout_state(const gradin_venue *venue,
                                                           const gradin_layout *layout,
                                                           gradin_machine_kind kind, int item);

/* Height of the walking surface under a plan point: a lift tread, or the floor at 0. *section (may
 * be NULL) gets the lift section, or -1. */
GRADIN_API double gradin_surface_m(const gradin_venue *venue, const gradin_layout *layout,
                                   gradin_vec2 at_m, int *section);

/* Adults, half women and half men, erect: ANSUR II 2012, reference/anthropometry and theatre
 * practice (venue/layout_defaults.c names the source of each figure). */
GRADIN_API gradin_audience gradin_audience_defaults(void);
/* Limits of reference/viewing-limits; no noise criterion. */
GRADIN_API gradin_limits gradin_limits_defaults(void);
GRADIN_API gradin_criterion gradin_criterion_defaults(void);
/* A block on the floor, one kind of seat; a rail of one bar 50 mm thick with posts 1.5 m apart on
 * the surface below it; a focus area of weight 1 on the surface below it; air of 20 degC, 50 %,
 * 101.325 kPa. */
GRADIN_API gradin_block gradin_block_defaults(void);
GRADIN_API gradin_rail_entry gradin_rail_entry_defaults(void);
GRADIN_API gradin_focus gradin_focus_defaults(void);
GRADIN_API gradin_pass gradin_pass_defaults(void);

/* Holds a layout against its venue: GRADIN_BAD_USE for what is missing, GRADIN_BAD_INPUT for
 * machines out of their travel, interlocks that it breaks, rails lower than the venue allows,
 * blocks of one name. Whether everybody can sit is seen by gradin_model_build(). */
GRADIN_API gradin_status gradin_layout_check(gradin_arena *arena, const gradin_venue *venue,
                                             const gradin_layout *layout, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
