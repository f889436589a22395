/* What a layout must state before a model can be made of it. */
#include "venue/required.h"

static bool need_row_figures(const owner *o, const gradin_block *b) {
    bool good = true;
    for (int i = 0; good && b->depth_m && i < b->n_row; i++)
        good = need_size(o, "depth_m", b->depth_m[i]);
    for (int i = 0; good && b->rise_m && i < b->n_row; i++)
        good = need_number(o, "rise_m", b->rise_m[i]);
    return good;
}

static bool need_rows(const owner *o, const gradin_block *b) {
    return need_count(o, "n_row", b->n_row, 1, GRADIN_MAX_BLOCK_ROW) &&
           need_point(o, "front_m", b->front_m) &&
           (b->depth_m || need_size(o, "row_depth_m", b->row_depth_m)) &&
           need_number(o, "riser_m", b->riser_m) && need_not_below(o, "slope", b->slope, 0.0) &&
           need_row_figures(o, b);
}

static bool need_row_seats(const owner *o, const gradin_block *b, int least) {
    bool good = b->row_seat || need_count(o, "n_seat", b->n_seat, least, GRADIN_MAX_SEAT);
    for (int i = 0; good && b->row_seat && i < b->n_row; i++)
        good = need_count(o, "row_seat", b->row_seat[i], 1, GRADIN_MAX_SEAT);
    return good;
}

static bool need_straight(const owner *o, const gradin_block *b) {
    return need_rows(o, b) && need_row_seats(o, b, 1) &&
           need_number(o, "facing_deg", b->facing_deg);
}

static bool need_curved(const owner *o, const gradin_block *b) {
    double span_deg = b->arc_deg[1] - b->arc_deg[0];
    if (!need_rows(o, b) || !need_row_seats(o, b, 0) || !need_size(o, "radius_m", b->radius_m))
        return false;
    if (span_deg > 0.0 && span_deg <= 360.0) return true;
    misuse(o->c,
           "%s.arc_deg is missing or wrong: two bearings are needed, the second more than "
           "the first by at most 360",
           o->name);
    return false;
}

static bool need_fill(const owner *o, const gradin_venue *v, const gradin_block *b) {
    if (!need_index(o, "from_section", b->from_section, v->n_section) ||
        !need_index(o, "to_section", b->to_section, v->n_section) ||
        !need_size(o, "row_depth_m", b->row_depth_m))
        return false;
    const gradin_lift_section *from = &v->section[b->from_section];
    const gradin_lift_section *to = &v->section[b->to_section];
    bool good = from->grid == to->grid && from->column <= to->column && from->row <= to->row &&
                b->on == GRADIN_SUPPORT_LIFTS;
    if (!good)
        misuse(o->c,
               "%s.to_section is wrong: one of the same grid is needed, not left of "
               "from_section or below it, in a block on lifts",
               o->name);
    return good;
}

static bool need_listed(const owner *o, const gradin_block *b) {
    bool good = need_list(o, "listed", b->listed, b->n_listed) &&
                need_size(o, "row_depth_m", b->row_depth_m);
    for (int i = 0; good && i < b->n_listed; i++) {
        owner item = owner_item(o, "listed", i);
        const gradin_listed_seat *seat = &b->listed[i];
        good = need_count(&item, "row", seat->row, 1, INT32_MAX) &&
               need_count(&item, "number", seat->number, 1, INT32_MAX) &&
               need_count(&item, "kind", (int)seat->kind, 0, GRADIN_SEAT_COMPANION) &&
               need_point(&item, "at_m", seat->at_m) &&
               need_number(&item, "rise_m", seat->rise_m) &&
               need_number(&item, "facing_deg", seat->facing_deg);
    }
    return good;
}

static bool need_placement(const owner *o, const gradin_venue *v, const gradin_block *b) {
    switch (b->rows) {
    case GRADIN_ROWS_STRAIGHT:
        return need_straight(o, b);
    case GRADIN_ROWS_CURVED:
        return need_curved(o, b);
    case GRADIN_ROWS_FILL:
        return need_fill(o, v, b);
    case GRADIN_ROWS_LISTED:
        return need_listed(o, b);
    }
    return need_count(o, "rows", (int)b->rows, 0, GRADIN_ROWS_LISTED);
}

static bool need_block(const owner *o, const gradin_venue *v, const gradin_block *b) {
    bool good =
        need_text(o, "name", b->name) && need_count(o, "on", (int)b->on, 0, GRADIN_SUPPORT_LIFTS) &&
        need_size(o, "seat_width_m", b->seat_width_m) && need_number(o, "base_m", b->base_m) &&
        need_number(o, "stagger", b->stagger) && need_count(o, "n_pattern", b->n_pattern, 0, 16) &&
        (v->crew.n_seating == 0 || need_index(o, "seating", b->seating, v->crew.n_seating));
    for (int i = 0; good && i < b->n_pattern; i++)
        good = need_count(o, "pattern", (int)b->pattern[i], 0, GRADIN_SEAT_COMPANION);
    if (good && b->has_fan)
        good = need_point(o, "fan_m", b->fan_m) && need_number(o, "fan_deg", b->fan_deg[0]) &&
               need_number(o, "fan_deg", b->fan_deg[1]);
    return good && need_placement(o, v, b);
}

static bool need_rail(const owner *o, const gradin_rail_entry *r) {
    bool good = need_text(o, "name", r->name) &&
                need_count(o, "kind", (int)r->kind, 0, GRADIN_RAIL_POSTS) &&
                need_count(o, "n_point", r->n_point, 2, 100000) &&
                need_list(o, "point_m", r->point_m, r->n_point) &&
                need_size(o, "height_m", r->height_m) &&
                need_size(o, "thickness_m", r->thickness_m) &&
                need_size(o, "post_spacing_m", r->post_spacing_m) &&
                need_count(o, "n_bar", r->n_bar, 1, 100) &&
                (isnan(r->foot_m) || need_number(o, "foot_m", r->foot_m));
    for (int i = 0; good && i < r->n_point; i++) good = need_point(o, "point_m", r->point_m[i]);
    return good;
}

static bool need_floor(const owner *o, const gradin_focus *f) {
    return need_polygon(o, "polygon", f->polygon) &&
           (isnan(f->z_m) || need_number(o, "z_m", f->z_m)) &&
           need_not_below(o, "slope", f->slope, 0.0) &&
           (f->slope == 0.0 ||
            (need_number(o, "uphill_deg", f->uphill_deg) && need_number(o, "z_m", f->z_m)));
}

static bool need_upright(const owner *o, const gradin_focus *f) {
    bool good = need_count(o, "n_line", f->n_line, 2, 100000) &&
                need_list(o, "line_m", f->line_m, f->n_line) &&
                need_number(o, "bottom_m", f->bottom_m) && need_number(o, "top_m", f->top_m);
    for (int i = 0; good && i < f->n_line; i++) good = need_point(o, "line_m", f->line_m[i]);
    return good;
}

static bool need_focus(const owner *o, const gradin_focus *f) {
    if (!need_text(o, "name", f->name) || !need_size(o, "weight", f->weight) ||
        !need_count(o, "kind", (int)f->kind, 0, GRADIN_FOCUS_POINT))
        return false;
    if (f->kind == GRADIN_FOCUS_UPRIGHT) return need_upright(o, f);
    if (f->kind == GRADIN_FOCUS_POINT)
        return need_point(o, "point_m", f->point_m) && need_number(o, "z_m", f->z_m);
    return need_floor(o, f);
}

static bool need_c_line(complaints *c, const gradin_c_line *line) {
    owner o = owner_of(c, "layout.c_line");
    bool good =
        need_text(&o, "name", line->name) && need_count(&o, "n_point", line->n_point, 2, 100000) &&
        need_list(&o, "point_m", line->point_m, line->n_point) && need_number(&o, "z_m", line->z_m);
    for (int i = 0; good && i < line->n_point; i++)
        good = need_point(&o, "point_m", line->point_m[i]);
    return good;
}

static bool need_audience(complaints *c, const gradin_audience *a) {
    owner o = owner_of(c, "layout.audience");
    return need_size(&o, "eye_height_m", a->eye_height_m) &&
           need_size(&o, "wheelchair_eye_height_m", a->wheelchair_eye_height_m) &&
           need_size(&o, "standing_eye_height_m", a->standing_eye_height_m) &&
           need_size(&o, "crown_m", a->crown_m) &&
           need_size(&o, "head_height_m", a->head_height_m) &&
           need_size(&o, "head_breadth_m", a->head_breadth_m) &&
           need_size(&o, "head_length_m", a->head_length_m) &&
           need_size(&o, "shoulder_breadth_m", a->shoulder_breadth_m) &&
           need_size(&o, "shoulder_drop_m", a->shoulder_drop_m) &&
           need_not_below(&o, "eye_distance_m", a->eye_distance_m, 0.0);
}

static bool need_pass(complaints *c, const gradin_pass *p) {
    owner o = owner_of(c, "layout.pass");
    return need_text(&o, "name", p->name) && need_number(&o, "point_m.x", p->point_m.x) &&
           need_number(&o, "point_m.y", p->point_m.y) &&
           need_number(&o, "point_m.z", p->point_m.z) &&
           need_number(&o, "bearing_deg", p->bearing_deg) &&
           need_size(&o, "speed_ms", p->speed_ms) && need_size(&o, "reference_m", p->reference_m) &&
           need_not_below(&o, "source_uncertainty_db", p->source_uncertainty_db, 0.0) &&
           need_not_below(&o, "scatter_db", p->scatter_db, 0.0) &&
           need_bands(&o, "level_db", p->level_db) &&
           need_list(&o, "directivity.lobe", p->directivity.lobe, p->directivity.n_lobe);
}

static bool need_reverberation(complaints *c, const gradin_reverberation *r) {
    owner o = owner_of(c, "layout.reverberation");
    bool good = need_count(&o, "shades", r->shades, 0, 2);
    for (int b = 0; good && b < GRADIN_N_BAND; b++)
        good = need_size(&o, "measured_s", r->measured_s[b]);
    return good;
}

static bool need_settings(const owner *o, const gradin_venue *v, const gradin_layout *p) {
    bool good = need_list(o, "machine", p->machine, v->n_machine) &&
                need_list(o, "is_seated", p->is_seated, v->n_tower);
    for (int i = 0; good && i < v->n_machine; i++) {
        owner item = owner_item(o, "machine", i);
        const gradin_setting *set = &p->machine[i].set;
        good = need_number(&item, "set.position", set->position) &&
               need_count(&item, "set.n_step", set->n_step, 1, 100) &&
               need_number(&item, "set.riser_m", set->riser_m) &&
               need_number(&item, "set.facing_deg", set->facing_deg);
    }
    return good;
}

static bool need_scenery(const owner *o, const gradin_venue *v, const gradin_scenery *s) {
    bool good = need_text(o, "name", s->name) && need_text(o, "by", s->by) &&
                need_count(o, "pieces", s->pieces, 1, 100000) &&
                need_count(o, "crew", s->crew, 1, 1000) &&
                need_count(o, "door", s->door, -1, v->n_facade - 1) &&
                need_count(o, "per_trip", s->per_trip, 1, 100000) &&
                need_not_below(o, "piece_kg", s->piece_kg, 0.0) && need_size(o, "in_s", s->in_s) &&
                need_size(o, "out_s", s->out_s) && need_size(o, "height_m", s->height_m) &&
                need_polygon(o, "area", s->area) &&
                (s->way.n_corner == 0 || need_polygon(o, "way", s->way)) &&
                (isnan(s->level_m) || need_number(o, "level_m", s->level_m)) &&
                need_list(o, "after", s->after, s->n_after) &&
                need_list(o, "before", s->before, s->n_before);
    for (int i = 0; good && i < s->n_after; i++)
        good = need_index(o, "after", s->after[i], v->n_machine);
    for (int i = 0; good && i < s->n_before; i++)
        good = need_index(o, "before", s->before[i], v->n_machine);
    return good;
}

static bool need_entries(const owner *o, const gradin_venue *v, const gradin_layout *p) {
    bool good =
        need_list(o, "block", p->block, p->n_block) && need_list(o, "rail", p->rail, p->n_rail) &&
        need_list(o, "aisle", p->aisle, p->n_aisle) &&
        need_list(o, "passage", p->passage, p->n_passage) &&
        need_count(o, "n_focus", p->n_focus, 1, GRADIN_MAX_FOCUS) &&
        need_list(o, "focus", p->focus, p->n_focus) &&
        need_list(o, "scenery", p->scenery, p->n_scenery) && need_solids(o, p->solid, p->n_solid);
    for (int i = 0; good && i < p->n_block; i++) {
        owner item = owner_item(o, "block", i);
        good = need_block(&item, v, &p->block[i]);
    }
    for (int i = 0; good && i < p->n_rail; i++) {
        owner item = owner_item(o, "rail", i);
        good = need_rail(&item, &p->rail[i]);
    }
    for (int i = 0; good && i < p->n_passage; i++) {
        const gradin_passage *way = &p->passage[i];
        owner item = owner_item(o, "passage", i);
        good = need_text(&item, "name", way->name) &&
               need_polygon(&item, "polygon", way->polygon) &&
               need_size(&item, "headroom_m", way->headroom_m) &&
               need_not_below(&item, "cover_m", way->cover_m, 0.0) &&
               (!way->leads_out || need_number(&item, "mouth_deg", way->mouth_deg));
    }
    for (int i = 0; good && i < p->n_aisle; i++) {
        owner item = owner_item(o, "aisle", i);
        good = need_text(&item, "name", p->aisle[i].name) &&
               need_polygon(&item, "polygon", p->aisle[i].polygon);
    }
    for (int i = 0; good && i < p->n_focus; i++) {
        owner item = owner_item(o, "focus", i);
        good = need_focus(&item, &p->focus[i]);
    }
    for (int i = 0; good && i < p->n_scenery; i++) {
        owner item = owner_item(o, "scenery", i);
        good = need_scenery(&item, v, &p->scenery[i]);
    }
    return good;
}

bool require_layout(complaints *c, const gradin_venue *v, const gradin_layout *p) {
    owner o = owner_of(c, "layout");
    return need_text(&o, "name", p->name) &&
           need_count(&o, "form", (int)p->form, 0, GRADIN_FORM_CUSTOM) &&
           need_text(&o, "units", p->units) && need_settings(&o, v, p) && need_entries(&o, v, p) &&
           need_size(&o, "room_patch_m", p->room_patch_m) && need_audience(c, &p->audience) &&
           (!p->c_line || need_c_line(c, p->c_line)) && (!p->pass || need_pass(c, p->pass)) &&
           (!p->reverberation || need_reverberation(c, p->reverberation));
}
