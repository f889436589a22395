/* venue/plan.h: one layout as its file states it, on a venue. Machines stand where the layout puts
 * them; seats are made from blocks. Lengths m, bearings deg. */
#ifndef GRADIN_LAYOUT_PLAN_H
#define GRADIN_LAYOUT_PLAN_H

#include "venue/venue.h"

/* A lift section as set: its treads rise from the front (the side it faces) to the back. */
typedef struct section_state {
    double height_m; /* of the lowest tread */
    int n_step;
    double riser_m;
    double facing_deg;
    const node *at; /* entry that set it, NULL when left at floor level */
} section_state;

typedef struct tower_state {
    double hoist_m, slide_m;
    bool is_seated; /* its seats are part of this layout */
    const node *at; /* entry that set it, NULL when left parked */
} tower_state;

typedef struct arch_state {
    bool is_in;
    double opening_m, trim_m;
    double closed; /* 0 up .. 1 down */
    const node *at;
} arch_state;

typedef enum row_kind { ROWS_STRAIGHT, ROWS_CURVED, ROWS_FILL, ROWS_FILE } row_kind;
typedef enum support_kind { ON_FLOOR, ON_LIFTS } support_kind;

enum { MAX_BLOCK_ROW = 200 };

typedef struct seat_block {
    const char *name;
    const node *at;
    support_kind on;
    row_kind rows_kind;
    int n_row, n_seat; /* seats a row (straight) */
    double seat_width_m;
    double depth_m[MAX_BLOCK_ROW]; /* depth of each row */
    double riser_m[MAX_BLOCK_ROW]; /* rise of each row above the one before; [0] above the base */
    double base_m;       /* height of the platform's front row above the floor (ON_FLOOR) */
    double stagger;      /* share of a seat by which every other row is shifted */
    gradin_vec2 front_m; /* straight: middle of the first row; curved: centre of the arcs */
    double facing_deg;   /* straight, and fill on flat lifts; NAN when not stated */
    double radius_m;     /* curved: of the first row's eyes */
    double arc_deg[2];   /* curved: bearings from the centre, clockwise from first to last */
    const bool *section; /* [n_section] fill: sections that carry it */
    gradin_seat_kind pattern[16]; /* repeated along each row */
    int n_pattern;
    const char *csv; /* file: path of the seat list */
    const node *csv_at;
    double platform_kn_m2; /* weight of the platform under it; 0 when not stated */
    int seating;           /* index into the venue's house.seating; -2 when it lists none */
} seat_block;

typedef struct rail_entry {
    const char *name;
    const node *at;
    gradin_vec2 *point_m; /* [n_point] */
    int n_point;
    int kind; /* gradin_rail_kind */
    double height_m, thickness_m, post_spacing_m;
    int n_bar;
    double foot_m; /* NAN: the surface below each point */
} rail_entry;

typedef struct plan {
    const char *name, *file;
    gradin_form form;
    section_state *section; /* [venue.n_section] */
    tower_state *tower;     /* [venue.n_tower] */
    arch_state arch;
    bool *panel_open;                             /* [venue.n_panel] */
    double *shade_closed;                         /* [venue.n_shade] */
    double *door_open;                            /* [venue.n_facade] */
    const node **panel_at, **shade_at, **door_at; /* entries that set them, NULL where parked */
    const seat_block *block;
    const rail_entry *rail;
    const gradin_solid *solid;
    const gradin_area *aisle;
    gradin_focus *focus;
    const node **focus_at; /* [n_focus] */
    int n_block, n_rail, n_solid, n_aisle, n_focus;
    double axis_deg;
    int room_method; /* gradin_room_method */
    double room_patch_m;
    gradin_audience audience;
    gradin_limits limits;
    gradin_criterion criterion;
    const gradin_pass *pass;
} plan;

/* Reads a layout and its venue. False after errors. */
bool plan_read(reader *r, const char *path, venue *v, plan *p);

/* The venue that `at` names, beside the file being read. */
bool read_venue_beside(reader *r, const node *at, venue *v);
void default_audience_into(gradin_audience *audience);

/* Parts of plan_read, one file each. */
/* machines may be NULL: everything stays where it is parked. */
void plan_read_settings(reader *r, const node *machines, const venue *v, plan *p);
void plan_read_blocks(reader *r, const node *list, const venue *v, plan *p);
/* Marks the sections from..to of `at` (keys from, to) in chosen[n_section]. */
bool read_sections(reader *r, const node *at, const venue *v, const char *from, const char *to,
                   bool *chosen);
/* Setting of each machine of the venue in this layout, in the order of machine_list.c. */
gradin_setting *plan_settings(reader *r, const venue *v, const plan *p);
/* Interlocks that the settings break. */
void check_interlocks(reader *r, const venue *v, const plan *p);
/* The map audience.population. */
void population_read(reader *r, const node *at, gradin_population *p);
bool pass_read(reader *r, const char *path, gradin_pass *pass);
/* Thresholds of a brief: the map under `brief` in a layout, or the root of a brief file. */
void brief_defaults(gradin_limits *limits, gradin_criterion *criterion);
void brief_read_map(reader *r, const node *map, gradin_limits *limits, gradin_criterion *criterion);
bool brief_read_file(reader *r, const char *path, gradin_limits *limits,
                     gradin_criterion *criterion);

#endif
