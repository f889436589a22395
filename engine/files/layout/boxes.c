/* Rows of boxes: each box becomes a block of listed seats, the row gets a floor, walls between the
 * boxes and at both ends, and a solid parapet along its front. */
#include "files/layout/read.h"

#include <string.h>

/* A row of boxes as it stands on plan. */
typedef struct row_of {
    reader *r;
    const stated_boxes *s;
    const stated_seat_list *source; /* of its blocks, for the writer */
    gradin_vec2 right, ahead;       /* unit vectors of who sits there */
    double facing_deg, length_m, box_m;
} row_of;

static gradin_vec2 point_of(const row_of *row, double along_m, double back_m) {
    gradin_vec2 from_m = row->s->front_m[0];
    return (gradin_vec2){from_m.x + along_m * row->right.x - back_m * row->ahead.x,
                         from_m.y + along_m * row->right.y - back_m * row->ahead.y};
}

static gradin_polygon rectangle_of(const row_of *row, double from_m, double to_m) {
    gradin_vec2 *corner = alloc(&row->r->c, 4, sizeof *corner);
    if (!corner) return (gradin_polygon){NULL, 0};
    corner[0] = point_of(row, from_m, row->s->depth_m);
    corner[1] = point_of(row, to_m, row->s->depth_m);
    corner[2] = point_of(row, to_m, 0.0);
    corner[3] = point_of(row, from_m, 0.0);
    return (gradin_polygon){corner, 4};
}

static bool start_row(reader *r, const stated_boxes *s, row_of *row) {
    if (!s->at || s->n_front != 2) return false;
    double dx = s->front_m[1].x - s->front_m[0].x, dy = s->front_m[1].y - s->front_m[0].y;
    double right_deg = gradin_bearing_deg(dx, dy);
    *row = (row_of){.r = r, .s = s, .length_m = hypot(dx, dy)};
    row->facing_deg = gradin_wrap_360_deg(right_deg - 90.0);
    row->right = gradin_bearing_unit(right_deg);
    row->ahead = gradin_bearing_unit(right_deg - 90.0);
    row->box_m = row->length_m / s->n_box;
    if (s->n_seat * s->seat_width_m > row->box_m - s->partition_m + 1e-9)
        complain_key(r, s->at, "seats", "has rows wider than a box between its walls");
    else if (s->clear_m + s->n_row * s->row_depth_m > s->depth_m + 1e-9)
        complain_key(r, s->at, "rows", "has rows deeper than a box");
    else
        return true;
    return false;
}

static const char *level_of(const stated_boxes *s) {
    return s->level ? s->level : "boxes";
}

static gradin_listed_seat seat_of(const row_of *row, int box, int k, int i) {
    const stated_boxes *s = row->s;
    double along_m = (box + 0.5) * row->box_m + (i - (s->n_seat - 1) / 2.0) * s->seat_width_m;
    double back_m = s->clear_m + (k + 0.5) * s->row_depth_m;
    return (gradin_listed_seat){.row = k + 1,
                                .number = i + 1,
                                .at_m = point_of(row, along_m, back_m),
                                .facing_deg = gradin_wrap_360_deg(row->facing_deg + s->turn_deg),
                                .rise_m = k * s->riser_m};
}

static void fill_box(const row_of *row, int box, gradin_block *b) {
    const stated_boxes *s = row->s;
    gradin_listed_seat *seat = alloc(&row->r->c, s->n_row * s->n_seat, sizeof *seat);
    *b = gradin_block_defaults();
    b->name = print_text(&row->r->c, "%s %d", s->name, box + 1);
    b->at = &s->at->place;
    b->level = level_of(s);
    b->source = row->source;
    b->rows = GRADIN_ROWS_LISTED;
    b->seat_width_m = s->seat_width_m;
    b->row_depth_m = s->row_depth_m;
    b->base_m = s->floor_m;
    for (int k = 0; seat && k < s->n_row; k++)
        for (int i = 0; i < s->n_seat; i++) seat[b->n_listed++] = seat_of(row, box, k, i);
    b->listed = seat;
}

static void fill_floor(const row_of *row, gradin_solid *solid) {
    const stated_boxes *s = row->s;
    *solid = (gradin_solid){.name = print_text(&row->r->c, "%s floor", s->name),
                            .kind = GRADIN_SOLID_SLAB,
                            .polygon = rectangle_of(row, 0.0, row->length_m),
                            .bottom_m = s->floor_m - s->thickness_m,
                            .top_m = s->floor_m};
    solid->at = &s->at->place;
}

/* The walls at both ends stand within the row. */
static void fill_wall(const row_of *row, int index, gradin_solid *solid) {
    const stated_boxes *s = row->s;
    double half_m = s->partition_m / 2.0, middle_m = index * row->box_m;
    middle_m = fmin(fmax(middle_m, half_m), row->length_m - half_m);
    *solid = (gradin_solid){.name = print_text(&row->r->c, "%s wall %d", s->name, index + 1),
                            .kind = GRADIN_SOLID_WALL,
                            .polygon = rectangle_of(row, middle_m - half_m, middle_m + half_m),
                            .bottom_m = s->floor_m,
                            .top_m = s->floor_m + s->partition_height_m};
    solid->at = &s->at->place;
}

static void fill_parapet(const row_of *row, gradin_rail_entry *rail) {
    const stated_boxes *s = row->s;
    gradin_vec2 *point = alloc(&row->r->c, 2, sizeof *point);
    *rail = gradin_rail_entry_defaults();
    rail->name = print_text(&row->r->c, "%s parapet", s->name);
    rail->at = &s->at->place;
    rail->kind = GRADIN_RAIL_SOLID;
    rail->height_m = s->parapet_m;
    rail->thickness_m = s->parapet_thickness_m;
    rail->foot_m = s->floor_m;
    rail->level = level_of(s);
    rail->point_m = point;
    rail->n_point = point ? 2 : 0;
    for (int i = 0; point && i < 2; i++)
        point[i] = point_of(row, i * row->length_m, s->parapet_thickness_m / 2.0);
}

/* A longer copy of a list; the items there were come first. */
static void *longer(reader *r, const void *item, int n, int n_more, size_t size) {
    char *made = alloc(&r->c, n + n_more, size);
    if (made && n > 0) memcpy(made, item, (size_t)n * size);
    return made;
}

static const stated_seat_list *source_of(reader *r, const stated_boxes *s) {
    stated_seat_list *source = alloc(&r->c, 1, sizeof *source);
    if (source) source->boxes = s;
    return source;
}

static void fill_row(row_of *row, gradin_layout *p) {
    const stated_boxes *s = row->s;
    row->source = source_of(row->r, s);
    int n_wall = s->partition_height_m > 0.0 ? s->n_box + 1 : 0;
    gradin_block *block = longer(row->r, p->block, p->n_block, s->n_box, sizeof *block);
    gradin_solid *solid = longer(row->r, p->solid, p->n_solid, 1 + n_wall, sizeof *solid);
    gradin_rail_entry *rail = longer(row->r, p->rail, p->n_rail, 1, sizeof *rail);
    if (!row->source || !block || !solid || !rail) return;
    for (int i = 0; i < s->n_box; i++) fill_box(row, i, &block[p->n_block++]);
    fill_floor(row, &solid[p->n_solid++]);
    for (int i = 0; i < n_wall; i++) fill_wall(row, i, &solid[p->n_solid++]);
    fill_parapet(row, &rail[p->n_rail++]);
    p->block = block;
    p->solid = solid;
    p->rail = rail;
}

void fill_boxes(reader *r, const stated_layout *s, gradin_layout *p) {
    for (int i = 0; i < s->n_boxes; i++) {
        row_of row;
        if (start_row(r, &s->boxes[i], &row)) fill_row(&row, p);
    }
}
