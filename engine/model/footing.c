/* What a place on the floor or on lifts stands on. */
#include "model/build.h"

static const double EDGE_M = 0.03; /* a place may reach this far over its tread's edge */

footing footing_of(const builder *b, const place *p) {
    place inner = *p;
    inner.width_m -= 2.0 * EDGE_M;
    gradin_vec2 corner_m[5];
    place_corners(&inner, p->depth_m - 2.0 * EDGE_M, corner_m);
    corner_m[4] = p->at_m;
    footing f = {INFINITY, -INFINITY, 0};
    for (int i = 0; i < 5; i++) {
        int section;
        double z_m = gradin_surface_m(b->v, b->p, corner_m[i], &section);
        f.least_m = fmin(f.least_m, z_m);
        f.most_m = fmax(f.most_m, z_m);
        f.n_off += section < 0;
    }
    return f;
}
