/* The walking surface: fixed floor and lift treads. */
#include "venue/frame.h"
#include "venue/parts.h"

/* Along a side of the section, or across it when `is_across`. */
static double section_depth_m(const gradin_lift_section *s, double facing_deg, bool is_across) {
    int quarter = gradin_grid_quarter(s->bearing_deg, gradin_wrap_360_deg(facing_deg));
    bool along_y = quarter >= 0 && (quarter % 2 == 0) != is_across;
    return along_y ? s->box.y_max_m - s->box.y_min_m : s->box.x_max_m - s->box.x_min_m;
}

static gradin_vec2 section_centre_m(const gradin_lift_section *s) {
    return grid_turned_m(s, (gradin_vec2){(s->box.x_min_m + s->box.x_max_m) / 2.0,
                                          (s->box.y_min_m + s->box.y_max_m) / 2.0});
}

static double tread_height_m(const gradin_lift_section *s, const gradin_setting *set,
                             gradin_vec2 at_m) {
    if (set->n_step == 1) return set->position;
    gradin_vec2 unit = gradin_bearing_unit(set->facing_deg), centre_m = section_centre_m(s);
    double depth_m = section_depth_m(s, set->facing_deg, false);
    double behind_m =
        depth_m / 2.0 - (at_m.x - centre_m.x) * unit.x - (at_m.y - centre_m.y) * unit.y;
    int tread = (int)floor(behind_m / (depth_m / set->n_step));
    if (tread < 0) tread = 0;
    if (tread >= set->n_step) tread = set->n_step - 1;
    return set->position + tread * set->riser_m;
}

double gradin_surface_m(const gradin_venue *v, const gradin_layout *p, gradin_vec2 at_m,
                        int *section) {
    if (section) *section = -1;
    if (!v || !p) return NAN;
    for (int i = 0; i < v->n_section; i++) {
        gradin_box2 box = v->section[i].box;
        gradin_vec2 there_m = grid_unturned_m(&v->section[i], at_m);
        if (there_m.x < box.x_min_m || there_m.x >= box.x_max_m || there_m.y < box.y_min_m ||
            there_m.y >= box.y_max_m)
            continue;
        if (section) *section = i;
        return tread_height_m(&v->section[i],
                              &gradin_layout_state(v, p, GRADIN_MACHINE_SECTION, i)->set, at_m);
    }
    int region = gradin_floor_region_find(v->floor, v->n_floor, at_m);
    return region < 0 ? 0.0 : gradin_floor_region_z_m(&v->floor[region], at_m);
}

void gradin_tread_corners(const gradin_lift_section *s, const gradin_setting *set, int tread,
                          gradin_vec2 corner_m[4]) {
    if (!s || !set || !corner_m) return;
    double facing_deg = set->n_step == 1 ? s->bearing_deg : set->facing_deg;
    gradin_vec2 unit = gradin_bearing_unit(facing_deg), centre_m = section_centre_m(s);
    double depth_m = section_depth_m(s, facing_deg, false), step_m = depth_m / set->n_step;
    double ahead_m = depth_m / 2.0 - (tread + 0.5) * step_m;
    double across_m = section_depth_m(s, facing_deg, true);
    centre_m.x += unit.x * ahead_m;
    centre_m.y += unit.y * ahead_m;
    gradin_rectangle_corners(centre_m, facing_deg, step_m, across_m, corner_m);
}
