/* What lies below the seats. */
#include "render/maps/plan.h"

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
    for (int i = 0; i < p->model->n_aisle; i++)
        if (plan_on_sheet(p->model->aisle_sheet[i], p->sheet))
            draw_areas(p, &p->model->aisle[i], 1, plan_aisle_path);
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
