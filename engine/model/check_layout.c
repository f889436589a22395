/* Does the layout make sense as stated: names unlike, rails high enough, focus areas in the room
 * and on one height, fills that face one way, seats that are there and not there twice? */
#include "model/build.h"

static void check_focus_room(builder *b, const gradin_focus *f) {
    for (int k = 0; k < f->polygon.n_corner; k++)
        if (!gradin_polygon_contains(b->v->footprint, f->polygon.corner_m[k])) {
            refuse(b->c, f->at, "focus %s lies outside the room's footprint", f->name);
            return;
        }
}

/* A focus without a height of its own must lie on one level. */
static void check_focus_height(builder *b, const gradin_focus *f, double z_m) {
    gradin_vec2 middle_m = gradin_polygon_centroid_m(f->polygon);
    for (int k = 0; k < f->polygon.n_corner; k++) {
        gradin_vec2 corner_m = f->polygon.corner_m[k];
        /* just inside, so that a corner on a section's edge counts to its own side */
        corner_m.x += (middle_m.x - corner_m.x) * 0.01;
        corner_m.y += (middle_m.y - corner_m.y) * 0.01;
        if (fabs(gradin_surface_m(b->v, b->p, corner_m, NULL) - z_m) < 0.005) continue;
        refuse(b->c, f->at, "focus %s lies over surfaces of several heights; give z", f->name);
        return;
    }
}

void check_focus(builder *b) {
    for (int i = 0; i < b->p->n_focus; i++) {
        const gradin_focus *f = &b->p->focus[i];
        check_focus_room(b, f);
        if (isnan(f->z_m)) check_focus_height(b, f, b->model->focus[i].z_m);
    }
}

static void check_fill(builder *b, const gradin_block *from, int n_laid) {
    fill_facing facing = fill_facing_of(b, from);
    if (facing.at_odds >= 0)
        refuse_entry(b->c, from->at, from->name,
                     "fills %s, which faces %.0f deg while the block faces %.0f deg",
                     b->v->section[facing.at_odds].name, section_set(b, facing.at_odds)->facing_deg,
                     facing.block_deg);
    else if (!facing.is_stated)
        refuse_entry(b->c, from->at, from->name, "fills flat lifts; write fill.facing_deg");
    else if (isnan(facing.deg))
        refuse_entry(b->c, from->at, from->name, "fills lifts, so it faces 0, 90, 180 or 270 deg");
    else if (n_laid == 0)
        refuse_entry(b->c, from->at, from->name,
                     "fills no seat: row_depth or seat_width is larger than a tread");
}

void check_blocks(builder *b) {
    for (int i = 0; i < b->n_block_name; i++) {
        const gradin_block *from = i < b->p->n_block ? &b->p->block[i] : NULL;
        if (from && from->rows == GRADIN_ROWS_FILL) check_fill(b, from, b->n_laid[i]);
        if (i == b->full_block)
            refuse_entry(b->c, b->block_at[i], b->block_name[i], "brings the layout over %d seats",
                         GRADIN_MAX_SEAT);
    }
}

/* Two places of a seat list may bear one row and number. */
static void check_ids(builder *b, const gradin_seats *s) {
    for (int i = 0; i < s->n_seat; i++) {
        int block = s->block[i];
        if (block >= b->p->n_block || b->p->block[block].rows != GRADIN_ROWS_LISTED) continue;
        for (int k = i + 1; k < s->n_seat && s->block[k] == block; k++)
            if (s->row[k] == s->row[i] && s->number[k] == s->number[i]) {
                refuse(b->c, b->block_at[s->block[i]], "seat %s stands twice", s->id[i]);
                return;
            }
    }
}

void check_seats(builder *b) {
    check_ids(b, &b->model->seats);
    if (b->n_place == 0) refuse(b->c, NULL, "the layout has no seat");
}
