/* gradin/layout.h: one layout of a venue as it is stated: where it puts the machines, which rows of
 * seats it sets up, what is looked at, who looks, and what counts as good. No file format: a layout
 * is read by gradin/files.h or filled in memory. Lengths m, heights above the plan origin's level,
 * bearings clockwise from north.
 *
 * Ownership and threads: Everything a layout points to belongs to the caller and must outlive
 * whatever is built from it; any number of threads may read a layout that nobody changes. */
#ifndef GRADIN_LAYOUT_H
#define GRADIN_LAYOUT_H

#include "gradin/acoustics/source.h"
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
    double rise_m; /* of its tread above the block's base */
    /* As the house writes them, letters or figures; NULL: row and number. `row` counts from the
     * front whatever the label says. */
    const char *row_label, *seat_label;
} gradin_listed_seat;

/* How a file states the seats of a block: kept by the reader for the writer, opaque to others. */
struct gradin_seat_source;

/* A block of seats. Required: name, seat_width_m, row_depth_m or depth_m, and what its kind of rows
 * asks for. Zero does for the rest, but facing_deg of a fill is NAN when its lifts give it. */
typedef struct gradin_block {
    const char *name;
    const gradin_place *at;
    const char *level; /* such as "balcony"; NULL: the main floor, or above whom it stands over */
    gradin_support on;
    gradin_row_kind rows;
    double seat_width_m;
    double seat_depth_m; /* back to front edge, tipped up where it tips; NAN when not stated */
    double row_depth_m;
    const double *depth_m; /* [n_row] of straight or curved rows; NULL: all row_depth_m */
    /* Height of the front row. 0: on the floor, and where nothing says how rows rise, each place on
     * the floor under it. */
    double base_m;
    double riser_m;       /* rise of each row above the one before; the first is at the base */
    const double *rise_m; /* [n_row] of the first above the base; NULL: riser_m from row 2 on */
    double slope; /* of a sloping floor under straight or curved rows, rise over run, up to the back
                     from the first row; beside it no riser is read */
    /* Share of a seat by which every other row is shifted, -1..1: straight rows and fills to the
     * right of who sits there, arcs clockwise by half of it. */
    double stagger;
    int n_row;           /* straight, curved */
    int n_seat;          /* seats per row; arcs: 0 for as many as they hold */
    const int *row_seat; /* [n_row] of straight or curved rows; NULL: all n_seat */
    gradin_vec2 front_m; /* straight: middle of the first row; curved: centre of the arcs */
    double facing_deg;   /* straight, and fill on flat lifts */
    double radius_m;     /* curved: of the first row's eyes */
    double arc_deg[2];   /* curved: bearings from the centre, clockwise from first to last */
    int from_section, to_section;     /* fill: south-west and north-east one, of one grid */
    const gradin_listed_seat *listed; /* [n_listed] */
    int n_listed;
    const char *list_file; /* name of their seat list as the layout's file has it; may be NULL */
    const struct gradin_seat_source *source; /* of a list with columns of its own; may be NULL */
    gradin_seat_kind pattern[16];            /* repeated along each row */
    int n_pattern;                           /* 0: one seat */
    bool is_trimmed_to_room; /* leaves out places that reach through the room's walls */
    bool has_fan;            /* leaves out places that lie not wholly between two lines: */
    gradin_vec2 fan_m;       /* from this point */
    double fan_deg[2];       /* bearings, clockwise from first to last */
    double platform_kn_m2;   /* weight of the platform under it; 0 when not stated */
    int seating;             /* index into the venue's seating, where it lists any */
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
    double foot_m;     /* NAN: the surface below each point */
    const char *level; /* of the seats on whose map it is drawn; NULL: on all */
} gradin_rail_entry;

/* A level way at the height of the floor through a bank of seats that stands on it. Places over it
 * stay where its headroom is under their treads. Required: name, polygon, headroom_m. */
typedef struct gradin_passage {
    const char *name;
    const gradin_place *at;
    gradin_polygon polygon;
    double headroom_m; /* clear height over its floor */
    double cover_m;    /* from there up to the treads above */
    bool leads_out;    /* out of the hall, at its far end */
    double mouth_deg; /* bearing from its middle to the side at which one enters; NAN: not stated */
    double exit_width_m; /* its narrowest clear width; NAN: as wide as that side */
} gradin_passage;

/* What is looked at and heard. */

typedef enum gradin_focus_kind {
    GRADIN_FOCUS_FLOOR,   /* a stage, level or sloping */
    GRADIN_FOCUS_UPRIGHT, /* a screen, a cloth, surtitles: a line on plan, from bottom to top */
    GRADIN_FOCUS_POINT    /* a lectern, a face */
} gradin_focus_kind;

GRADIN_API const char *
gradin_focus_kind_name(gradin_focus_kind kind); /* "floor", "upright", "point" */

#define GRADIN_FOCUS_OVER_M 0.05

/* Required: name, weight, and a floor's polygon; an upright's line_m, bottom_m and top_m; a point's
 * point_m and z_m. Zero does for the rest. */
typedef struct gradin_focus {
    const char *name;
    gradin_focus_kind kind;
    gradin_polygon polygon; /* floor */
    double z_m; /* height above the plan origin: of a floor at its lowest corner (NAN: on the
                   surface below it), of a point */
    double slope, uphill_deg; /* floor: its rise per metre towards that bearing */
    double over_floor_m;      /* floor: its middle above all that is stated below it; the model's.
                                 Up to GRADIN_FOCUS_OVER_M it lies on that */
    bool is_raised; /* floor: so far that what stands lower is not asked for; the model's */
    const gradin_vec2 *line_m; /* [n_line] upright */
    int n_line;
    double bottom_m, top_m; /* upright */
    gradin_vec2 point_m;    /* point */
    double weight;          /* > 0; shares of the sum count */
    const gradin_place *at;
} gradin_focus;

/* Height of a floor's plane over a plan point, or of a point; NAN for NULL. */
GRADIN_API double gradin_focus_z_m(const gradin_focus *focus, gradin_vec2 at_m);
/* Centroid of a floor, middle of an upright, or the point; NAN for what is not complete. */
GRADIN_API gradin_vec3 gradin_focus_middle_m(const gradin_focus *focus);
/* Height of its lowest part; NAN for NULL. */
GRADIN_API double gradin_focus_lowest_m(const gradin_focus *focus);

/* The line to which C is measured: a stage front, a setting line, calf height. Required: name, two
 * points. */
typedef struct gradin_c_line {
    const char *name;
    const gradin_vec2 *point_m; /* [n_point] */
    int n_point;
    double z_m; /* above the plan origin */
    const gradin_place *at;
} gradin_c_line;

/* A straight, level overflight. */
typedef struct gradin_pass {
    const char *name;
    gradin_vec3 point_m; /* one point of the track; z is the altitude above the plan origin */
    double bearing_deg;  /* direction of flight */
    double speed_ms;
    double reference_m;             /* distance at which level_db holds, free field */
    double level_db[GRADIN_N_BAND]; /* dB re 20 uPa */
    bool is_octave;                 /* level_db was stated in octaves */
    gradin_directivity directivity;
    gradin_time_weighting weighting; /* of the maximum */
    bool has_lateral, has_impedance; /* as in gradin_traffic */
    double temperature_c, humidity_pct, pressure_kpa;
    double source_uncertainty_db, scatter_db; /* of its level; of single flights about it */
} gradin_pass;

/* People, thresholds. */

/* Whom the draws of a population are made from. */
typedef struct gradin_population {
    double women, men, children; /* shares, sum 1 */
    double slump_m;              /* the most that a person sits lower than erect */
} gradin_population;

typedef struct gradin_audience {
    double eye_height_m; /* seated eye above the tread: of everybody in the plain run, and the mean
                            of the drawn audiences, whatever their mix */
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

/* The figures of a seat that a rating may count; NONE is the reason of a clear seat. */
typedef enum gradin_reason {
    GRADIN_REASON_NONE,
    GRADIN_REASON_VISIBLE,
    GRADIN_REASON_CLEAR_VIEW, /* only where audiences were drawn */
    GRADIN_REASON_C_VALUE,
    GRADIN_REASON_DISTANCE,
    GRADIN_REASON_OFF_AXIS, /* only where the layout states an axis */
    GRADIN_REASON_DOWN,
    GRADIN_REASON_TURN,
    GRADIN_N_REASON
} gradin_reason;

/* Limits of the three upper classes [clear, good, fair]; a seat's rating is the worst of the
 * figures that count. NAN means no limit. */
typedef struct gradin_limits {
    double visible_min[3];      /* fraction of the focus */
    double clear_view_min[3];   /* share of drawn audiences that leave a clear view */
    double c_value_min_m[3];    /* over a head that stands in the plane of view */
    double head_gap_min_deg[3]; /* between two heads, where the view passes between them */
    double two_row_c_min_m[3];  /* over the row two ahead, where the row in front leaves a gap */
    double distance_max_m[3];   /* eye to the floors' middle */
    double off_axis_max_deg[3]; /* only when the layout states an axis */
    double down_max_deg[3];
    double turn_max_deg[3];
    bool is_left_out[GRADIN_N_REASON]; /* figures that the rating does not count */
    bool is_stated[GRADIN_N_REASON];   /* the brief's own; else the default */
    bool is_gap_stated;                /* the same of head_gap_min_deg, beside C */
    const char *brief;                 /* name of the brief; NULL: nobody stated one */
} gradin_limits;

typedef struct gradin_criterion {
    double nc;         /* noise criterion of the hall, 15..70; NAN when none */
    double lamax_dba;  /* limit of an event's maximum; NAN when none */
    double confidence; /* 0.5 to below 1: the chance with which a seat must be within the limits, or
                          over them, to be called so; 0.5 compares the bare levels */
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
    const gradin_solid *solid;     /* that stand in this layout only */
    const gradin_area *aisle;      /* places that it touches are left out */
    const gradin_passage *passage; /* [n_passage] */
    const gradin_focus *focus;
    const gradin_scenery *scenery; /* what a changeover brings in and takes out */
    int n_block, n_rail, n_solid, n_aisle, n_passage, n_focus, n_scenery;
    const gradin_c_line *c_line; /* NULL: the edge of the lowest floor area */

    gradin_room_method room_method;
    bool has_diffuse_anyway;                   /* one field is asked for in a plan of any shape */
    double room_patch_m;                       /* longest side of a patch, radiosity */
    const gradin_reverberation *reverberation; /* measured in this layout; NULL: not */
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

/* Height of the walking surface under a plan point: a lift tread, or the fixed floor. *section (may
 * be NULL) gets the lift section, or -1. */
GRADIN_API double gradin_surface_m(const gradin_venue *venue, const gradin_layout *layout,
                                   gradin_vec2 at_m, int *section);

/* Adults, half women and half men, erect: ANSUR II 2012, reference/anthropometry and theatre
 * practice (venue/layout_defaults.c names the source of each figure). */
GRADIN_API gradin_audience gradin_audience_defaults(void);
/* Limits of reference/viewing-limits: those of distance depend on the form. All figures but C
 * count, which has a class of its own. No noise criterion. */
GRADIN_API gradin_limits gradin_limits_defaults(gradin_form form);
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
