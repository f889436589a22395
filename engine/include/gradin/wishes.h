/* gradin/wishes.h: what somebody wishes of a layout before there is one, and the bare facts of the
 * venue that a draft is made from. All of it lives in the arena given to gradin_wishes_read().
 * Lengths m, heights above the plan origin's level, bearings clockwise from north. */
#ifndef GRADIN_WISHES_H
#define GRADIN_WISHES_H

#include "gradin/layout.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Sections of one grid: row by row from its first one, columns of a row to the east. */
typedef struct gradin_hall_grid {
    const char *name;
    gradin_vec2 origin_m; /* south-west corner */
    int n_column, n_row, first_section;
    double size_m[2]; /* of a section, x and y */
    double travel_m[2], riser_m[2];
    int most_steps;
    bool faces[4]; /* 0, 90, 180, 270 deg */
} gradin_hall_grid;

typedef struct gradin_hall_level {
    double deck_m, thickness_m; /* front tread at hoist 0, slab below it */
    int n_row, n_seat;          /* seats a row */
    double row_depth_m, riser_m, front_m;
} gradin_hall_level;

typedef struct gradin_hall_tower {
    const char *name;
    gradin_vec2 front_m; /* middle of the front edge, slide 0 */
    double facing_deg, width_m, depth_m;
    double hoist_m[2], slide_m[2], slide_bearing_deg;
    const gradin_hall_level *level;
    int n_level;
} gradin_hall_tower;

typedef struct gradin_hall_door {
    const char *name;
    gradin_vec2 middle_m, inward; /* unit */
    double width_m;
} gradin_hall_door;

typedef struct gradin_hall {
    const char *name;
    gradin_polygon footprint;
    double ceiling_m, rail_min_m;
    const gradin_solid *solid;
    const gradin_hall_grid *grid;
    const char *const *section_name; /* [n_section] */
    const gradin_hall_tower *tower;
    const gradin_area *panel;
    const gradin_hall_door *door;
    const char *const *shade;
    int n_solid, n_grid, n_section, n_tower, n_panel, n_door, n_shade;
    bool has_arch;
    gradin_vec2 arch_line_m[2];
    double arch_thickness_m;
    /* every drive: sections, hoists, slides, trim and opening of the arch, panels, shades, doors */
    const gradin_machine *machine;
    int n_machine;
    const gradin_interlock *interlock;
    int n_interlock;
    gradin_local_rules rules;
} gradin_hall;

/* Wishes that a draft may have to refuse. */
typedef enum gradin_wish {
    GRADIN_WISH_VENUE,
    GRADIN_WISH_STAGE,
    GRADIN_WISH_C,
    GRADIN_WISH_SEATS,
    GRADIN_WISH_WHEELCHAIRS,
    GRADIN_WISH_ARCH,
    GRADIN_N_WISH
} gradin_wish;

typedef struct gradin_wishes {
    gradin_place at[GRADIN_N_WISH]; /* where each is stated, or would be */
    const char *file, *units;       /* "m" or "ft" */
    double unit_m;
    const char *name;
    const char *venue, *brief, *overflight; /* as stated; brief and overflight may be NULL */
    gradin_form form;
    double axis_deg; /* bearing the stage faces: 0, 90, 180, 270 */
    double stage_width_m, stage_depth_m, stage_height_m;
    double focus_inset_m, focus_above_m; /* from the stage's edges, over its floor */
    double c_m, seat_width_m, row_depth_m, aisle_m;
    double curve_m;   /* flat floor: radius of the first row; 0 for straight rows */
    int n_seat;       /* wanted; 0: as many as possible */
    int n_wheelchair; /* -1: by the count table */
    bool *use_tower;  /* [n_tower] */
    bool has_vomitories;
    bool has_arch;
    double arch_opening_m, arch_trim_m;
    double shades_closed;
    const char *seating; /* NULL: the venue's first */
    gradin_audience audience;
    gradin_hall hall;
} gradin_wishes;

GRADIN_API gradin_status gradin_wishes_read(gradin_arena *arena, const char *path,
                                            gradin_wishes *wishes, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
