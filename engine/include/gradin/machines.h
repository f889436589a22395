/* gradin/machines.h: what a venue's machines are and where one layout puts them: drives, solid
 * parts, interlocks, crew, seating stock. Lengths m, heights above the plan origin's level.
 * Nothing here controls a machine: trained operators follow the maker's procedure.
 *
 * Ownership and threads: Settings and drives are plain values; all that points belongs to the venue
 * or model that has it, and any number of threads may read it. */
#ifndef GRADIN_MACHINES_H
#define GRADIN_MACHINES_H

#include "gradin/loads.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum gradin_machine_kind {
    GRADIN_MACHINE_SECTION, /* lift section: height of its lowest tread, m */
    GRADIN_MACHINE_HOIST,   /* seating tower on its cables, m */
    GRADIN_MACHINE_SLIDE,   /* the same tower sideways, m */
    GRADIN_MACHINE_TURN,    /* a tower that turns: degrees clockwise from its own facing */
    GRADIN_MACHINE_TRIM,    /* arch: underside of its header, m; flown out at the top */
    GRADIN_MACHINE_OPENING, /* arch: clear width, m */
    GRADIN_MACHINE_CURTAIN, /* closing element of the arch: 0 open, 1 down */
    GRADIN_MACHINE_PANEL,   /* floor panel: 0 in place, 1 away */
    GRADIN_MACHINE_SHADE,   /* 0 open, 1 shut */
    GRADIN_MACHINE_DOOR,    /* 0 shut, 1 open */
    GRADIN_N_MACHINE_KIND
} gradin_machine_kind;

/* "m" where a machine's position is a length, "deg" where it is an angle, "" where it is a share
 * 0..1. */
GRADIN_API const char *gradin_machine_unit(gradin_machine_kind kind);
GRADIN_API bool gradin_machine_is_length(gradin_machine_kind kind);

/* What moves a machine and what that asks of the house. */
typedef struct gradin_drive {
    double speed_per_s;  /* of the position; INFINITY when at once */
    double accel_per_s2; /* 0 when none is stated */
    double prepare_s;    /* pins, checks and clearing, before and after together */
    double mass_kg, power_kw;
    int crew;             /* people it takes while it moves */
    bool are_people_near; /* may others work beside it meanwhile */
    int at_once;          /* sections of a grid that may move together */
    double turn_s;        /* to turn a section's treads a quarter, flat */
} gradin_drive;

/* Where a machine stands. Only lift sections have more than one tread. */
typedef struct gradin_setting {
    double position; /* sections: lowest tread */
    int n_step;
    double riser_m, facing_deg;
} gradin_setting;

typedef struct gradin_machine {
    const char *name; /* "F-A1", "W1 hoist", "arch trim" */
    gradin_machine_kind kind;
    int item;  /* section, tower, panel, shade or facade entry that it moves; 0: the arch */
    int group; /* equal for sections of one grid; -1 for all else */
    int body;  /* index into gradin_machinery.body; -1 without */
    double travel[2];
    gradin_vec3 way; /* of its rigid body for one unit of position; zero when it changes shape or
                        turns */
    gradin_vec2 pivot_m; /* GRADIN_MACHINE_TURN: point about which the body turns, as its slide
                            stands, */
    double facing_deg;   /* and the bearing that it faces at position 0 */
    gradin_drive drive;
    gradin_setting setting; /* in this layout */
} gradin_machine;

typedef struct gradin_part {
    const char *name;
    gradin_polygon polygon;
    double bottom_m, top_m;
} gradin_part;

typedef struct gradin_body {
    const gradin_part *part; /* [n_part] as it stands in this layout */
    int n_part;
} gradin_body;

/* One rule for validation and changeover: a mover may move, and may stand within `at`, only while
 * every holder is within `within`. Without `at` it binds the motion alone. */
typedef struct gradin_interlock {
    const char *name;
    const int *mover, *holder; /* [n_mover], [n_holder] machines */
    int n_mover, n_holder;
    bool has_at;
    double at[2], within[2];
} gradin_interlock;

/* Is the whole setting (all treads) within the range? Touches it at all? */
GRADIN_API bool gradin_setting_is_within(const gradin_setting *setting, const double range[2]);
GRADIN_API bool gradin_setting_touches(const gradin_setting *setting, const double range[2]);

typedef enum gradin_seating_kind {
    GRADIN_SEATING_LOOSE,     /* carried or wheeled, counted in seats per person and hour */
    GRADIN_SEATING_TELESCOPIC /* a bank that is run out and in, counted in seconds per row */
} gradin_seating_kind;

typedef struct gradin_seating {
    const char *name;
    gradin_seating_kind kind;
    double set_rate, strike_rate; /* seats per person and hour; telescopic: seconds per row */
    int crew;
    double seat_kg; /* one seat; 0 when not stated */
    bool is_stored; /* comes from and goes to the store lift */
} gradin_seating;

/* A lift to a store below that takes seats away. */
typedef struct gradin_store {
    const char *name;
    double travel_m;
    gradin_drive drive;
    int seats_per_trip;
    double load_s; /* to load and to unload one trip */
} gradin_store;

/* Kinds of moves of a changeover. */
typedef enum gradin_move_kind {
    GRADIN_MOVE_STRIKE, /* seats, rails or scenery taken away */
    GRADIN_MOVE_MACHINE,
    GRADIN_MOVE_SET,  /* seats, rails or scenery put up */
    GRADIN_MOVE_STEP, /* nothing moves: lock-out, inspection, sign-off */
    GRADIN_N_MOVE_KIND
} gradin_move_kind;

/* Times of day are seconds from midnight. A shift to the time at which it begins, or an earlier
 * one, ends on the next day. */
typedef struct gradin_shift {
    int from_s, to_s;
} gradin_shift;

enum { GRADIN_MAX_REST = 32 };

/* A rest of the whole crew, at a time of day or after so much work. */
typedef struct gradin_rest {
    const char *name;
    int length_s;
    int at_s;    /* time of day */
    int after_s; /* work since the start, or since the last stop at least as long; 0: at_s holds */
    bool is_paid;
} gradin_rest;

/* Where a step stands among the moves. */
typedef enum gradin_step_when {
    GRADIN_STEP_FIRST,           /* before all else */
    GRADIN_STEP_BEFORE_MACHINES, /* before any machine moves */
    GRADIN_STEP_BEFORE_SET,      /* when the machines stand, before anything is set */
    GRADIN_STEP_AFTER_MACHINES,  /* when the machines stand */
    GRADIN_STEP_LAST             /* after all else */
} gradin_step_when;

typedef struct gradin_step {
    const char *name, *task; /* task: what is done; NULL: the name says it */
    gradin_step_when when;
    int duration_s, crew;
} gradin_step;

/* Scenery that stands in a layout. A changeover takes it out when the next layout has none like it,
 * and brings it in when the one before had none. */
typedef struct gradin_scenery {
    const char *name;
    const gradin_place *at;
    int pieces;
    double piece_kg;    /* 0 when not stated */
    int crew;           /* who carry or wheel a piece together */
    double in_s, out_s; /* for each piece */
    const char *by;     /* name of the door through which it comes and goes, or of the store lift */
    int door;           /* index into the venue's facade; -1: by the store lift */
    int per_trip;       /* pieces that go on the store lift together */
    gradin_polygon area; /* where it stands */
    double height_m;     /* of the tallest piece */
    gradin_polygon way;  /* floor between there and the door, no corner: none is stated */
    double level_m; /* at which area and way stand, flat, while it is moved; NAN: as the area stands
                       in the layout */
    bool rides;     /* lifts may move with it */
    const int *after, *before; /* [n_after], [n_before] machines that have moved before it comes in,
                                  or move after it; the other way round when it goes out */
    int n_after, n_before;
} gradin_scenery;

/* Factors on the time of a move: a triangle. most 0: not stated. */
typedef struct gradin_contingency {
    double least, likely, most;
} gradin_contingency;

/* When a crew works, what its hours cost, and what changeovers ask besides moves. */
typedef struct gradin_work {
    const gradin_shift *shift; /* [n_shift]; none: at any hour */
    const gradin_rest *rest;   /* [n_rest] */
    const gradin_step *step;   /* [n_step] */
    int n_shift, n_rest, n_step;
    int night_from_s, night_to_s;     /* alike: no night */
    double rate_day;                  /* per person and hour; 0: not stated */
    double rate_night, rate_overtime; /* NAN: as by day */
    int overtime_after_s;             /* paid time since the shift began; 0: no overtime */
    const char *currency;             /* NULL: not stated */
    gradin_contingency spread[GRADIN_N_MOVE_KIND];
} gradin_work;

/* From this count of seats on, so many places for wheelchairs are needed. */
typedef struct gradin_wheelchair_rule {
    int from_seats, places;
    int one_more_per; /* one more for so many seats, or part of them, from from_seats on; 0: none */
} gradin_wheelchair_rule;

/* The venue's own local rules for rough checks; NAN or 0 where it states none. */
typedef struct gradin_local_rules {
    double guard_drop_m;                      /* an edge with a greater drop needs a guard */
    int row_one_aisle;                        /* most seats of a row with an aisle at one end */
    int row_two_aisles;                       /* and at both ends */
    double exit_mm_person;                    /* exit width a person */
    double row_depth_m;                       /* least from row to row */
    double clearway_m;                        /* least between two rows of seats, tipped up */
    const gradin_wheelchair_rule *wheelchair; /* [n_wheelchair] by rising from_seats */
    int n_wheelchair;
    int companions;                /* least companion seats for each place for a wheelchair */
    double way_width_m;            /* least clear width along the way from a row to an exit */
    double wheelchair_way_m;       /* and from a place for a wheelchair */
    double travel_m;               /* longest way from a place to an exit */
    double wheelchair_place_slope; /* steepest floor under a place for a wheelchair, */
    double wheelchair_way_slope;   /* and on its way to an exit: rise per metre */
    double dead_end_m;             /* longest end of an aisle at which no way leads on */
} gradin_local_rules;

/* Places for wheelchairs that a count of seats needs by the rules' own table; -1 without one. */
GRADIN_API int gradin_wheelchairs_needed(const gradin_local_rules *rules, int n_seat);

typedef struct gradin_machinery {
    const gradin_machine *machine;
    const gradin_body *body; /* towers, sections, arch, then all that is fixed */
    const gradin_interlock *interlock;
    const gradin_seating *seating;
    const gradin_store *store; /* NULL without */
    int n_machine, n_body, n_interlock, n_seating;
    int crew;         /* people on a changeover; 0 when not stated */
    double power_kw;  /* that may be drawn at once; INFINITY when not stated */
    double rail_rate; /* metres of loose rail set or struck per person and hour; 0: not counted */
    int rail_crew;
    gradin_work work;
    const int *block_seating; /* [n_block] of the model; -1 fixed to a tower, -2 no stock stated */
    const double *block_seat_depth_m; /* [n_block] NAN where none is stated; NULL: nowhere */
    const gradin_scenery *scenery;    /* [n_scenery] of the layout */
    int n_scenery;
    gradin_local_rules rules;
    gradin_loads loads;
} gradin_machinery;

/* Seconds for a distance under speed and acceleration: s/v + v/a, or 2 sqrt(s/a) when the full
 * speed is not reached (s < v2/a); s/v when a is 0. */
GRADIN_API double gradin_move_s(double distance, const gradin_drive *drive);
/* Seconds between two settings, preparation not included: a section goes flat before it turns. */
GRADIN_API double gradin_setting_move_s(const gradin_setting *from, const gradin_setting *to,
                                        const gradin_drive *drive);
/* How many of n machines move at a time: what the drive's at_once and the venue's power allow, one
 * at least. -1 without a drive. */
GRADIN_API int gradin_moves_together(const gradin_drive *drive, double power_kw, int n);
/* Whole seconds for n machines that move alike, as many together as that, each batch with its
 * preparation: the time that changeovers and rakes state. -1 for a drive that never gets there. */
GRADIN_API int gradin_moves_s(const gradin_setting *from, const gradin_setting *to,
                              const gradin_drive *drive, double power_kw, int n);
GRADIN_API bool gradin_setting_equal(const gradin_setting *a, const gradin_setting *b);

#ifdef __cplusplus
}
#endif

#endif
