/* files/stated/venue.h: a venue as its file states it, before names become indices and grids become
 * sections. Numbers are in the library's units; what the file leaves out has its default. */
#ifndef GRADIN_FILES_STATED_VENUE_H
#define GRADIN_FILES_STATED_VENUE_H

#include "files/schema/schema.h"
#include "gradin/venue.h"

/* One layer of glass, a shade or a wall; which member is set first says which kind it is. */
typedef struct stated_layer {
    const node *at;
    double glass_m, plate_m, interlayer_m, gap_m, porous_m; /* 0: not this kind */
    double sheet_kgm3;                                      /* as if 1 mm thick; 0: no sheet */
    double density_kgm3, young_pa, poisson, loss, shear_pa, resistivity_pasm2, resistance_pasm;
    int gas; /* 0 air, 1 argon */
    struct stated_relaxation *relaxation;
} stated_layer;

typedef struct stated_relaxation {
    const node *at;
    double instant_pa, reference_c;
    double wlf[2];
    gradin_vec2 *term; /* [n_term] share of the modulus, time in s */
    int n_term;
} stated_relaxation;

typedef struct stated_buildup {
    const node *at;
    const char *name, *measured, *report, *generic;
    stated_layer *layer;
    int n_layer;
    double temperature_c, sample_m2;
    int frames, reveals;
    bool is_flush;
} stated_buildup;

typedef struct stated_shade {
    const node *at;
    const char *name;
    double insertion_loss_db[GRADIN_N_BAND], absorption[GRADIN_N_BAND];
    stated_layer *layer;
    int n_layer;
    double rate_per_s;
    gradin_drive drive;
} stated_shade;

/* Glazing, a door, a vent, a wall or a roof. */
typedef struct stated_entry {
    const node *at;
    const char *name, *buildup, *shade;
    gradin_vec2 start_m;
    double bearing_deg, width_m, height_m, sill_m, joint_r_db, rate_per_s;
    int count, exit;
    double dn_e_db[GRADIN_N_BAND], joint_band_db[GRADIN_N_BAND];
    gradin_drive drive;
    double tilt_deg, absorption[GRADIN_N_BAND];
    gradin_vec2 from_m, to_m; /* wall; NAN: wherever no other is stated */
    gradin_polygon polygon;   /* roof */
} stated_entry;

typedef struct stated_facade {
    const node *at;
    stated_buildup *buildup;
    stated_shade *shade;
    stated_entry *glazing, *door, *vent, *wall, *roof;
    int n_buildup, n_shade, n_glazing, n_door, n_vent, n_wall, n_roof;
    double temperature_c;
    bool has_finite_panes;
    int ground;
    gradin_site *site; /* NULL when not stated */
} stated_facade;

typedef struct stated_solid {
    const node *at;
    const char *name;
    int kind; /* gradin_solid_kind */
    gradin_polygon polygon;
    gradin_vec2 centre_m;
    double diameter_m, bottom_m, top_m, mass_kg, carries_kn;
    const char *file; /* mesh */
    int unit, up;
    gradin_vec2 at_m;
    double turn_deg;
} stated_solid;

typedef struct stated_floor {
    const node *at;
    const char *name;
    gradin_polygon polygon;
    double z_m, slope, uphill_deg;
    double *corner_z_m; /* [n_corner_z] */
    int n_corner_z;
} stated_floor;

typedef struct stated_absorption {
    double floor[GRADIN_N_BAND], ceiling[GRADIN_N_BAND];
    double walls[GRADIN_N_BAND], seating[GRADIN_N_BAND];
} stated_absorption;

typedef struct stated_rules {
    double rail_min_m;
    gradin_local_rules own; /* but for the list, which is: */
    gradin_wheelchair_rule *wheelchair;
    int n_wheelchair;
} stated_rules;

typedef struct stated_room {
    gradin_polygon footprint;
    double ceiling_m;
    stated_absorption absorption;
    gradin_surface *extra;
    stated_solid *solid;
    stated_floor *floor;
    int n_extra, n_solid, n_floor;
    stated_rules rules;
} stated_room;

typedef struct stated_grid {
    const node *at;
    const char *name, *kind;
    gradin_vec2 origin_m;
    double bearing_deg;
    int n_column, n_row, most_steps;
    double size_m[2], travel_m[2], riser_m[2];
    double *facing_deg;
    int n_facing;
    double speed_ms;
    gradin_load_limit load_limit;
    gradin_drive drive;
} stated_grid;

typedef struct stated_deck_rail {
    const node *at;
    int kind;
    double height_m, thickness_m;
    int n_bar;
} stated_deck_rail;

typedef struct stated_level {
    const node *at;
    const char *name;
    double deck_m, thickness_m, row_depth_m, riser_m, seat_width_m, front_m, seat_kg;
    int n_row;
    gradin_load_limit load_limit;
    stated_deck_rail *rail;
} stated_level;

typedef struct stated_slide {
    double bearing_deg, range_m[2], speed_ms;
    gradin_drive drive;
} stated_slide;

typedef struct stated_turn {
    const node *at;
    double range_deg[2], speed_deg_s;
    gradin_vec2 pivot_m; /* NAN: the middle of its plan */
    gradin_drive drive;
} stated_turn;

typedef struct stated_payload {
    int people;
    double mass_kg;
} stated_payload;

typedef struct stated_tower {
    const node *at;
    const char *name, *kind;
    gradin_vec2 front_m;
    double facing_deg, width_m, depth_m, post_m, hoist_m[2], hoist_speed_ms, mass_kg;
    stated_slide *slide;
    stated_turn *turn;
    stated_payload payload;
    gradin_drive drive;
    stated_level *level;
    int n_level;
} stated_tower;

typedef struct stated_closing {
    const char *name;
    double r_db[GRADIN_N_BAND], absorption[GRADIN_N_BAND], rate_per_s;
    gradin_drive drive;
} stated_closing;

/* The drive of the opening: what it leaves out is as for the trim. */
typedef struct stated_arch {
    const node *at;
    const char *name;
    gradin_vec2 *line_m;
    int n_line;
    double thickness_m, opening_m[2], trim_m[2], speed_ms, opening_speed_ms;
    gradin_drive drive;
    struct stated_opening_drive *opening_drive;
    stated_closing *closing;
} stated_arch;

typedef struct stated_opening_drive {
    const node *at;
    gradin_drive drive;
} stated_opening_drive;

typedef struct stated_panel {
    const node *at;
    const char *name;
    gradin_polygon polygon;
    double stair_top_deg, exit_width_m, rate_per_s;
    int leads_out;
    gradin_load_limit load_limit;
    gradin_drive drive;
} stated_panel;

typedef struct stated_seating {
    const node *at;
    const char *name;
    int kind; /* gradin_seating_kind */
    double set_rate, strike_rate, seat_kg;
    int crew;
    bool is_stored;
} stated_seating;

typedef struct stated_store {
    const char *name;
    double travel_m, speed_ms, load_s;
    int seats_per_trip;
    gradin_drive drive;
} stated_store;

typedef struct stated_shift {
    const node *at;
    const char *from, *to;
} stated_shift;

typedef struct stated_rest {
    const node *at;
    const char *name, *at_time; /* at_time NULL: after_h holds */
    double after_h, minutes;
    bool is_paid;
} stated_rest;

typedef struct stated_step {
    const char *name, *task;
    int when; /* gradin_step_when */
    double minutes;
    int crew;
} stated_step;

typedef struct stated_spreads {
    const node *at;
    double factor[GRADIN_N_MOVE_KIND][3]; /* NAN: not stated */
} stated_spreads;

typedef struct stated_rates {
    const node *at;
    const char *currency;
    double day, night, overtime, overtime_after_h;
    const char *night_from, *night_to;
} stated_rates;

typedef struct stated_crew {
    const node *at;
    int people, rail_crew;
    double power_kw, rail_rate;
    stated_seating *seating;
    int n_seating;
    stated_store *store;
    stated_shift *shift;
    stated_rest *rest;
    stated_step *step;
    int n_shift, n_rest, n_step;
    stated_rates *rates;     /* NULL when not stated */
    stated_spreads *spreads; /* NULL when not stated */
} stated_crew;

typedef struct stated_loads {
    int source;
    double use_kn_m2[GRADIN_N_USE]; /* NAN: as the source says */
    double person_kg, floor_kn_m2;
} stated_loads;

typedef struct stated_interlock {
    const node *at;
    const char *name, *mover, *holder;
    double where[2], within[2]; /* as written; where[0] NAN: none */
} stated_interlock;

/* Towers and grids that entries take after: only their names must be there. */
typedef struct stated_kinds {
    stated_grid *grid;
    stated_tower *tower;
    int n_grid, n_tower;
} stated_kinds;

typedef struct stated_machines {
    stated_kinds kinds;
    stated_grid *grid;
    stated_tower *tower;
    stated_arch *arch;
    stated_panel *panel;
    stated_crew *crew;
    stated_loads loads;
    stated_interlock *interlock;
    int n_grid, n_tower, n_panel, n_interlock;
} stated_machines;

typedef struct stated_venue {
    const node *at;
    const char *name;
    stated_room room;
    stated_facade *facade;
    stated_machines *machines;
} stated_venue;

extern const schema_table layer_table, solid_table, region_table;
extern const schema_table shift_table, rest_table, step_table, spreads_table, rates_table;
extern const schema_table room_table, facade_table, machines_table, crew_table, loads_table;
extern const schema_table grid_table, tower_table, kinds_table;
extern const schema_table drive_table, turn_drive_table, share_drive_table, load_limit_table;
extern const schema_file venue_schema;

#endif
