/* Seating blocks as a layout states them. */
#include "files/layout_read.h"

#include <string.h>

static const char *const support_names[] = {"floor", "lifts", NULL};
static const char *const place_names[] = {"seat", "wheelchair", "companion", NULL};

/* A length for every row: one number, or a list of n_row. */
static void read_per_row(reader *r, const node *at, double least, double most, int n_row,
                         double *all_m, const double **each_m) {
    if (at->kind != NODE_LIST) {
        read_number(r, at, least, most, r->unit_m, all_m);
        return;
    }
    double *value = alloc(&r->c, n_row, sizeof *value);
    if (value && read_numbers(r, at, n_row, n_row, least, most, r->unit_m, value, NULL))
        *each_m = value;
}

static void read_pattern(reader *r, const node *list, gradin_block *b) {
    if (!list) return;
    if (list->n_child < 1 || list->n_child > 16) {
        complain(r, list, "has %d places; 1 to 16 are allowed", list->n_child);
        return;
    }
    b->n_pattern = list->n_child;
    for (int i = 0; i < list->n_child; i++) {
        int kind = 0;
        const node *item = list->child[i];
        while (item->kind == NODE_TEXT && place_names[kind] &&
               strcmp(item->text, place_names[kind]))
            kind++;
        if (item->kind != NODE_TEXT || !place_names[kind])
            complain(r, item, "is no place; allowed: seat, wheelchair, companion");
        else
            b->pattern[i] = (gradin_seat_kind)kind;
    }
}

static void read_straight(reader *r, const node *at, gradin_block *b) {
    b->rows = GRADIN_ROWS_STRAIGHT;
    READ(r, at, {"front", FIELD_POINT, true, 0, 0, &b->front_m, 0},
         {"facing_deg", FIELD_NUMBER, true, 0, 360, &b->facing_deg, 0},
         {"rows", FIELD_INTEGER, true, 1, GRADIN_MAX_BLOCK_ROW, &b->n_row, 0},
         {"seats", FIELD_INTEGER, true, 1, 1000, &b->n_seat, 0},
         {"stagger", FIELD_NUMBER, false, 0, 1, &b->stagger, 0});
}

static void read_curved(reader *r, const node *at, gradin_block *b) {
    b->rows = GRADIN_ROWS_CURVED;
    READ(r, at, {"centre", FIELD_POINT, true, 0, 0, &b->front_m, 0},
         {"radius", FIELD_LENGTH, true, 0.5, 200, &b->radius_m, 0},
         {"from_deg", FIELD_NUMBER, true, 0, 360, &b->arc_deg[0], 0},
         {"to_deg", FIELD_NUMBER, true, 0, 720, &b->arc_deg[1], 0},
         {"rows", FIELD_INTEGER, true, 1, GRADIN_MAX_BLOCK_ROW, &b->n_row, 0},
         {"stagger", FIELD_NUMBER, false, 0, 1, &b->stagger, 0});
    double span_deg = b->arc_deg[1] - b->arc_deg[0];
    if (span_deg <= 0.0 || span_deg > 360.0)
        complain_key(r, at, "to_deg", "must be more than from_deg by at most 360 (clockwise)");
}

static void read_fill(reader *r, const node *at, const gradin_venue *v, gradin_block *b) {
    const char *from = NULL, *to = NULL;
    b->rows = GRADIN_ROWS_FILL;
    if (!READ(r, at, {"from", FIELD_TEXT, true, 0, 0, &from, 0},
              {"to", FIELD_TEXT, false, 0, 0, &to, 0},
              {"facing_deg", FIELD_NUMBER, false, 0, 360, &b->facing_deg, 0},
              {"stagger", FIELD_NUMBER, false, 0, 1, &b->stagger, 0}))
        return;
    read_span(r, at, v, from, to, &b->from_section, &b->to_section);
    if (b->on != GRADIN_SUPPORT_LIFTS) complain(r, at, "fills lift sections; write 'on: lifts'");
}

/* The list itself is read once all else is well. */
static void read_file_rows(reader *r, const node *at, gradin_block *b) {
    b->rows = GRADIN_ROWS_LISTED;
    if (at->kind != NODE_TEXT) complain(r, at, "must be the name of a seat list");
}

/* Exactly one of the four ways to place rows. */
static void read_placement(reader *r, const node *at, const node *const way[4],
                           const gradin_venue *v, gradin_block *b) {
    int n = 0;
    for (int i = 0; i < 4; i++) n += way[i] != NULL;
    if (n != 1)
        complain(r, at, "needs exactly one of straight, curved, fill, file");
    else if (way[0])
        read_straight(r, way[0], b);
    else if (way[1])
        read_curved(r, way[1], b);
    else if (way[2])
        read_fill(r, way[2], v, b);
    else
        read_file_rows(r, way[3], b);
}

static void read_rises(reader *r, const node *at, const node *depth, const node *riser,
                       gradin_block *b) {
    bool has_rows = b->rows == GRADIN_ROWS_STRAIGHT || b->rows == GRADIN_ROWS_CURVED;
    int n_row = has_rows ? b->n_row : 1;
    if (depth->kind == NODE_LIST && !has_rows)
        complain(r, depth, "must be one number here");
    else
        read_per_row(r, depth, 0.4, 5.0, n_row, &b->row_depth_m, &b->depth_m);
    if (riser && has_rows)
        read_per_row(r, riser, 0.0, 2.0, n_row, &b->riser_m, &b->rise_m);
    else if (riser)
        complain(r, riser, "goes with straight or curved rows");
    if (b->on == GRADIN_SUPPORT_LIFTS && (riser || b->base_m != 0.0))
        complain(r, at, "stands on lifts: their treads give the heights; leave out base and riser");
}

static void read_block(reader *r, const node *at, const gradin_venue *v, gradin_block *b) {
    const node *depth = NULL, *riser = NULL, *pattern = NULL, *way[4] = {NULL}, *stock = NULL;
    int on = GRADIN_SUPPORT_FLOOR;
    *b = gradin_block_defaults();
    b->at = &at->place;
    if (!READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &b->name, 0},
              {"on", FIELD_CHOICE, true, 0, 0, &on, support_names},
              {"seat_width", FIELD_LENGTH, true, 0.4, 3.0, &b->seat_width_m, 0},
              {"row_depth", FIELD_ANY, true, 0, 0, &depth, 0},
              {"riser", FIELD_ANY, false, 0, 0, &riser, 0},
              {"base", FIELD_LENGTH, false, -5, 20, &b->base_m, 0},
              {"pattern", FIELD_LIST, false, 0, 0, &pattern, 0},
              {"seating", FIELD_NAME, false, 0, 0, &stock, 0},
              {"platform_kn_m2", FIELD_NUMBER, false, 0, 50, &b->platform_kn_m2, 0},
              {"straight", FIELD_MAP, false, 0, 0, &way[0], 0},
              {"curved", FIELD_MAP, false, 0, 0, &way[1], 0},
              {"fill", FIELD_MAP, false, 0, 0, &way[2], 0},
              {"file", FIELD_ANY, false, 0, 0, &way[3], 0}))
        return;
    int before = r->c.n_error;
    b->on = (gradin_support)on;
    if (stock)
        b->seating = look_up(r, stock, "seating", v->crew.seating, v->crew.n_seating,
                             sizeof *v->crew.seating);
    read_pattern(r, pattern, b);
    read_placement(r, at, way, v, b);
    if (r->c.n_error == before) read_rises(r, at, depth, riser, b);
}

void layout_read_blocks(reader *r, const node *list, const gradin_venue *v, gradin_layout *p) {
    gradin_block *made = alloc(&r->c, list->n_child, sizeof *made);
    if (!made) return;
    for (int i = 0; i < list->n_child; i++) read_block(r, list->child[i], v, &made[i]);
    check_names(r, list, made, list->n_child, sizeof *made);
    p->block = made;
    p->n_block = list->n_child;
}
