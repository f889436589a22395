/* What is drawn besides: lift sections as they stand, open vomitories, aisles. */
#include "model/build.h"

static bool build_sections(builder *b) {
    const gradin_venue *v = b->v;
    gradin_section *section = alloc(b->c, v->n_section, sizeof *section);
    if (!section) return false;
    for (int i = 0; i < v->n_section; i++) {
        int machine = gradin_machine_index(v, GRADIN_MACHINE_SECTION, i);
        section[i] = (gradin_section){.name = v->section[i].name,
                                      .machine = &b->model->machinery->machine[machine],
                                      .grid = &v->grid[v->section[i].grid]};
        gradin_section_corners(&v->section[i], section[i].corner_m);
    }
    b->model->section = section;
    b->model->n_section = v->n_section;
    return true;
}

static bool build_vomitories(builder *b) {
    const gradin_venue *v = b->v;
    gradin_area *vomitory = alloc(b->c, v->n_panel, sizeof *vomitory);
    double *top_deg = alloc(b->c, v->n_panel, sizeof *top_deg);
    double *exit_m = alloc(b->c, v->n_panel, sizeof *exit_m);
    gradin_way_under *leads = alloc(b->c, v->n_panel, sizeof *leads);
    int n = 0;
    if (!vomitory || !top_deg || !exit_m || !leads) return false;
    for (int i = 0; i < v->n_panel; i++) {
        if (!is_open(b, i)) continue;
        top_deg[n] = v->panel[i].stair_top_deg;
        exit_m[n] = v->panel[i].exit_width_m;
        leads[n] = v->panel[i].leads_out;
        vomitory[n++] = (gradin_area){.name = v->panel[i].name, .polygon = v->panel[i].polygon};
    }
    b->model->vomitory = vomitory;
    b->model->vomitory_top_deg = top_deg;
    b->model->vomitory_exit_m = exit_m;
    b->model->vomitory_leads = leads;
    b->model->n_vomitory = n;
    return true;
}

static gradin_floor_lie lie_of(const gradin_floor_region *f) {
    gradin_floor_lie lie = {gradin_polygon_centroid_m(f->polygon), INFINITY, -INFINITY, 0.0, NAN};
    lie.slope = gradin_floor_region_slope(f, &lie.uphill_deg);
    for (int i = 0; i < f->polygon.n_corner; i++) {
        double z_m = gradin_floor_region_z_m(f, f->polygon.corner_m[i]);
        lie.low_m = fmin(lie.low_m, z_m);
        lie.high_m = fmax(lie.high_m, z_m);
    }
    return lie;
}

static bool build_floors(builder *b) {
    gradin_floor_lie *lie = alloc(b->c, b->v->n_floor, sizeof *lie);
    if (!lie) return false;
    for (int i = 0; i < b->v->n_floor; i++) lie[i] = lie_of(&b->v->floor[i]);
    b->model->floor_lie = lie;
    return true;
}

bool build_drawn(builder *b) {
    b->model->aisle = b->p->aisle;
    b->model->n_aisle = b->p->n_aisle;
    return build_floors(b) && build_sections(b) && build_vomitories(b);
}
