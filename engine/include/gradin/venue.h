/* gradin/venue.h: a hall as it is stated: its room, its facade, its machines with their travels,
 * drives and interlocks, what floors may carry, and the rules of its own code. No file format: a
 * venue is read by gradin/files.h or filled in memory. Lengths m, heights above the plan origin's
 * level, bearings clockwise from north.
 *
 * Ownership and threads: Everything a venue points to belongs to the caller and must outlive
 * whatever is built from it; any number of threads may read a venue that nobody fills. */
#ifndef GRADIN_VENUE_H
#define GRADIN_VENUE_H

#include "gradin/acoustics/buildup.h"
#include "gradin/acoustics/room.h"
#include "gradin/machines.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Refused beyond these. */
enum {
    GRADIN_MAX_BAY = 2000,
    GRADIN_MAX_SECTION = 4096,
    GRADIN_MAX_TRIANGLE = 5000000 /* of all meshes of a layout and its venue */
};

typedef struct gradin_area {
    const char *name;
    gradin_polygon polygon;
    const char *level; /* of the seats that an aisle runs through; NULL: the lowest it touches */
} gradin_area;

typedef enum gradin_solid_kind {
    GRADIN_SOLID_COLUMN,
    GRADIN_SOLID_SLAB, /* decks, soffits, galleries */
    GRADIN_SOLID_WALL,
    GRADIN_SOLID_SET,  /* set pieces */
    GRADIN_SOLID_MESH, /* triangles of a model file; the polygon is their outline */
    GRADIN_SOLID_ARCH  /* panels of the proscenium arch */
} gradin_solid_kind;

/* The model file that a mesh was read from, and how it is placed. */
typedef struct gradin_mesh_source {
    const char *file; /* as the venue's or layout's file names it */
    int unit;         /* of the model's lengths: 0 m, 1 ft, 2 mm */
    int up;           /* axis of the model that points up: 0 z, 1 y */
    gradin_vec2 at_m; /* where the model's origin stands on plan */
    double turn_deg;  /* clockwise, about that origin */
    double bottom_m;  /* height of its lowest corner; NAN: heights as in the model */
} gradin_mesh_source;

typedef struct gradin_solid {
    const char *name;
    const gradin_place *at; /* entry in a file; NULL when made in memory */
    gradin_solid_kind kind;
    gradin_polygon polygon;
    double bottom_m, top_m;
    int sheet;                  /* sheet on which it is drawn, -1 on all; the model sets it */
    double mass_kg, carries_kn; /* its own, and what it bears; 0 when not stated */
    const gradin_vec3 (*triangle_m)[3]; /* [n_triangle] of a mesh; NULL: a prism */
    int n_triangle;
    const gradin_mesh_source *source; /* of a mesh that can be written to a file; may be NULL */
    bool is_of_tower;                 /* a seating tower's deck; the model sets it */
} gradin_solid;

/* A part of the fixed floor that is not at 0: level, or a plane that rises evenly. Required: name,
 * polygon. */
typedef struct gradin_floor_region {
    const char *name;
    const gradin_place *at; /* entry in a file; NULL when made in memory */
    gradin_polygon polygon;
    const double *corner_z_m; /* [n_corner] heights of the corners, on one plane; NULL: */
    double z_m;               /* at its lowest corner */
    double slope, uphill_deg; /* rise per metre towards that bearing */
} gradin_floor_region;

/* Height of its plane over a plan point, NAN for NULL. */
GRADIN_API double gradin_floor_region_z_m(const gradin_floor_region *region, gradin_vec2 at_m);
/* Rise per metre along the steepest way, and its bearing (*uphill_deg may be NULL; NAN where it is
 * level). */
GRADIN_API double gradin_floor_region_slope(const gradin_floor_region *region, double *uphill_deg);
/* The first of the regions [n] that a plan point lies in, or -1. */
GRADIN_API int gradin_floor_region_find(const gradin_floor_region *region, int n, gradin_vec2 at_m);

typedef enum gradin_rail_kind {
    GRADIN_RAIL_BAR,
    GRADIN_RAIL_SOLID,
    GRADIN_RAIL_POSTS
} gradin_rail_kind;

/* Entries below may name the place in a file where they are stated: then complaints name it, too.
 * `at` is NULL for what was made in memory. */

/* A grid of lift sections that share travel, treads and drive. Required: name, n_column 1 to 26,
 * n_row 1 to 99, size_m, travel_m, most_steps (1 when sections stay flat). */
typedef struct gradin_lift_grid {
    const char *name;
    const gradin_place *at;
    gradin_vec2 origin_m; /* south-west corner */
    double bearing_deg;   /* by which the grid is turned clockwise about it, 0 to 360 */
    int n_column, n_row;
    double size_m[2];   /* one section, x and y */
    double travel_m[2]; /* lowest and highest tread */
    int most_steps;     /* treads that a section can make */
    double riser_m[2];  /* between its treads */
    bool faces[4];      /* can it terrace towards bearing_deg + 0, 90, 180, 270? */
    gradin_drive drive; /* m/s */
    gradin_load_limit load_limit;
} gradin_lift_grid;

/* A section of a grid, "F-A1": made by gradin_venue_complete(), row by row from the south-west,
 * the columns of a row to the east. */
typedef struct gradin_lift_section {
    const char *name;
    int grid, column, row; /* 0-based */
    gradin_box2 box;       /* before the grid is turned */
    gradin_vec2 pivot_m;   /* the grid's origin_m and bearing_deg */
    double bearing_deg;
} gradin_lift_section;

/* One level of a seating tower, in the tower's frame: rows go back from the front edge. Required:
 * name, deck_m, thickness_m, n_row, row_depth_m, seat_width_m. */
typedef struct gradin_tower_level {
    const char *name;
    const gradin_place *at;
    double deck_m;      /* front tread above the plan origin at hoist 0 */
    double thickness_m; /* of the slab below the front tread */
    int n_row;
    double row_depth_m, riser_m, seat_width_m;
    double front_m;       /* clear depth before the first row */
    double rail_height_m; /* above the front tread; 0 without */
    gradin_rail_kind rail_kind;
    double rail_thickness_m;
    int rail_bars;
    const gradin_place *rail_at;
    double seat_kg;
    gradin_load_limit load_limit;
} gradin_tower_level;

/* A seating tower on hoists. Required: name, width_m, depth_m. */
typedef struct gradin_tower {
    const char *name;
    gradin_vec2 front_m; /* middle of the front edge on plan, slide 0 */
    double facing_deg;
    double width_m, depth_m;
    double post_m; /* side of its four square posts; 0 without */
    double hoist_m[2], slide_m[2];
    double slide_bearing_deg;
    double turn_deg[2];  /* least and greatest turn clockwise from facing_deg; both 0: none */
    gradin_vec2 pivot_m; /* about which it turns, at slide 0; NAN: the middle of its plan */
    gradin_drive hoist_drive, slide_drive; /* m/s */
    gradin_drive turn_drive;               /* degrees per second */
    const gradin_place *turn_at;
    const gradin_tower_level *level; /* [n_level] from the lowest up */
    int n_level;
    int most_people; /* payload: 0 and NAN when not stated */
    double most_kg;
} gradin_tower;

/* A proscenium arch that flies in. Required: name, line_m, thickness_m, opening_m, trim_m. */
typedef struct gradin_arch {
    const char *name;
    const gradin_place *at;
    gradin_vec2 line_m[2]; /* wall to wall on plan */
    double thickness_m;
    double opening_m[2]; /* least and greatest clear width */
    double trim_m[2];    /* least and greatest height of the header's underside */
    gradin_drive trim_drive, opening_drive, closing_drive;
    const char *closing_name; /* of what comes down in the opening; NULL without */
    double closing_r_db[GRADIN_N_BAND], closing_absorption[GRADIN_N_BAND];
} gradin_arch;

/* What is under a floor panel, as a way out of the hall. */
typedef enum gradin_way_under {
    GRADIN_UNDER_NO_EXIT,
    GRADIN_UNDER_STAIRS,
    GRADIN_UNDER_RAMP /* wheelchairs take it, too */
} gradin_way_under;

/* A floor panel over a vomitory's stair or ramp. Required: name, polygon. */
typedef struct gradin_floor_panel {
    const char *name;
    gradin_polygon polygon;
    double stair_top_deg; /* side at which the stair comes up; NAN when not stated */
    gradin_way_under leads_out;
    double exit_width_m; /* its narrowest clear width; NAN: that of the side */
    gradin_drive drive;  /* share per second */
    gradin_load_limit load_limit;
} gradin_floor_panel;

typedef enum gradin_element_kind {
    GRADIN_ELEMENT_PANE, /* one glazed bay */
    GRADIN_ELEMENT_DOOR,
    GRADIN_ELEMENT_VENT, /* small element by its Dn,e; no area of its own */
    GRADIN_ELEMENT_WALL, /* opaque wall */
    GRADIN_ELEMENT_ROOF, /* opaque roof, level, at the ceiling's height */
    GRADIN_N_ELEMENT_KIND
} gradin_element_kind;

/* People open a door by hand; one that a machine opens is an exit only while it stands open. */
typedef enum gradin_exit {
    GRADIN_EXIT_BY_HAND,
    GRADIN_EXIT_WHEN_OPEN,
    GRADIN_EXIT_NONE
} gradin_exit;

/* Glazing, a door, a vent, a wall or a roof as stated; the bays of one entry become one element
 * each. Required: name, and for glazing and doors count, width_m, height_m and buildup. A wall
 * stands over line_m, an edge of the footprint or a part of one, or wherever no other wall is
 * stated; a roof lies over polygon, or wherever no other roof is stated. Both reach from the floor
 * to the ceiling's height, less the glazing and the doors in them. Without a build-up a wall or a
 * roof absorbs and lets nothing through, and results say that its sound reduction is not stated. */
typedef struct gradin_facade_entry {
    const char *name;
    const gradin_place *at;
    gradin_element_kind kind;
    gradin_vec2 start_m; /* where the first bay begins on plan; a vent's own place */
    double bearing_deg;  /* along the wall */
    int count;           /* of bays, 1 for a vent */
    double width_m, height_m, sill_m;
    double tilt_deg; /* of the outward normal above the horizon: 0 upright, 90 a flat rooflight;
                        leaning, the far edge lies further in (glazing) */
    bool is_rest;    /* wall: wherever no other wall is stated */
    gradin_vec2 line_m[2];            /* wall, unless is_rest */
    gradin_polygon polygon;           /* roof; no corner: wherever no other roof is stated */
    double absorption[GRADIN_N_BAND]; /* wall, roof: of the room side; NAN: the room's own */
    int buildup, shade;               /* indices; -1 without, as for a vent */
    double joint_r_db; /* per metre of seal, at 500 Hz; INFINITY when none is stated */
    double joint_shape_db[GRADIN_N_BAND]; /* added to it in each band */
    double dn_e_db[GRADIN_N_BAND];        /* vent */
    gradin_drive drive;                   /* door, share per second */
    gradin_exit exit;                     /* door */
} gradin_facade_entry;

/* What a changeover needs besides the machines. */
typedef struct gradin_crew {
    int people;       /* 0 when not stated: no changeover can be planned */
    double power_kw;  /* that may be drawn at once; INFINITY when not stated */
    double rail_rate; /* metres of loose rail set or struck per person and hour; 0: not counted */
    int rail_crew;
    const gradin_seating *seating; /* [n_seating] */
    int n_seating;
    const gradin_store *store; /* NULL without */
    gradin_work work;
} gradin_crew;

/* A venue. Required: name, footprint, ceiling_m, and what each entry asks for. Start from
 * gradin_venue_defaults(), fill in, call gradin_venue_complete(), then add interlocks by the
 * indices of gradin_machine_index(). */
typedef struct gradin_venue {
    const char *name;
    const gradin_place *at;
    const char *units; /* "m" or "ft": in which complaints show lengths */
    gradin_polygon footprint;
    double ceiling_m;
    double floor_absorption[GRADIN_N_BAND], ceiling_absorption[GRADIN_N_BAND];
    double wall_absorption[GRADIN_N_BAND], seating_absorption[GRADIN_N_BAND];
    const gradin_surface *extra; /* [n_extra] absorption besides */
    int n_extra;
    const gradin_solid *solid; /* [n_solid] that always stand */
    int n_solid;
    const gradin_floor_region *floor; /* [n_floor] the fixed floor is at 0 elsewhere */
    int n_floor;

    const gradin_buildup *buildup;     /* [n_buildup] */
    const gradin_shade *shade;         /* [n_shade] */
    const gradin_facade_entry *facade; /* [n_facade] */
    int n_buildup, n_shade, n_facade;
    gradin_ground ground;    /* before the facade */
    bool has_finite_panes;   /* R of each pane by its own width and height */
    const gradin_site *site; /* measured there; NULL: nothing */

    const gradin_lift_grid *grid;    /* [n_grid] */
    const gradin_tower *tower;       /* [n_tower] */
    const gradin_floor_panel *panel; /* [n_panel] */
    int n_grid, n_tower, n_panel;
    const gradin_arch *arch; /* NULL when there is none */
    gradin_crew crew;
    gradin_occupancy occupancy;   /* what people weigh on its surfaces */
    gradin_load_limit floor_load; /* of the fixed floor */
    double rail_min_m;            /* lowest rail that its own local rules allow */
    gradin_local_rules rules;

    /* Made by gradin_venue_complete(). */
    const gradin_lift_section *section; /* [n_section] */
    const gradin_machine *machine;      /* [n_machine] every drive, as parked */
    int n_section, n_machine;

    const gradin_interlock *interlock; /* [n_interlock] */
    int n_interlock;
} gradin_venue;

/* Empty structs with the figures that need not be stated. A venue: live loads of EN 1991-1-1, no
 * limit of power or load, two people on loose rails, no rule of a local code. A grid: flat
 * sections. A tower: no posts, no payload stated. A panel: no stair's side stated. A facade entry:
 * one bay without shade, seal or build-up. All move at once with one attendant until a drive is
 * stated. */
GRADIN_API gradin_venue gradin_venue_defaults(void);
GRADIN_API gradin_lift_grid gradin_lift_grid_defaults(void);
GRADIN_API gradin_tower_level gradin_tower_level_defaults(void);
GRADIN_API gradin_tower gradin_tower_defaults(void);
GRADIN_API gradin_arch gradin_arch_defaults(void);
GRADIN_API gradin_floor_panel gradin_floor_panel_defaults(void);
GRADIN_API gradin_facade_entry gradin_facade_entry_defaults(void);

/* Names the sections of the grids, lists every drive, and checks the venue's parts against each
 * other. Sections, machines and their names go into the arena. GRADIN_BAD_USE when a required field
 * is missing (the diagnostic names it), GRADIN_BAD_INPUT when the venue cannot be. */
GRADIN_API gradin_status gradin_venue_complete(gradin_arena *arena, gradin_venue *venue,
                                               gradin_error *error);

/* Checks a whole venue, its interlocks included, as gradin_model_build() does. */
GRADIN_API gradin_status gradin_venue_check(gradin_arena *arena, const gradin_venue *venue,
                                            gradin_error *error);

/* A drive with one attendant at a speed (INFINITY: at once), and one that takes move_s for its
 * whole way from 0 to 1. */
GRADIN_API gradin_drive gradin_drive_of(double speed_per_s, double mass_kg);
GRADIN_API gradin_drive gradin_drive_of_share(double move_s);

/* The machine of a kind that moves this item (section, tower, panel, shade or facade entry; 0 for
 * the arch), or -1. The way back is the machine's own kind and item. */
GRADIN_API int gradin_machine_index(const gradin_venue *venue, gradin_machine_kind kind, int item);
/* By name ("F-A1", "W1 hoist"), or -1. */
GRADIN_API int gradin_machine_find(const gradin_venue *venue, const char *name);
GRADIN_API int gradin_section_find(const gradin_venue *venue, const char *name);
/* The section of a grid in this column and row (0-based), or -1. */
GRADIN_API int gradin_section_index(const gradin_venue *venue, int grid, int column, int row);

/* What keeps a machine from a setting. */
typedef enum gradin_setting_fault {
    GRADIN_SETTING_POSSIBLE,
    GRADIN_SETTING_BEYOND,     /* the position is out of its travel */
    GRADIN_SETTING_TOP_BEYOND, /* the highest tread is */
    GRADIN_SETTING_TREADS,     /* more treads than the section makes */
    GRADIN_SETTING_RISER,      /* between its treads */
    GRADIN_SETTING_FACING      /* a bearing towards which it cannot terrace */
} gradin_setting_fault;

GRADIN_API gradin_setting_fault gradin_setting_check(const gradin_venue *venue, int machine,
                                                     const gradin_setting *set);

/* Live loads of people by a published source. */
typedef enum gradin_occupancy_source {
    GRADIN_OCCUPANCY_EN_1991_1_1,
    GRADIN_OCCUPANCY_ASCE_7,
    GRADIN_N_OCCUPANCY
} gradin_occupancy_source;

/* Without a source, all zero, for a number that is none. */
GRADIN_API gradin_occupancy gradin_occupancy_of(gradin_occupancy_source source);

/* Corners of a section, from its grid's own south-west one round to the east. */
GRADIN_API void gradin_section_corners(const gradin_lift_section *section, gradin_vec2 corner_m[4]);

/* Quarter turns clockwise from a grid's bearing_deg to a facing, 0 to 3; -1 for a facing below 0,
 * from 360, or along no side of the grid. */
GRADIN_API int gradin_grid_quarter(double bearing_deg, double facing_deg);

/* Plan rectangle of one tread of a section that is set so. */
GRADIN_API void gradin_tread_corners(const gradin_lift_section *section, const gradin_setting *set,
                                     int tread, gradin_vec2 corner_m[4]);

/* The point about which a tower turns, at slide 0. */
GRADIN_API gradin_vec2 gradin_tower_pivot_m(const gradin_tower *tower);
/* Where the middle of its front edge stands on plan, and what it faces, slid and turned so. */
GRADIN_API void gradin_tower_stand(const gradin_tower *tower, double slide_m, double turn_deg,
                                   gradin_vec2 *front_m, double *facing_deg);
/* The least turn within its range by which a tower faces this bearing; NAN when there is none. */
GRADIN_API double gradin_tower_turn_to(const gradin_tower *tower, double facing_deg);

/* Seats that a row of a tower's level has between the posts. */
GRADIN_API int gradin_tower_row_seats(const gradin_tower *tower, const gradin_tower_level *level);

/* The middle of a door's opening on plan and the unit vector into the room. */
GRADIN_API void gradin_door_place(const gradin_venue *venue, const gradin_facade_entry *door,
                                  gradin_vec2 *middle_m, gradin_vec2 *inward);

#ifdef __cplusplus
}
#endif

#endif
