/* Where an element of the envelope lies in space. Level and upright ones come out exact. */
#include "gradin/model.h"

gradin_frame gradin_element_frame(const gradin_element *e) {
    if (!e) return (gradin_frame){.along = {1.0, 0.0, 0.0}};
    double rise = e->tilt_deg == 0.0    ? 0.0
                  : e->tilt_deg == 90.0 ? 1.0
                                        : sin(gradin_rad(e->tilt_deg));
    double level = sqrt(1.0 - rise * rise);
    return (gradin_frame){{e->along.x, e->along.y, 0.0},
                          {-rise * e->outward.x, -rise * e->outward.y, level},
                          {level * e->outward.x, level * e->outward.y, rise}};
}

gradin_vec3 gradin_element_point_m(const gradin_element *e, double along_m, double up_m) {
    gradin_frame f = gradin_element_frame(e);
    gradin_vec3 from_m = e ? e->corner_m : (gradin_vec3){0.0, 0.0, 0.0};
    return gradin_add(from_m, gradin_add(gradin_scale(f.along, along_m), gradin_scale(f.up, up_m)));
}

bool gradin_element_is_overhead(const gradin_element *e) {
    return e && e->tilt_deg > 45.0;
}

bool gradin_element_is_opaque(const gradin_element *e) {
    return e && (e->kind == GRADIN_ELEMENT_WALL || e->kind == GRADIN_ELEMENT_ROOF);
}
