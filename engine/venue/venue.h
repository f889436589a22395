/* venue/venue.h: a venue as its file states it: the room, its facade and its machines with their
 * travels. Lengths m, bearings deg. */
#ifndef GRADIN_LAYOUT_VENUE_H
#define GRADIN_LAYOUT_VENUE_H

#include "files/walk.h"
#include "gradin/layout.h"

/* A grid of lift sections that share travel and terraces. */
typedef struct lift_grid {
    const char *name;
    const node *at;
    gradin_vec2 origin_m; /* south-west corner */
    int n_column, n_row;
    double size_m[2];   /* one section, x and y */
    double travel_m[2]; /* lowest and highest tread */
    int most_steps;     /* treads a section can make, 1 when it stays flat */
    double riser_m[2];  /* between its treads */
    bool faces[4];      /* bearings 0, 90, 180, 270 towards which it can terrace */
    double speed_ms;
    gradin_drive drive;
    gradin_load_limit load_limit;
} lift_grid;

/* A section of a grid: its rectangle, and the grid that says what it can do. */
typedef struct lift_section {
    const char *name;
    int grid, column, row; /* 0-based */
    gradin_box2 box;
} lift_section;

/* One level of a seating tower, in the tower's frame: rows go back from the front edge. */
typedef struct tower_level {
    const char *name;
    double deck_m;      /* front tread above the plan origin at hoist 0 */
    double thickness_m; /* of the slab below the front tread */
    int n_row;
    double row_depth_m, riser_m, seat_width_m;
    double front_m;       /* clear depth before the first row */
    double rail_height_m; /* above the front tread; 0 without */
    int rail_kind;        /* gradin_rail_kind */
    double rail_thickness_m;
    int rail_bars;
    double seat_kg;
    gradin_load_limit load_limit;
} tower_level;

typedef struct tower {
    const char *name;
    gradin_vec2 front_m; /* middle of the front edge on plan, slide 0 */
    double facing_deg;
    double width_m, depth_m;
    double post_m; /* side of its four square posts; 0 without */
    double hoist_m[2], slide_m[2];
    double slide_bearing_deg;
    double hoist_speed_ms, slide_speed_ms, mass_kg;
    gradin_drive hoist_drive, slide_drive;
    const tower_level *level;
    int n_level;
    int most_people; /* payload: 0 and NAN when not stated */
    double most_kg;
} tower;

typedef struct arch {
    const char *name;
    gradin_vec2 line_m[2]; /* wall to wall on plan */
    double thickness_m;
    double opening_m[2]; /* least and greatest clear width */
    double trim_m[2];    /* least and greatest height of the header's underside */
    double speed_ms;
    gradin_drive trim_drive, opening_drive, closing_drive;
    const char *closing_name; /* of what comes down in the opening; NULL without */
    double closing_r_db[GRADIN_N_BAND], closing_absorption[GRADIN_N_BAND];
} arch;

/* What a changeover needs besides the machines. */
typedef struct house {
    int crew;
    double power_kw, rail_rate;
    int rail_crew;
    const gradin_seating *seating;
    int n_seating;
    const gradin_store *store; /* NULL without */
} house;

/* What the floors may carry and what people bring. */
typedef struct house_loads {
    gradin_occupancy occupancy;
    gradin_load_limit floor;
} house_loads;

/* Glazing, a door or a vent as stated; bays of one entry become one element each. */
typedef struct facade_entry {
    const char *name;
    gradin_element_kind kind;
    const node *at;
    gradin_vec2 start_m;
    double bearing_deg;
    int count;
    double width_m, height_m, sill_m;
    int buildup, shade;
    double joint_r_db;
    double dn_e_db[GRADIN_N_BAND];
    gradin_drive drive; /* door */
    int exit;           /* gradin_exit, door */
} facade_entry;

extern const char *const rail_kind_names[]; /* NULL-ended */

typedef struct venue {
    const char *name, *file;
    gradin_polygon footprint;
    double ceiling_m;
    double floor_absorption[GRADIN_N_BAND], ceiling_absorption[GRADIN_N_BAND];
    double wall_absorption[GRADIN_N_BAND], seating_absorption[GRADIN_N_BAND];
    const gradin_surface *extra;
    int n_extra;
    double rail_min_m;
    const gradin_solid *solid;
    int n_solid;

    const gradin_buildup *buildup;
    const gradin_shade *shade;
    const facade_entry *facade;
    int n_buildup, n_shade, n_facade;
    bool has_finite_panes;

    const lift_grid *grid;
    const lift_section *section;
    const tower *tower;
    const gradin_area *panel;    /* floor panels over vomitory stairs */
    const double *panel_top_deg; /* [n_panel] side at which the stair comes up; NAN */
    int n_grid, n_section, n_tower, n_panel;
    const arch *arch;                              /* NULL when there is none */
    const gradin_drive *panel_drive, *shade_drive; /* [n_panel], [n_shade] */
    const gradin_load_limit *panel_limit;          /* [n_panel] */

    gradin_machine *machine; /* every drive, as parked: machine_list.c gives the order */
    int n_machine;
    gradin_interlock *interlock;
    const node **interlock_at; /* [n_interlock] */
    int n_interlock;
    house house;
    house_loads loads;
    gradin_local_rules rules;
} venue;

/* Complains of a rail lower than the venue's own local rules allow. */
void check_rail_height(reader *r, const node *at, double height_m, double rail_min_m);

/* Seats that a row of a tower's level has between the posts. */
int seats_a_deck_row(const tower *t, const tower_level *level);

bool venue_read(reader *r, const char *path, venue *v);
void check_venue(reader *r, const venue *v);
/* Parts of venue_read, one file each. */
void venue_read_room(reader *r, const node *room, venue *v);
void venue_read_facade(reader *r, const node *facade, venue *v);
void venue_read_machines(reader *r, const node *machines, venue *v);

/* drives.c. `at` is the map `drive` or NULL; drive keeps what is not stated. */
void read_drive(reader *r, const node *at, gradin_drive *drive);
/* Of a thing whose time from end to end is stated: its acceleration is in it. */
void read_share_drive(reader *r, const node *at, gradin_drive *drive);
gradin_drive drive_of(double speed_per_s, double mass_kg);
/* Of a thing that takes move_s from end to end of its share. */
gradin_drive drive_of_share(double move_s);
void venue_read_house(reader *r, const node *at, venue *v);

/* loads.c. The map `load_limit`, NULL when not stated. */
void read_load_limit(reader *r, const node *at, gradin_load_limit *limit);
void read_payload(reader *r, const node *at, tower *t);
/* The map `loads`; NULL leaves the defaults. */
void venue_read_loads(reader *r, const node *at, venue *v);

/* machine_list.c: sections, hoists, slides, trim, opening and closing element of the arch, panels,
 * shades, doors. */
bool venue_list_machines(reader *r, venue *v);
int first_hoist(const venue *v);
int first_panel(const venue *v);
/* Marks the machines that a text names: a machine, a whole grid, or sections FROM..TO. */
int *find_machines(reader *r, const node *at, const venue *v, int *n);

/* interlocks.c */
void venue_read_interlocks(reader *r, const node *list, venue *v);

/* Six octaves 125..4000 Hz spread to the 21 thirds: each third takes its octave's value, those
 * below 100 Hz that of 125 Hz, 5 kHz that of 4 kHz. */
void spread_octaves(const double octave[6], double band[GRADIN_N_BAND]);
/* Reads key of map as 6 octaves or 21 thirds. False when missing (and required) or wrong. */
bool read_spectrum(reader *r, const node *map, const char *key, bool is_required, double least,
                   double most, double band[GRADIN_N_BAND]);
/* Solids are the same in venue and layout. */
bool read_solids(reader *r, const node *list, const gradin_solid **solid, int *n_solid);
/* band_values.c: the file's values into measured_r_db, NAN where it has none. False after a
 * complaint. read_measured() wants every band. */
bool read_band_values(reader *r, const node *at, const char *path, gradin_buildup *buildup);
void read_measured(reader *r, const node *at, const char *venue_file, gradin_buildup *buildup);
/* Build-ups that state no temperature of their own take this one. */
bool read_buildups(reader *r, const node *list, const char *file, double temperature_c,
                   const gradin_buildup **buildup, int *n_buildup);
/* layers.c: 1 to `most` layers from the outside in. */
void read_layers(reader *r, const node *list, int most, const gradin_layer **layer, int *n_layer);
/* Items below are structs of `stride` bytes whose first member is `const char *name`. */
/* Index of the item of that name, or -1. */
int index_of(const void *items, int n, size_t stride, const char *name);
/* The same for the name that `at` holds; complains with a suggestion when there is none. */
int look_up(reader *r, const node *at, const char *what, const void *items, int n, size_t stride);
/* Complains when two items of the list have the same name. */
void check_names(reader *r, const node *list, const void *items, int n, size_t stride);

#endif
