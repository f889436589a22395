/* Floor at 0 that is still free: not under a bank, on the stage, in a tower or a column, before a
 * door or at a stair. */
#include "studies/draft/draft.h"

static const double STAIR_M = 1.0; /* kept clear round an open stair; common practice */
static const double TOUCH_M = 0.01;

static bool meets_box(gradin_polygon shape, gradin_box2 bounds, gradin_box2 box) {
    gradin_vec2 corner_m[4];
    if (!draft_boxes_meet(bounds, box)) return false;
    draft_box_corners(box, corner_m);
    return gradin_polygon_overlap(shape, (gradin_polygon){corner_m, 4}, TOUCH_M);
}

static bool meets_raised(const draft_job *job, const draft_scheme *scheme, gradin_polygon shape,
                         gradin_box2 bounds) {
    for (int k = 0; k < job->hall->n_grid; k++) {
        const gradin_lift_grid *g = &job->hall->grid[k];
        draft_cells c = draft_cells_under(g, bounds);
        for (int row = c.r0; row < c.r1; row++)
            for (int column = c.c0; column < c.c1; column++) {
                const gradin_setting *s =
                    &scheme->setting[draft_section_machine(job->hall, k, column, row)];
                double x_m = g->origin_m.x + column * g->size_m[0];
                double y_m = g->origin_m.y + row * g->size_m[1];
                gradin_box2 box = {x_m, y_m, x_m + g->size_m[0], y_m + g->size_m[1]};
                if ((fabs(s->position) > 1e-9 || s->n_step > 1) && meets_box(shape, bounds, box))
                    return true;
            }
    }
    return false;
}

static bool meets_tower(const draft_job *job, const draft_scheme *scheme, gradin_polygon shape,
                        gradin_box2 bounds) {
    for (int i = 0; i < job->hall->n_tower; i++) {
        const gradin_tower *t = &job->hall->tower[i];
        double hoist_m =
            scheme->setting[gradin_machine_index(job->hall, GRADIN_MACHINE_HOIST, i)].position;
        if (t->n_level == 0 ||
            t->level[0].deck_m - t->level[0].thickness_m + hoist_m > DRAFT_HEADROOM_M)
            continue;
        double slide_m =
            scheme->setting[gradin_machine_index(job->hall, GRADIN_MACHINE_SLIDE, i)].position;
        if (meets_box(shape, bounds, draft_tower_box(t, slide_m))) return true;
    }
    return false;
}

static const char *off_level_name(const gradin_venue *hall, gradin_polygon shape) {
    for (int i = 0; i < hall->n_floor; i++)
        if (draft_is_off_level(&hall->floor[i]) &&
            gradin_polygon_overlap(shape, hall->floor[i].polygon, TOUCH_M))
            return hall->floor[i].name;
    return NULL;
}

const char *draft_fixed_name(const gradin_venue *hall, gradin_polygon shape, double door_m) {
    const char *off_level = off_level_name(hall, shape);
    if (off_level) return off_level;
    for (int i = 0; i < hall->n_solid; i++)
        if (hall->solid[i].bottom_m < DRAFT_HEADROOM_M && hall->solid[i].top_m > 0.0 &&
            gradin_polygon_overlap(shape, hall->solid[i].polygon, TOUCH_M))
            return hall->solid[i].name;
    for (int i = 0; i < hall->n_facade; i++) {
        if (hall->facade[i].kind != GRADIN_ELEMENT_DOOR) continue;
        gradin_vec2 corner_m[4], at_m, inward;
        gradin_door_place(hall, &hall->facade[i], &at_m, &inward);
        gradin_vec2 middle_m = {at_m.x + inward.x * door_m / 2.0, at_m.y + inward.y * door_m / 2.0};
        gradin_rectangle_corners(middle_m, gradin_bearing_deg(inward.x, inward.y), door_m,
                                 hall->facade[i].width_m + door_m / 2.0, corner_m);
        if (gradin_polygon_overlap(shape, (gradin_polygon){corner_m, 4}, TOUCH_M))
            return hall->facade[i].name;
    }
    return NULL;
}

static bool meets_stair(const draft_job *job, gradin_box2 bounds) {
    for (int i = 0; i < job->hall->n_panel && job->w->has_vomitories; i++) {
        gradin_box2 stair = gradin_polygon_bounds(job->hall->panel[i].polygon);
        gradin_box2 wide = {stair.x_min_m - STAIR_M, stair.y_min_m - STAIR_M,
                            stair.x_max_m + STAIR_M, stair.y_max_m + STAIR_M};
        if (draft_boxes_meet(bounds, wide)) return true;
    }
    return false;
}

static bool meets_place(const draft_scheme *scheme, gradin_polygon shape) {
    for (int i = 0; i < scheme->n_wheelchair_row; i++) {
        const draft_wheelchair_row *s = &scheme->wheelchair_row[i];
        gradin_vec2 corner_m[4];
        gradin_rectangle_corners(s->front_m, s->facing_deg, DRAFT_PLACE_DEPTH_M,
                                 s->n_place * DRAFT_PLACE_WIDTH_M, corner_m);
        if (gradin_polygon_overlap(shape, (gradin_polygon){corner_m, 4}, TOUCH_M)) return true;
    }
    return false;
}

bool draft_is_among_chairs(const draft_job *job, const draft_floor *f, gradin_vec2 at_m) {
    double depth_m = (f->n_row - 1) * job->w->row_depth_m, half_m = job->w->row_depth_m;
    double dx = at_m.x - f->front_m.x, dy = at_m.y - f->front_m.y;
    if (f->n_row == 0) return false;
    if (f->is_curved) {
        double middle_deg = (f->arc_deg[0] + f->arc_deg[1]) / 2.0, radius_m = hypot(dx, dy);
        double off_deg = gradin_bearing_gap_deg(gradin_bearing_deg(dx, dy), middle_deg);
        return radius_m > f->radius_m - half_m && radius_m < f->radius_m + depth_m + half_m &&
               off_deg < (f->arc_deg[1] - f->arc_deg[0]) / 2.0 + gradin_deg(half_m / radius_m);
    }
    gradin_vec2 ahead = gradin_bearing_unit(f->facing_deg);
    double back_m = -(dx * ahead.x + dy * ahead.y), side_m = fabs(dx * ahead.y - dy * ahead.x);
    return back_m > -half_m && back_m < depth_m + half_m &&
           side_m < (f->n_across + 2) * job->w->seat_width_m / 2.0;
}

static bool meets_chairs(const draft_job *job, const draft_scheme *scheme, gradin_polygon shape) {
    for (int i = 0; i < shape.n_corner; i++) {
        gradin_vec2 a = shape.corner_m[i], b = shape.corner_m[(i + 1) % shape.n_corner];
        for (int k = 0; k < 8; k++) {
            gradin_vec2 at_m = {a.x + (b.x - a.x) * k / 8.0, a.y + (b.y - a.y) * k / 8.0};
            if (draft_is_among_chairs(job, &scheme->floor, at_m)) return true;
        }
    }
    return false;
}

static bool meets_arch(const draft_job *job, gradin_polygon shape) {
    gradin_vec2 corner_m[4];
    if (!job->w->has_arch) return false;
    draft_arch_corners(job->hall, corner_m);
    return gradin_polygon_overlap(shape, (gradin_polygon){corner_m, 4}, TOUCH_M);
}

static bool is_in_room(const gradin_venue *hall, gradin_polygon shape) {
    for (int i = 0; i < shape.n_corner; i++)
        if (!gradin_polygon_contains(hall->footprint, shape.corner_m[i])) return false;
    return true;
}

static bool meets_bank(const draft_job *job, const draft_bank *bank, gradin_polygon shape,
                       gradin_box2 bounds) {
    if (!draft_boxes_meet(bounds, draft_bank_box(job, bank))) return false;
    for (int rank = 0; rank < bank->n_rank; rank++)
        if (meets_box(shape, bounds, draft_rank_box(job, bank, rank))) return true;
    return false;
}

bool draft_is_on_stage(const draft_job *job, gradin_polygon shape) {
    return meets_box(shape, gradin_polygon_bounds(shape), job->stage_box);
}

bool draft_is_free(const draft_job *job, const draft_scheme *scheme, gradin_polygon shape,
                   double door_m) {
    return !draft_is_on_stage(job, shape) && draft_is_clear(job, scheme, shape, door_m);
}

bool draft_is_clear(const draft_job *job, const draft_scheme *scheme, gradin_polygon shape,
                    double door_m) {
    gradin_box2 bounds = gradin_polygon_bounds(shape);
    if (!is_in_room(job->hall, shape)) return false;
    for (int i = 0; i < scheme->n_bank; i++)
        if (meets_bank(job, &scheme->bank[i], shape, bounds)) return false;
    return !meets_raised(job, scheme, shape, bounds) && !meets_tower(job, scheme, shape, bounds) &&
           !draft_fixed_name(job->hall, shape, door_m) && !meets_arch(job, shape) &&
           !meets_stair(job, bounds) && !meets_place(scheme, shape) &&
           (scheme->floor.n_seat == 0 || !meets_chairs(job, scheme, shape));
}
