/* files/stated/layout.h: a layout, a brief and wishes as their files state them. */
#ifndef GRADIN_FILES_STATED_LAYOUT_H
#define GRADIN_FILES_STATED_LAYOUT_H

#include "files/stated/venue.h"
#include "gradin/layout.h"

typedef struct stated_terrace {
    const node *at;
    int n_step;
    double riser_m, facing_deg;
} stated_terrace;

typedef struct stated_lift {
    const node *at;
    const char *from, *to; /* to NULL: from alone */
    double height_m;
    stated_terrace *terrace;
} stated_lift;

typedef struct stated_tower_setting {
    const node *at;
    const char *name;
    double hoist_m, slide_m, facing_deg; /* facing_deg NAN: as the venue states it */
    bool is_seated;
} stated_tower_setting;

typedef struct stated_arch_setting {
    const node *at;
    bool is_in;
    double opening_m, trim_m, closed;
} stated_arch_setting;

/* A shade or door. */
typedef struct stated_share {
    const node *at;
    const char *name;
    double share;
} stated_share;

typedef struct stated_panel_setting {
    const node *at;
    const char *name;
    bool is_open;
} stated_panel_setting;

typedef struct stated_settings {
    const node *at;
    stated_lift *lift;
    stated_tower_setting *tower;
    stated_arch_setting *arch;
    stated_share *shade, *door;
    stated_panel_setting *panel;
    int n_lift, n_tower, n_shade, n_door, n_panel;
} stated_settings;

typedef struct stated_straight {
    const node *at;
    gradin_vec2 front_m;
    double facing_deg, stagger;
    int n_row, n_seat;
    double *row_seat; /* [n_row_seat] */
    int n_row_seat;
} stated_straight;

typedef struct stated_curved {
    const node *at;
    gradin_vec2 centre_m;
    double radius_m, from_deg, to_deg, stagger;
    int n_row, n_seat;
    double *row_seat; /* [n_row_seat] */
    int n_row_seat;
} stated_curved;

typedef struct stated_fill {
    const node *at;
    const char *from, *to;
    double facing_deg, stagger;
} stated_fill;

typedef struct stated_fan {
    const node *at;
    gradin_vec2 point_m;
    double from_deg, to_deg;
} stated_fan;

typedef struct stated_trim {
    bool to_room;
    stated_fan *fan;
} stated_trim;

/* A row of boxes: floor, partitions, parapet and seats. */
typedef struct stated_boxes {
    const node *at;
    const char *name, *level, *seating;
    gradin_vec2 *front_m; /* [n_front] */
    int n_front, n_box, n_row, n_seat;
    double depth_m, floor_m, thickness_m, seat_width_m, row_depth_m, riser_m, clear_m, turn_deg;
    double partition_m, partition_height_m, parapet_m, parapet_thickness_m;
} stated_boxes;

typedef struct stated_block {
    const node *at;
    const char *name, *seating, *file, *level;
    int on; /* gradin_support */
    double seat_width_m, seat_depth_m, row_depth_m, riser_m, slope, base_m, platform_kn_m2;
    double *depth_m, *rise_m; /* [n_depth], [n_rise] */
    int n_depth, n_rise;
    int *pattern; /* [n_pattern] gradin_seat_kind */
    int n_pattern;
    stated_straight *straight;
    stated_curved *curved;
    stated_fill *fill;
    stated_trim *trim;
} stated_block;

/* Names of the columns in a seat list; NULL: it has none. */
typedef struct stated_columns {
    const node *at;
    const char **place; /* [n_place] of x and y */
    int n_place;
    const char *floor, *eye, *facing, *row, *seat, *block, *level, *kind;
} stated_columns;

/* The words for each kind of place. */
typedef struct stated_place_words {
    const node *at;
    const char **seat, **wheelchair, **companion;
    int n_seat, n_wheelchair, n_companion;
} stated_place_words;

/* A seat list as another program has written it; or a row of boxes, and then nothing else. */
typedef struct gradin_seat_source {
    const node *at;
    const stated_boxes *boxes;
    const char *file, *name, *level, *seating;
    const char **only; /* [n_only] blocks that are taken; none: all */
    int n_only;
    int units, separator, decimal, facing_as; /* list_unit, ... in seat_list.h */
    bool is_y_down;
    stated_columns columns;
    stated_place_words kinds;
    gradin_vec2 origin_m, faces_m; /* faces_m NAN when not stated */
    double origin_height_m, turn_deg, facing_deg, base_m;
    int on; /* gradin_support */
    double seat_width_m, seat_depth_m, row_depth_m, platform_kn_m2;
} stated_seat_list;

typedef struct stated_rating {
    const node *at;
    gradin_limits limits;
    int *rate_by; /* [n_rate_by] gradin_reason less one; none: the default */
    int n_rate_by;
} stated_rating;

/* The root of a brief's file, or the map `brief` of a layout. */
typedef struct stated_brief {
    const char *name;
    stated_rating rating;
    gradin_criterion noise;
} stated_brief;

typedef struct stated_scenery {
    const node *at;
    const char *name, *by;
    int pieces, crew, per_trip;
    double piece_kg, in_min, out_min, in_kg_h, out_kg_h, height_m, level_m;
    gradin_polygon area, way;
    bool rides;
    const char **after, **before; /* [n_after], [n_before] */
    int n_after, n_before;
} stated_scenery;

typedef struct stated_layout {
    const node *at;
    const char *name, *venue, *brief_file, *overflight;
    int form, room_method;
    bool has_diffuse_anyway;
    double axis_deg, room_patch_m;
    stated_settings machines;
    stated_block *block;
    stated_seat_list *seat_list;
    stated_boxes *boxes;
    gradin_area *aisle;
    gradin_passage *passage;
    gradin_rail_entry *rail;
    stated_solid *solid;
    stated_scenery *scenery;
    gradin_focus *focus;
    int n_block, n_seat_list, n_boxes, n_aisle, n_passage, n_rail, n_solid, n_scenery, n_focus;
    gradin_c_line *c_line;               /* NULL when not stated */
    gradin_reverberation *reverberation; /* NULL when not stated */
    gradin_audience audience;
    stated_brief brief;
} stated_layout;

typedef struct stated_stage {
    double width_m, depth_m, height_m, focus_inset_m, focus_above_m;
} stated_stage;

typedef struct stated_arch_wish {
    const node *at;
    double opening_m, trim_m;
} stated_arch_wish;

typedef struct stated_platforms {
    double step_m, most_m;
} stated_platforms;

typedef struct stated_wishes {
    const node *at;
    const char *name, *venue, *brief, *overflight, *seating;
    int form, n_seat, n_wheelchair;
    double axis_deg, c_m, seat_width_m, row_depth_m, aisle_m, curve_m, shades_closed;
    stated_stage stage;
    stated_arch_wish *arch;
    stated_platforms *platforms;
    bool use_towers, has_vomitories, is_symmetric;
    const char **tower; /* [n_tower] instead of use_towers */
    int n_tower;
} stated_wishes;

extern const schema_table lift_table, tower_setting_table, block_table, boxes_table;
extern const schema_table seat_list_table, scenery_table;
extern const schema_table rail_table, focus_table;
extern const schema_table settings_table, audience_table, rating_table, brief_table;
extern const schema_file layout_schema, brief_schema, wishes_schema;

#endif
