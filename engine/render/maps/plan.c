/* What lies below the seats. */
#include "render/maps/plan.h"

void plan_path(const plan *p, gradin_polygon polygon) {
    cairo_new_path(p->page->cr);
    for (int i = 0; i < polygon.n_corner; i++) {
        gradin_vec2 at = view_point(p->v, polygon.corner_m[i].x, polygon.corner_m[i].y);
        cairo_line_to(p->page->cr, at.x, at.y);
    }
    cairo_close_path(p->page->cr);
}

gradin_box2 plan_box(const plan *p, gradin_polygon polygon) {
    gradin_box2 box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
    for (int i = 0; i < polygon.n_corner; i++) {
        gradin_vec2 at = view_point(p->v, polygon.corner_m[i].x, polygon.corner_m[i].y);
        box.x_min_m = fmin(box.x_min_m, at.x);
        box.x_max_m = fmax(box.x_max_m, at.x);
        box.y_min_m = fmin(box.y_min_m, at.y);
        box.y_max_m = fmax(box.y_max_m, at.y);
    }
    return box;
}

void plan_aisle_path(canvas *page) {
    canvas_fill_keep(page, (colour){0.945, 0.945, 0.95});
    canvas_stroke(page, (colour){0.86, 0.86, 0.87}, 0.8);
}

void plan_vomitory_path(canvas *page) {
    canvas_fill_keep(page, (colour){0.90, 0.90, 0.91});
    canvas_hatch(page, (colour){0.80, 0.80, 0.82}, 0.8, 9.0);
    canvas_stroke(page, (colour){0.66, 0.66, 0.68}, 1.0);
}

void plan_section_path(canvas *page) {
    canvas_stroke(page, (colour){0.79, 0.79, 0.81}, 0.8);
}

void plan_focus_path(canvas *page) {
    canvas_fill_keep(page, (colour){0.985, 0.975, 0.95});
    canvas_hatch(page, (colour){0.87, 0.85, 0.81}, 0.9, 13.0);
    canvas_stroke(page, (colour){0.30, 0.27, 0.22}, 2.0);
}

static void draw_areas(const plan *p, const gradin_area *area, int n_area,
                       void (*finish)(canvas *page)) {
    for (int i = 0; i < n_area; i++) {
        plan_path(p, area[i].polygon);
        finish(p->page);
    }
}

static void draw_slabs(const plan *p) {
    for (int i = 0; i < p->model->n_solid; i++) {
        const gradin_solid *solid = &p->model->solid[i];
        if (solid->kind != GRADIN_SOLID_SLAB || !plan_on_sheet(solid->sheet, p->sheet)) continue;
        plan_path(p, solid->polygon);
        plan_solid_path(p->page, GRADIN_SOLID_SLAB);
    }
}

static int main_focus(const gradin_model *model) {
    int heaviest = 0;
    for (int i = 1; i < model->n_focus; i++)
        if (model->focus[i].weight > model->focus[heaviest].weight) heaviest = i;
    return heaviest;
}

void plan_axis_line(canvas *page, gradin_vec2 from, gradin_vec2 to) {
    gradin_vec2 near_tip = {to.x - 0.3 * (to.x - from.x), to.y - 0.3 * (to.y - from.y)};
    canvas_dashed(page, 12.0, 5.0);
    canvas_line(page, from, near_tip, COLOUR_INK, 2.0);
    canvas_dashed(page, 0.0, 0.0);
    canvas_arrow(page, near_tip, to, COLOUR_INK, 2.0);
}

static void draw_axis(const plan *p) {
    if (!isfinite(p->model->axis_deg) || p->model->n_focus < 1) return;
    gradin_box2 box = plan_box(p, p->model->focus[main_focus(p->model)].polygon);
    gradin_vec2 facing = gradin_bearing_unit(p->model->axis_deg);
    double half = 0.36 * fmin(box.x_max_m - box.x_min_m, box.y_max_m - box.y_min_m);
    gradin_vec2 centre = {0.5 * (box.x_min_m + box.x_max_m), 0.5 * (box.y_min_m + box.y_max_m)};
    gradin_vec2 from = {centre.x - half * facing.x, centre.y + half * facing.y};
    gradin_vec2 to = {centre.x + half * facing.x, centre.y - half * facing.y};
    plan_axis_line(p->page, from, to);
    labels_take_line(p->grid, from, to, 8.0);
}

void plan_draw_ground(const plan *p) {
    plan_path(p, p->model->footprint);
    canvas_fill(p->page, (colour){0.985, 0.985, 0.985});
    draw_areas(p, p->model->aisle, p->model->n_aisle, plan_aisle_path);
    for (int i = 0; i < p->model->n_section; i++) {
        plan_path(p, (gradin_polygon){p->model->section[i].corner_m, 4});
        plan_section_path(p->page);
    }
    draw_areas(p, p->model->vomitory, p->model->n_vomitory, plan_vomitory_path);
    for (int i = 0; i < p->model->n_focus; i++) {
        plan_path(p, p->model->focus[i].polygon);
        plan_focus_path(p->page);
    }
    draw_axis(p);
    draw_slabs(p);
}
