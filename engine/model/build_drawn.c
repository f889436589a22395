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

typedef struct vomitories {
    gradin_area *area;
    double *top_deg, *exit_m;
    gradin_way_under *leads;
    const gradin_passage **passage;
    int n;
} vomitories;

static void add_vomitory(vomitories *made, const char *name, gradin_polygon polygon, double top_deg,
                         double exit_m) {
    int n = made->n++;
    made->area[n] = (gradin_area){.name = name, .polygon = polygon};
    made->top_deg[n] = top_deg;
    made->exit_m[n] = exit_m;
}

/* A passage that leads out is entered at its mouth and, being level, is one for wheelchairs, too.
 */
static void add_passage(vomitories *made, const gradin_passage *p) {
    made->passage[made->n] = p;
    made->leads[made->n] = p->leads_out ? GRADIN_UNDER_RAMP : GRADIN_UNDER_NO_EXIT;
    add_vomitory(made, p->name, p->polygon, p->mouth_deg, p->exit_width_m);
}

/* Open floor panels, then level passages. */
static bool build_vomitories(builder *b) {
    const gradin_venue *v = b->v;
    int most = v->n_panel + b->p->n_passage;
    vomitories made = {.area = alloc(b->c, most, sizeof *made.area),
                       .top_deg = alloc(b->c, most, sizeof *made.top_deg),
                       .exit_m = alloc(b->c, most, sizeof *made.exit_m),
                       .leads = alloc(b->c, most, sizeof *made.leads),
                       .passage = alloc(b->c, most, sizeof *made.passage)};
    if (b->c->failed != GRADIN_OK) return false;
    for (int i = 0; i < v->n_panel; i++) {
        const gradin_floor_panel *panel = &v->panel[i];
        if (!is_open(b, i)) continue;
        made.leads[made.n] = panel->leads_out;
        add_vomitory(&made, panel->name, panel->polygon, panel->stair_top_deg, panel->exit_width_m);
    }
    for (int i = 0; i < b->p->n_passage; i++) add_passage(&made, &b->p->passage[i]);
    b->model->vomitory = made.area;
    b->model->vomitory_top_deg = made.top_deg;
    b->model->vomitory_exit_m = made.exit_m;
    b->model->vomitory_leads = made.leads;
    b->model->vomitory_passage = made.passage;
    b->model->n_vomitory = made.n;
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
