/* Seating blocks. */
#include "files/write/state.h"

#include <string.h>

static double *state_row_seats(complaints *c, const gradin_block *b) {
    double *made = b->row_seat ? alloc(c, b->n_row, sizeof *made) : NULL;
    for (int i = 0; made && i < b->n_row; i++) made[i] = b->row_seat[i];
    return made;
}

static stated_trim *state_trim(complaints *c, const gradin_block *b) {
    if (!b->is_trimmed_to_room && !b->has_fan) return NULL;
    stated_trim *s = alloc(c, 1, sizeof *s);
    if (!s) return NULL;
    s->to_room = b->is_trimmed_to_room;
    if (!b->has_fan) return s;
    s->fan = alloc(c, 1, sizeof *s->fan);
    if (s->fan) *s->fan = (stated_fan){NULL, b->fan_m, b->fan_deg[0], b->fan_deg[1]};
    return s;
}

static stated_straight *state_straight(complaints *c, const gradin_block *b) {
    stated_straight *s = alloc(c, 1, sizeof *s);
    if (!s) return NULL;
    *s = (stated_straight){.front_m = b->front_m,
                           .facing_deg = b->facing_deg,
                           .stagger = b->stagger,
                           .n_row = b->n_row,
                           .n_seat = b->row_seat ? 1 : b->n_seat,
                           .row_seat = state_row_seats(c, b)};
    s->n_row_seat = s->row_seat ? b->n_row : 0;
    return s;
}

static stated_curved *state_curved(complaints *c, const gradin_block *b) {
    stated_curved *s = alloc(c, 1, sizeof *s);
    if (!s) return NULL;
    *s = (stated_curved){.centre_m = b->front_m,
                         .radius_m = b->radius_m,
                         .from_deg = b->arc_deg[0],
                         .to_deg = b->arc_deg[1],
                         .stagger = b->stagger,
                         .n_row = b->n_row,
                         .n_seat = b->row_seat ? 0 : b->n_seat,
                         .row_seat = state_row_seats(c, b)};
    s->n_row_seat = s->row_seat ? b->n_row : 0;
    return s;
}

static stated_fill *state_fill(complaints *c, const gradin_venue *v, const gradin_block *b) {
    stated_fill *s = alloc(c, 1, sizeof *s);
    if (!s) return NULL;
    *s = (stated_fill){.from = v->section[b->from_section].name,
                       .facing_deg = b->facing_deg,
                       .stagger = b->stagger};
    if (b->to_section != b->from_section) s->to = v->section[b->to_section].name;
    return s;
}

static void state_placement(complaints *c, const gradin_venue *v, const gradin_block *b,
                            stated_block *s) {
    switch (b->rows) {
    case GRADIN_ROWS_STRAIGHT:
        s->straight = state_straight(c, b);
        return;
    case GRADIN_ROWS_CURVED:
        s->curved = state_curved(c, b);
        return;
    case GRADIN_ROWS_FILL:
        s->fill = state_fill(c, v, b);
        return;
    case GRADIN_ROWS_LISTED:
        s->file = b->list_file;
        if (!s->file)
            misuse(c, "block %s has no list_file: its seats stand in a file of their own", b->name);
        return;
    }
}

static double *copy_rows(complaints *c, const double *row, int n) {
    double *made = row ? alloc(c, n, sizeof *made) : NULL;
    if (made) memcpy(made, row, (size_t)n * sizeof *made);
    return made;
}

static void state_rises(complaints *c, const gradin_block *b, stated_block *s) {
    s->row_depth_m = b->depth_m ? NAN : b->row_depth_m;
    s->slope = b->slope;
    s->riser_m = b->rise_m || b->slope > 0.0 ? 0.0 : b->riser_m;
    s->depth_m = copy_rows(c, b->depth_m, b->n_row);
    s->rise_m = b->slope > 0.0 ? NULL : copy_rows(c, b->rise_m, b->n_row);
    s->n_depth = s->depth_m ? b->n_row : 0;
    s->n_rise = s->rise_m ? b->n_row : 0;
}

static void state_pattern(complaints *c, const gradin_block *b, stated_block *s) {
    bool is_plain =
        b->n_pattern == 0 || (b->n_pattern == 1 && b->pattern[0] == GRADIN_SEAT_STANDARD);
    if (is_plain) return;
    s->pattern = alloc(c, b->n_pattern, sizeof *s->pattern);
    s->n_pattern = s->pattern ? b->n_pattern : 0;
    for (int i = 0; i < s->n_pattern; i++) s->pattern[i] = (int)b->pattern[i];
}

static void state_block(complaints *c, const gradin_venue *v, const gradin_block *b,
                        stated_block *s) {
    *s = (stated_block){.name = b->name,
                        .level = b->level,
                        .on = (int)b->on,
                        .seat_width_m = b->seat_width_m,
                        .seat_depth_m = b->seat_depth_m,
                        .base_m = b->base_m,
                        .platform_kn_m2 = b->platform_kn_m2};
    if (b->seating > 0 && b->seating < v->crew.n_seating)
        s->seating = v->crew.seating[b->seating].name;
    state_rises(c, b, s);
    state_pattern(c, b, s);
    s->trim = state_trim(c, b);
    state_placement(c, v, b, s);
}

stated_block *state_blocks(complaints *c, const gradin_venue *v, const gradin_layout *p, int *n) {
    stated_block *s = p->n_block > 0 ? alloc(c, p->n_block, sizeof *s) : NULL;
    *n = 0;
    for (int i = 0; s && i < p->n_block; i++)
        if (!p->block[i].source) state_block(c, v, &p->block[i], &s[(*n)++]);
    return s;
}

/* A list stands once, at the first of its blocks. */
static bool is_stated(const gradin_layout *p, int block) {
    for (int i = 0; i < block; i++)
        if (p->block[i].source == p->block[block].source) return true;
    return false;
}

stated_seat_list *state_seat_lists(complaints *c, const gradin_layout *p, int *n) {
    stated_seat_list *s = p->n_block > 0 ? alloc(c, p->n_block, sizeof *s) : NULL;
    *n = 0;
    for (int i = 0; s && i < p->n_block; i++)
        if (p->block[i].source && !p->block[i].source->boxes && !is_stated(p, i))
            s[(*n)++] = *p->block[i].source;
    return s;
}

stated_boxes *state_boxes(complaints *c, const gradin_layout *p, int *n) {
    stated_boxes *s = p->n_block > 0 ? alloc(c, p->n_block, sizeof *s) : NULL;
    *n = 0;
    for (int i = 0; s && i < p->n_block; i++)
        if (p->block[i].source && p->block[i].source->boxes && !is_stated(p, i))
            s[(*n)++] = *p->block[i].source->boxes;
    return s;
}

/* What a row of boxes made has the place of its entry. */
static bool is_of_boxes(const gradin_layout *p, const gradin_place *at) {
    for (int i = 0; at && i < p->n_block; i++)
        if (p->block[i].source && p->block[i].source->boxes && p->block[i].at == at) return true;
    return false;
}

gradin_solid *own_solids(complaints *c, const gradin_layout *p, int *n) {
    gradin_solid *own = p->n_solid > 0 ? alloc(c, p->n_solid, sizeof *own) : NULL;
    *n = 0;
    for (int i = 0; own && i < p->n_solid; i++)
        if (!is_of_boxes(p, p->solid[i].at)) own[(*n)++] = p->solid[i];
    return own;
}

gradin_rail_entry *own_rails(complaints *c, const gradin_layout *p, int *n) {
    gradin_rail_entry *own = p->n_rail > 0 ? alloc(c, p->n_rail, sizeof *own) : NULL;
    *n = 0;
    for (int i = 0; own && i < p->n_rail; i++)
        if (!is_of_boxes(p, p->rail[i].at)) own[(*n)++] = p->rail[i];
    return own;
}
