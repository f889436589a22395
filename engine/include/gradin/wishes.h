/* gradin/wishes.h: what somebody wishes of a layout before there is one.
 * Lengths m, heights above the plan origin's level, bearings clockwise from north.
 *
 * Ownership and threads: All of it belongs to the arena of whoever reads it; any number of threads
 * may read wishes that nobody changes. */
#ifndef GRADIN_WISHES_H
#define GRADIN_WISHES_H

#include "gradin/layout.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Wishes that a draft may have to refuse. */
typedef enum gradin_wish {
    GRADIN_WISH_VENUE,
    GRADIN_WISH_STAGE,
    GRADIN_WISH_C,
    GRADIN_WISH_SEATS,
    GRADIN_WISH_WHEELCHAIRS,
    GRADIN_WISH_ARCH,
    GRADIN_WISH_PLATFORMS,
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
    bool is_symmetric; /* about the stage's axis, where the hall is */
    bool has_arch;
    double arch_opening_m, arch_trim_m;
    double platform_step_m,
        platform_most_m; /* heights in which platforms come; 0: there are none */
    double shades_closed;
    const char *seating; /* NULL: the venue's first */
    gradin_audience audience;
    gradin_limits limits; /* of the brief, or the defaults */
    gradin_criterion criterion;
    const gradin_pass *pass;  /* NULL without an overflight */
    char digest[33];          /* hex XXH3-128 of all files read, in order of reading */
    const gradin_venue *hall; /* the venue itself */
} gradin_wishes;

#ifdef __cplusplus
}
#endif

#endif
