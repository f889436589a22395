/* Seating blocks as a layout states them. */
#include "files/layout/read.h"

/* A list of seats per row, whole numbers. */
static void fill_row_seats(reader *r, const node *at, const double *seats, int n, gradin_block *b) {
    int *made = n > 0 ? alloc(&r->c, n, sizeof *made) : NULL;
    if (!made) return;
    if (n != b->n_row) {
        complain_key(r, at, "seats", "has %d values; %d are needed", n, b->n_row);
        return;
    }
    for (int i = 0; i < n; i++) {
        made[i] = (int)seats[i];
        if (made[i] != seats[i]) complain_key(r, at, "seats", "needs whole numbers");
    }
    b->row_seat = made;
}

static void fill_trim(reader *r, const stated_trim *s, gradin_block *b) {
    b->is_trimmed_to_room = s->to_room;
    if (!s->fan || !s->fan->at) return;
    double span_deg = s->fan->to_deg - s->fan->from_deg;
    b->has_fan = true;
    b->fan_m = s->fan->point_m;
    b->fan_deg[0] = s->fan->from_deg;
    b->fan_deg[1] = s->fan->to_deg;
    if (span_deg <= 0.0 || span_deg >= 360.0)
        complain_key(r, s->fan->at, "to_deg",
                     "must be more than from_deg by less than 360 (clockwise)");
}

static void fill_straight(reader *r, const stated_straight *s, gradin_block *b) {
    b->rows = GRADIN_ROWS_STRAIGHT;
    b->front_m = s->front_m;
    b->facing_deg = s->facing_deg;
    b->n_row = s->n_row;
    b->n_seat = s->n_seat;
    b->stagger = s->stagger;
    if (s->at) fill_row_seats(r, s->at, s->row_seat, s->n_row_seat, b);
}

static void fill_curved(reader *r, const stated_curved *s, gradin_block *b) {
    double span_deg = s->to_deg - s->from_deg;
    b->rows = GRADIN_ROWS_CURVED;
    b->front_m = s->centre_m;
    b->radius_m = s->radius_m;
    b->arc_deg[0] = s->from_deg;
    b->arc_deg[1] = s->to_deg;
    b->n_row = s->n_row;
    b->n_seat = s->n_seat;
    b->stagger = s->stagger;
    if (s->at) fill_row_seats(r, s->at, s->row_seat, s->n_row_seat, b);
    if (s->at && (span_deg <= 0.0 || span_deg > 360.0))
        complain_key(r, s->at, "to_deg", "must be more than from_deg by at most 360 (clockwise)");
}

static void fill_fill(reader *r, const stated_fill *s, const gradin_venue *v, gradin_block *b) {
    b->rows = GRADIN_ROWS_FILL;
    b->facing_deg = s->facing_deg;
    b->stagger = s->stagger;
    if (!s->at) return;
    find_span(r, s->at, v, s->from, s->to, &b->from_section, &b->to_section);
    if (b->on != GRADIN_SUPPORT_LIFTS)
        complain(r, s->at, "fills lift sections; write 'stands_on: lifts'");
}

/* One of the four ways to place rows. */
static void fill_placement(reader *r, const stated_block *s, const gradin_venue *v,
                           gradin_block *b) {
    if (s->straight)
        fill_straight(r, s->straight, b);
    else if (s->curved)
        fill_curved(r, s->curved, b);
    else if (s->fill)
        fill_fill(r, s->fill, v, b);
    else {
        b->rows = GRADIN_ROWS_LISTED; /* the list itself is read once all else is well */
        b->list_file = s->file;
    }
}

/* A list has a length for every row. */
static bool has_each(reader *r, const node *at, int n, int n_row) {
    if (n == n_row) return true;
    complain(r, at, "has %d values; %d are needed", n, n_row);
    return false;
}

static void fill_rises(reader *r, const stated_block *s, gradin_block *b) {
    bool has_rows = b->rows == GRADIN_ROWS_STRAIGHT || b->rows == GRADIN_ROWS_CURVED;
    const node *depth = map_get(s->at, "row_depth"), *riser = map_get(s->at, "riser");
    const node *slope = map_get(s->at, "slope");
    bool has_depths = depth->kind == NODE_LIST, has_rises = riser && riser->kind == NODE_LIST;
    if (has_depths && !has_rows)
        complain(r, depth, "must be one number here");
    else if (has_depths && has_each(r, depth, s->n_depth, b->n_row))
        b->depth_m = s->depth_m;
    else if (!has_depths)
        b->row_depth_m = s->row_depth_m;
    if (riser && !has_rows)
        complain(r, riser, "goes with straight or curved rows");
    else if (has_rises && has_each(r, riser, s->n_rise, b->n_row))
        b->rise_m = s->rise_m;
    else if (!has_rises)
        b->riser_m = s->riser_m;
    if (slope && !has_rows)
        complain(r, slope, "goes with straight or curved rows");
    else
        b->slope = s->slope;
    if (b->on == GRADIN_SUPPORT_LIFTS && (riser || slope || b->base_m != 0.0))
        complain(r, s->at,
                 "stands on lifts: their treads give the heights; leave out base, riser and slope");
}

static void fill_block(reader *r, const stated_block *s, const gradin_venue *v, gradin_block *b) {
    int before = r->c.n_error;
    *b = gradin_block_defaults();
    b->name = s->name;
    if (!s->at) return;
    b->at = &s->at->place;
    b->level = s->level;
    b->on = (gradin_support)s->on;
    b->seat_width_m = s->seat_width_m;
    b->seat_depth_m = s->seat_depth_m;
    b->base_m = s->base_m;
    b->platform_kn_m2 = s->platform_kn_m2;
    if (s->seating)
        b->seating = look_up(r, map_get(s->at, "seating"), "seating", v->crew.seating,
                             v->crew.n_seating, sizeof *v->crew.seating);
    if (s->n_pattern > 0) b->n_pattern = s->n_pattern;
    for (int i = 0; i < s->n_pattern; i++) b->pattern[i] = (gradin_seat_kind)s->pattern[i];
    if (s->trim) fill_trim(r, s->trim, b);
    fill_placement(r, s, v, b);
    if (r->c.n_error == before) fill_rises(r, s, b);
}

void fill_blocks(reader *r, const stated_layout *s, const gradin_venue *v, gradin_layout *p) {
    gradin_block *made = s->n_block > 0 ? alloc(&r->c, s->n_block, sizeof *made) : NULL;
    if (!made) return;
    for (int i = 0; i < s->n_block; i++) fill_block(r, &s->block[i], v, &made[i]);
    p->block = made;
    p->n_block = s->n_block;
}
