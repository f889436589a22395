/* Outlines on the plan, heights as text, and the strokes that plan and legend share. */
#include "base/lengths.h"
#include "render/plan/plan.h"

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

void plan_shun(const plan *p, gradin_polygon outline) {
    for (int i = 0; i < outline.n_corner; i++) {
        gradin_vec2 a = outline.corner_m[i], b = outline.corner_m[(i + 1) % outline.n_corner];
        labels_shun_line(p->grid, view_point(p->v, a.x, a.y), view_point(p->v, b.x, b.y));
    }
}

static const colour arrow_ink = {0.45, 0.45, 0.48};

void plan_floor_path(canvas *page) {
    canvas_fill_keep(page, (colour){0.965, 0.968, 0.972});
    canvas_stroke(page, (colour){0.55, 0.55, 0.58}, 1.2);
}

void plan_slope_arrow(canvas *page, gradin_vec2 from, gradin_vec2 to) {
    canvas_arrow(page, from, to, arrow_ink, 1.6);
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

void plan_upright_line(canvas *page, gradin_vec2 a, gradin_vec2 b) {
    canvas_line(page, a, b, (colour){0.30, 0.27, 0.22}, 5.0);
    canvas_line(page, a, b, (colour){0.985, 0.975, 0.95}, 1.6);
}

void plan_point_mark(canvas *page, gradin_vec2 at) {
    canvas_line(page, (gradin_vec2){at.x - 7.0, at.y}, (gradin_vec2){at.x + 7.0, at.y},
                (colour){0.30, 0.27, 0.22}, 3.0);
    canvas_line(page, (gradin_vec2){at.x, at.y - 7.0}, (gradin_vec2){at.x, at.y + 7.0},
                (colour){0.30, 0.27, 0.22}, 3.0);
}

void plan_solid_path(canvas *page, gradin_solid_kind kind) {
    switch (kind) {
    case GRADIN_SOLID_COLUMN:
        canvas_fill(page, (colour){0.33, 0.33, 0.35});
        return;
    case GRADIN_SOLID_WALL:
        canvas_fill(page, (colour){0.45, 0.45, 0.47});
        return;
    case GRADIN_SOLID_ARCH:
        canvas_fill(page, (colour){0.10, 0.10, 0.11});
        return;
    case GRADIN_SOLID_SET:
        canvas_fill_keep(page, (colour){0.88, 0.87, 0.84});
        canvas_stroke(page, COLOUR_INK, 1.4);
        return;
    case GRADIN_SOLID_MESH:
        canvas_dashed(page, 2.5, 2.5);
        canvas_stroke(page, COLOUR_INK, 1.4);
        canvas_dashed(page, 0.0, 0.0);
        return;
    case GRADIN_SOLID_SLAB:
        canvas_dashed(page, 9.0, 6.0);
        canvas_stroke(page, (colour){0.42, 0.42, 0.45}, 1.4);
        canvas_dashed(page, 0.0, 0.0);
        return;
    }
}

void plan_axis_line(canvas *page, gradin_vec2 from, gradin_vec2 to) {
    gradin_vec2 near_tip = {to.x - 0.3 * (to.x - from.x), to.y - 0.3 * (to.y - from.y)};
    canvas_dashed(page, 12.0, 5.0);
    canvas_line(page, from, near_tip, COLOUR_INK, 2.0);
    canvas_dashed(page, 0.0, 0.0);
    canvas_arrow(page, near_tip, to, COLOUR_INK, 2.0);
}

bool plan_is_imperial(const gradin_model *model) {
    return is_feet(model->units);
}

char *plan_height_text(const gradin_model *model, double height_m, char text[24]) {
    bool feet = plan_is_imperial(model);
    return gradin_format_fixed(text, 24, feet ? height_m / GRADIN_FOOT_M : height_m, feet ? 1 : 2);
}
