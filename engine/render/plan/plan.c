/* What lies below the seats. */
#include "render/plan/plan.h"

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
        plan_shun(p, solid->polygon);
    }
}

static void draw_arrow(const plan *p, int floor) {
    const gradin_floor_lie *lie = &p->model->floor_lie[floor];
    if (isnan(lie->uphill_deg)) return;
    gradin_vec2 up = gradin_bearing_unit(lie->uphill_deg);
    gradin_vec2 middle = view_point(p->v, lie->middle_m.x, lie->middle_m.y);
    gradin_box2 box = plan_box(p, p->model->floor[floor].polygon);
    double half = 0.36 * fmin(box.x_max_m - box.x_min_m, box.y_max_m - box.y_min_m);
    gradin_vec2 from = {middle.x - half * up.x, middle.y + half * up.y};
    gradin_vec2 to = {middle.x + half * up.x, middle.y - half * up.y};
    plan_slope_arrow(p->page, from, to);
    labels_take_line(p->grid, from, to, 6.0);
}

static void draw_floors(const plan *p) {
    for (int i = 0; i < p->model->n_floor; i++) {
        plan_path(p, p->model->floor[i].polygon);
        plan_floor_path(p->page);
    }
    for (int i = 0; i < p->model->n_floor; i++) draw_arrow(p, i);
}

void plan_draw_ground(const plan *p) {
    plan_path(p, p->model->footprint);
    canvas_fill(p->page, (colour){0.985, 0.985, 0.985});
    draw_floors(p);
    for (int i = 0; i < p->model->n_aisle; i++)
        if (plan_on_sheet(p->model->aisle_sheet[i], p->sheet))
            draw_areas(p, &p->model->aisle[i], 1, plan_aisle_path);
    for (int i = 0; i < p->model->n_section; i++) {
        plan_path(p, (gradin_polygon){p->model->section[i].corner_m, 4});
        plan_section_path(p->page);
    }
    draw_areas(p, p->model->vomitory, p->model->n_vomitory, plan_vomitory_path);
    plan_draw_focus(p);
    plan_draw_axis(p);
    draw_slabs(p);
    plan_draw_marks(p);
}
