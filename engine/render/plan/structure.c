/* What stands above the seats: columns, walls, set pieces, the arch, rails. */
#include "render/plan/plan.h"

/* An arch panel that begins higher than this is a header: people pass and look under it. */
static const double HEADER_ABOVE_M = 2.1;

static const colour rail_ink = {0.55, 0.10, 0.10};

/* Cross ticks every 12 units tell a rail from any other line without its colour. */
static void rail_ticks(canvas *page, gradin_vec2 a, gradin_vec2 b) {
    double length = hypot(b.x - a.x, b.y - a.y);
    int n = (int)(length / 12.0);
    if (!(length > 0.0)) return;
    gradin_vec2 along = {(b.x - a.x) / length, (b.y - a.y) / length};
    for (int i = 0; i <= n; i++) {
        double t = 0.5 * (length - 12.0 * n) + 12.0 * i;
        gradin_vec2 at = {a.x + t * along.x, a.y + t * along.y};
        cairo_move_to(page->cr, at.x - 3.6 * along.y, at.y + 3.6 * along.x);
        cairo_line_to(page->cr, at.x + 3.6 * along.y, at.y - 3.6 * along.x);
    }
    canvas_stroke(page, rail_ink, 1.2);
}

void plan_rail_line(canvas *page, const gradin_vec2 *point, int n_point) {
    for (int i = 0; i + 1 < n_point; i++) {
        canvas_line(page, point[i], point[i + 1], rail_ink, 2.2);
        rail_ticks(page, point[i], point[i + 1]);
    }
}

static void draw_rail(const plan *p, const gradin_rail *rail) {
    for (int i = 0; i + 1 < rail->n_point; i++) {
        gradin_vec2 ends[2] = {view_point(p->v, rail->point_m[i].x, rail->point_m[i].y),
                               view_point(p->v, rail->point_m[i + 1].x, rail->point_m[i + 1].y)};
        plan_rail_line(p->page, ends, 2);
        labels_take_line(p->grid, ends[0], ends[1], 4.0);
    }
}

static void take_box(const plan *p, gradin_polygon polygon) {
    gradin_box2 box = plan_box(p, polygon);
    labels_take(p->grid,
                (gradin_vec2){0.5 * (box.x_min_m + box.x_max_m), 0.5 * (box.y_min_m + box.y_max_m)},
                0.5 * (box.x_max_m - box.x_min_m), 0.5 * (box.y_max_m - box.y_min_m), 0.0);
}

void plan_draw_structure(const plan *p) {
    const gradin_model *model = p->model;
    for (int i = 0; i < model->n_solid; i++) {
        const gradin_solid *solid = &model->solid[i];
        if (solid->kind == GRADIN_SOLID_SLAB || !plan_on_sheet(solid->sheet, p->sheet)) continue;
        bool is_overhead = solid->kind == GRADIN_SOLID_ARCH && solid->bottom_m > HEADER_ABOVE_M;
        plan_path(p, solid->polygon);
        plan_solid_path(p->page, is_overhead ? GRADIN_SOLID_SLAB : solid->kind);
        plan_shun(p, solid->polygon);
        if (solid->kind != GRADIN_SOLID_SET && solid->kind != GRADIN_SOLID_MESH)
            take_box(p, solid->polygon);
    }
    for (int i = 0; i < model->n_rail; i++)
        if (plan_on_sheet(model->rail[i].sheet, p->sheet)) draw_rail(p, &model->rail[i]);
}
