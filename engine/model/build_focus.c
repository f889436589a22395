/* Focus areas: a floor without a height lies on the surface below its middle. */
#include "model/build.h"

bool build_focus(builder *b) {
    gradin_focus *focus = alloc(b->c, b->p->n_focus, sizeof *focus);
    if (!focus) return false;
    for (int i = 0; i < b->p->n_focus; i++) {
        focus[i] = b->p->focus[i];
        if (focus[i].kind == GRADIN_FOCUS_FLOOR && isnan(focus[i].z_m))
            focus[i].z_m =
                gradin_surface_m(b->v, b->p, gradin_polygon_centroid_m(focus[i].polygon), NULL);
    }
    b->model->focus = focus;
    b->model->n_focus = b->p->n_focus;
    return true;
}
