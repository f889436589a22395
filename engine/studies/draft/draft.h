/* studies/draft/draft.h: parts of drafting a layout. A choice is one point of the small space that
 * is searched; a scheme is what a choice makes of the venue. */
#ifndef GRADIN_STUDIES_DRAFT_H
#define GRADIN_STUDIES_DRAFT_H

#include "gradin/studies/draft.h"
#include "studies/rake/rake.h"

enum {
    DRAFT_MAX_RANK = 99,
    DRAFT_MAX_BANK = 4,
    DRAFT_MAX_AISLE = 24,
    DRAFT_MAX_WHEELCHAIR_ROW = 12,
    DRAFT_MAX_LIMIT = 24
};

enum {
    DRAFT_FRONT = 1,
    DRAFT_BACK = 2,
    DRAFT_SIDES = 4
}; /* banks before, behind, beside the stage */

#define DRAFT_PLACE_WIDTH_M 0.9 /* a wheelchair place and its companion's, side by side ... */
#define DRAFT_PLACE_DEPTH_M 1.3 /* ... over the 0.84 x 1.22 m of ADA Standards 2010, 802.1 */
#define DRAFT_WAY_M 0.9     /* least width of a way that is kept free; common practice, no source */
#define DRAFT_LANDING_M 1.2 /* kept clear of seats before a door; common practice, no source */
#define DRAFT_HEADROOM_M 2.2 /* under towers and beams */
#define DRAFT_WALL_M 0.02    /* a row that ends at a wall ends this far from it */
#define DRAFT_RAIL_M 1.1     /* common practice, no source; more where the venue asks it */

typedef struct draft_choice {
    int inset;  /* sections left free at the ends of the banks; flat floor: at its sides */
    int depth;  /* most ranks a bank; flat floor: rows */
    int towers; /* most groups of towers */
    /* Each of DRAFT_FRONT and so on: */
    int gap;   /* banks before which a rank is left free; more floor behind places before chairs */
    int reach; /* without lifts: ways that such a gap is deep */
    int front; /* banks whose first rank stays level and takes wheelchair places */
    int walk;  /* banks whose first treads stay free: their aisles lead out there */
} draft_choice;

/* Why a bank that its form needs has no row. */
typedef struct draft_lack {
    const char *text; /* NULL: nothing is known */
    double length_m;  /* that is lacking; INFINITY when it is no matter of length */
} draft_lack;

/* Sections column c0..c1-1, row r0..r1-1 of the main grid. */
typedef struct draft_cells {
    int c0, c1, r0, r1;
} draft_cells;

typedef struct draft_bank {
    const char *name;
    draft_cells cells; /* all its ranks */
    int quarter;       /* its people face 90 * quarter deg */
    int n_rank, n_step;
    bool is_front; /* its first rank is level, for places */
    int n_first;   /* sections deep of such a first rank */
    double free_m; /* depth of the free ranks before it */
    int n_walk;    /* treads before the first row that stay free of seats */
    double height_m[DRAFT_MAX_RANK], riser_m[DRAFT_MAX_RANK]; /* [n_rank] */
    double rank_m, across_m; /* depth of a rank; width of a section along the rows */
    int n_across, per_section;
    double seat_m; /* width: the wished one, or more where it would leave gaps */
    double aisle_m[DRAFT_MAX_AISLE][2]; /* from its low end along the rows */
    int n_aisle;
    int n_seat;
    double least_c_m;
    const char *hindrance; /* what keeps another rank out; NULL when nothing is left */
} draft_bank;

typedef struct draft_tower {
    bool is_seated, is_flown;
    double hoist_m, slide_m;
    int n_seat;
} draft_tower;

/* A straight row of wheelchair places and companions on level floor. */
typedef struct draft_wheelchair_row {
    gradin_vec2 front_m; /* middle of the row */
    double facing_deg;
    int n_place;                /* wheelchair places and companions by turns ... */
    bool starts_with_companion; /* ... from the left hand of its people */
} draft_wheelchair_row;

/* Loose chairs on a flat floor: straight rows, or arcs about a centre. */
typedef struct draft_floor {
    bool is_curved;
    gradin_vec2 front_m; /* middle of the first row, or the centre */
    double facing_deg, radius_m, arc_deg[2];
    int n_row, n_across; /* most seats a row when straight */
    gradin_vec2 aisle_m[DRAFT_MAX_AISLE][4];
    int n_aisle, n_seat;
} draft_floor;

typedef struct draft_scheme {
    draft_choice choice;
    const draft_bank *refused; /* the bank without a row that keeps the form from being made */
    draft_bank bank[DRAFT_MAX_BANK];
    draft_tower *tower;      /* [n_tower] */
    gradin_setting *setting; /* [n_machine] */
    draft_wheelchair_row wheelchair_row[DRAFT_MAX_WHEELCHAIR_ROW];
    draft_floor floor;
    int n_bank, n_wheelchair_row;
    int n_seat;       /* in all, places among them */
    int n_wheelchair; /* and as many companions */
} draft_scheme;

typedef struct draft_job {
    gradin_arena *arena;
    const gradin_wishes *w;
    const gradin_venue *hall;
    gradin_error *error;
    int main; /* grid that carries the banks; -1 where the venue has none */
    const gradin_lift_grid
        *plan; /* that grid, or squares over the floor of a venue without lifts */
    bool *is_stage_grid;
    int quarter;          /* the stage faces 90 * quarter deg */
    int n_across, n_deep; /* sections of the main grid across and away from the stage */
    int stage[4];         /* sections of the main grid on the stage: i0, i1, j0, j1 */
    gradin_box2 stage_box, focus_box;
    gradin_box2 floor_box; /* the largest rectangle of the room's floor on which nothing stands */
    double focus_z_m, step_m; /* heights are set in whole steps */
    int most_seats;           /* that the exits allow; INT32_MAX without a rule */
    draft_lack lack;          /* the least of the choices that cannot be made */
    rake_job *rake;           /* scratch */
    const char **limit;       /* [DRAFT_MAX_LIMIT] */
    int n_limit;
} draft_job;

gradin_status draft_no_memory(gradin_error *error);

/* hall.c: sections by place. `i` counts across the stage's front, `j` away from it. */
gradin_status draft_read_hall(draft_job *job);
draft_cells draft_cells_of(const draft_job *job, int i0, int i1, int j0, int j1);
gradin_box2 draft_box(const draft_job *job, draft_cells cells);
/* The machine that moves a section of a grid. */
int draft_section_machine(const gradin_venue *hall, int grid, int column, int row);
/* Adds a line to what limited the draft, once; false when out of memory. */
bool draft_limit(draft_job *job, const char *text);

/* Least width of a way that is kept free: the venue's rule, or common practice. */
double draft_way_m(const draft_job *job);

/* room.c: the largest rectangle of free floor at 0, and squares over it for a venue without lifts.
 * False or NULL when out of memory. */
bool draft_find_floor(draft_job *job);
const gradin_lift_grid *draft_squares(draft_job *job);

/* boxes.c: where things lie on plan. */
/* Corners of a box, anticlockwise from the south-west. */
void draft_box_corners(gradin_box2 box, gradin_vec2 corner_m[4]);
bool draft_boxes_meet(gradin_box2 a, gradin_box2 b);
/* The whole line of the arch. */
void draft_arch_corners(const gradin_venue *hall, gradin_vec2 corner_m[4]);
/* Sections of a grid under a box. */
draft_cells draft_cells_under(const gradin_lift_grid *grid, gradin_box2 box);
/* One rank of a bank, counted from the front: its sections and its box. */
draft_cells draft_rank_cells(const draft_bank *bank, int rank);
gradin_box2 draft_rank_box(const draft_job *job, const draft_bank *bank, int rank);
gradin_box2 draft_bank_box(const draft_job *job, const draft_bank *bank); /* holds all its ranks */
/* A strip of a bank along its front edge, by its depth; `over_m` longer at both ends. */
gradin_box2 draft_front_box(const draft_job *job, const draft_bank *bank, double depth_m,
                            double over_m);
gradin_box2 draft_tower_box(const gradin_tower *tower, double slide_m);

/* stage.c */
/* Does the stage stand at an end of the room, with people before it only? */
bool draft_is_end(gradin_form form);
/* Is it so low that people walk over it? */
bool draft_is_stage_level(const draft_job *job);

/* form.c: stage and focus; banks of a choice. */
gradin_status draft_place_stage(draft_job *job);
bool draft_make_banks(const draft_job *job, draft_scheme *scheme);

/* lacking.c: keeps why a scheme cannot be made where that is less than for those before; false when
 * out of memory. */
bool draft_note_lack(draft_job *job, const draft_scheme *scheme);

/* bank.c: rake and aisles of one bank; 0 ranks when none can be made. */
void draft_rake_bank(const draft_job *job, draft_bank *bank, int most_rank, bool has_walk);
void draft_cut_aisles(const draft_job *job, draft_bank *bank);
/* Ranks deep between its front and its back. */
int draft_bank_depth(const draft_bank *bank);
/* Least width of a row on the floor that is worth an aisle. */
double draft_least_row_m(const draft_job *job);
/* Rows of seats, places apart. */
int draft_bank_rows(const draft_bank *bank);
/* Aisles of `gone` seats across a row of n: first[k] is the first seat that aisle k takes out.
 * False when no count up to DRAFT_MAX_AISLE serves. */
bool draft_aisles(int n, int gone, int one_aisle, int two_aisles, int *first, int *n_aisle);
/* Most seats of a row with an aisle at one end and at both: the venue's, else reference figures. */
void draft_row_rule(const draft_job *job, int *one_aisle, int *two_aisles);

/* tower.c */
/* Every tower: seated, flown out of the way, or left where it is. */
void draft_set_towers(const draft_job *job, draft_scheme *scheme);

/* settings.c */
void draft_set_machines(const draft_job *job, draft_scheme *scheme);

/* wheelchair_rows.c: rows of places until all stand; false when the floor has no room. */
bool draft_set_places(const draft_job *job, draft_scheme *scheme);

/* front_rows.c */
void draft_add_row(draft_scheme *scheme, draft_wheelchair_row row);
/* Rows of places on the level first ranks of the banks; how many of n they take. */
int draft_set_fronts(const draft_job *job, draft_scheme *scheme, int n, int most);
/* Shares n places out among runs with room for so many each: alike on both sides of the middle
 * where that can be, rows of two and more. `may_be_odd`: a bank across the axis has the same rows,
 * so that one begins with a wheelchair place and the other with a companion's. Returns how many
 * stand. */
int draft_share_places(int n_run, const int *room, int n, bool may_be_odd, int *here);
/* Where a row of places stands on the level first rank of a bank: middle of the row to its front.
 */
double draft_front_row_m(const draft_bank *bank);
/* Depth of the first rank. */
double draft_first_m(const draft_bank *bank);

/* floor.c: loose chairs; false when none fits. */
bool draft_set_floor(const draft_job *job, draft_scheme *scheme);
int draft_chairs_of_row(const draft_job *job, const draft_floor *f, int row);

/* free_floor.c: is the shape level floor at height 0 where nothing stands and nobody leaves? The
 * floor before a door is kept clear by door_m. */
bool draft_is_free(const draft_job *job, const draft_scheme *scheme, gradin_polygon shape,
                   double door_m);
/* The same, the stage apart. */
bool draft_is_clear(const draft_job *job, const draft_scheme *scheme, gradin_polygon shape,
                    double door_m);
bool draft_is_on_stage(const draft_job *job, gradin_polygon shape);
/* The name of what is fixed there, or of the door whose floor it is; NULL: nothing. */
const char *draft_fixed_name(const gradin_venue *hall, gradin_polygon shape, double door_m);
/* Is a part of the floor anywhere not at 0? Drafts keep off it. */
bool draft_is_off_level(const gradin_floor_region *region);
/* Is a point among the loose chairs, or within a step of them? */
bool draft_is_among_chairs(const draft_job *job, const draft_floor *f, gradin_vec2 at_m);

/* rails.c: rails along the open edges of a model. */
typedef struct draft_rail {
    const char *name;
    gradin_vec2 *point_m;
    int n_point;
} draft_rail;
bool draft_find_rails(gradin_arena *arena, const gradin_fit *fit, const draft_rail **rail,
                      int *n_rail);
/* Is an edge open that such a rail should have closed? */
bool draft_has_open_edges(const gradin_fit *fit);

/* mirror.c: what lies alike on the other side of the stage's axis. */
gradin_vec2 draft_mirror_m(const draft_job *job, gradin_vec2 at_m);
double draft_mirror_deg(const draft_job *job, double bearing_deg);
/* From the axis, in either direction. */
double draft_off_axis_m(const draft_job *job, gradin_vec2 at_m);
/* The tower that stands there as this one does here, itself perhaps; -1: none. */
int draft_mirror_tower(const draft_job *job, int index);

/* layout.c: the layout of a scheme, without rails; and rails added to it. */
gradin_status draft_make_layout(const draft_job *job, const draft_scheme *scheme,
                                gradin_layout *layout);
bool draft_add_rails(const draft_job *job, const draft_rail *found, int n, gradin_layout *layout);

/* worth.c: how well people see a finished layout, from a few rays. */
typedef struct draft_worth {
    double share; /* of the seats that are clear or good */
    int n_poor, n_tower, n_poor_tower;
} draft_worth;
gradin_status draft_weigh_sight(const draft_job *job, const gradin_model *model,
                                draft_worth *worth);

/* report.c */
bool draft_report(draft_job *job, const draft_scheme *scheme, gradin_draft *draft);

#endif
