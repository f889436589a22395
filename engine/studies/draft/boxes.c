/* Where the venue's machines and the banks of a draft lie on plan, as boxes. */
#include "studies/draft/draft.h"

static const double TOUCH_M = 0.01;

void draft_box_corners(gradin_box2 box, gradin_vec2 corner_m[4]) {
    corner_m[0] = (gradin_vec2){box.x_min_m, box.y_min_m};
    corner_m[1] = (gradin_vec2){box.x_max_m, box.y_min_m};
    corner_m[2] = (gradin_vec2){box.x_max_m, box.y_max_m};
    corner_m[3] = (gradin_vec2){box.x_min_m, box.y_max_m};
}

void draft_arch_corners(const gradin_venue *hall, gradin_vec2 corner_m[4]) {
    const gradin_vec2 *line = hall->arch->line_m;
    double dx = line[1].x - line[0].x, dy = line[1].y - line[0].y;
    gradin_vec2 middle_m = {(line[0].x + line[1].x) / 2.0, (line[0].y + line[1].y) / 2.0};
    gradin_rectangle_corners(middle_m, gradin_bearing_deg(dx, dy), hypot(dx, dy),
                             hall->arch->thickness_m, corner_m);
}

bool draft_boxes_meet(gradin_box2 a, gradin_box2 b) {
    return a.x_min_m < b.x_max_m - TOUCH_M && b.x_min_m < a.x_max_m - TOUCH_M &&
           a.y_min_m < b.y_max_m - TOUCH_M && b.y_min_m < a.y_max_m - TOUCH_M;
}

static int clamped(double value, int most) {
    return value < 0.0 ? 0 : value > most ? most : (int)value;
}

draft_cells draft_cells_under(const gradin_lift_grid *g, gradin_box2 box) {
    return (draft_cells){
        clamped(floor((box.x_min_m - g->origin_m.x + TOUCH_M) / g->size_m[0]), g->n_column),
        clamped(ceil((box.x_max_m - g->origin_m.x - TOUCH_M) / g->size_m[0]), g->n_column),
        clamped(floor((box.y_min_m - g->origin_m.y + TOUCH_M) / g->size_m[1]), g->n_row),
        clamped(ceil((box.y_max_m - g->origin_m.y - TOUCH_M) / g->size_m[1]), g->n_row)};
}

draft_cells draft_rank_cells(const draft_bank *bank, int rank) {
    draft_cells c = bank->cells;
    int n = bank->is_front ? bank->n_first : 1;
    int from = rank == 0 ? 0 : n + rank - 1, to = rank == 0 ? n : from + 1;
    switch (bank->quarter) {
    case 0:
        return (draft_cells){c.c0, c.c1, c.r1 - to, c.r1 - from};
    case 1:
        return (draft_cells){c.c1 - to, c.c1 - from, c.r0, c.r1};
    case 2:
        return (draft_cells){c.c0, c.c1, c.r0 + from, c.r0 + to};
    default:
        return (draft_cells){c.c0 + from, c.c0 + to, c.r0, c.r1};
    }
}

gradin_box2 draft_rank_box(const draft_job *job, const draft_bank *bank, int rank) {
    return draft_box(job, draft_rank_cells(bank, rank));
}

gradin_box2 draft_bank_box(const draft_job *job, const draft_bank *bank) {
    return draft_box(job, bank->cells);
}

gradin_box2 draft_front_box(const draft_job *job, const draft_bank *bank, double depth_m,
                            double over_m) {
    gradin_box2 b = draft_rank_box(job, bank, 0);
    if (bank->quarter % 2 == 0) {
        b.x_min_m -= over_m, b.x_max_m += over_m;
    } else {
        b.y_min_m -= over_m, b.y_max_m += over_m;
    }
    if (bank->quarter == 0) b.y_min_m = b.y_max_m - depth_m;
    if (bank->quarter == 1) b.x_min_m = b.x_max_m - depth_m;
    if (bank->quarter == 2) b.y_max_m = b.y_min_m + depth_m;
    if (bank->quarter == 3) b.x_max_m = b.x_min_m + depth_m;
    return b;
}

gradin_box2 draft_tower_box(const gradin_tower *t, double slide_m) {
    gradin_vec2 way = gradin_bearing_unit(t->slide_bearing_deg), corner_m[4];
    gradin_vec2 ahead = gradin_bearing_unit(t->facing_deg);
    gradin_vec2 middle_m = {t->front_m.x + way.x * slide_m - ahead.x * t->depth_m / 2.0,
                            t->front_m.y + way.y * slide_m - ahead.y * t->depth_m / 2.0};
    gradin_rectangle_corners(middle_m, t->facing_deg, t->depth_m, t->width_m, corner_m);
    return gradin_polygon_bounds((gradin_polygon){corner_m, 4});
}
