/* The arch as what divides the room. Its line is taken to run from wall to wall: where it does not,
 * the gap beside it counts as open up to the ceiling. */
#include "model/build.h"

int gradin_divide_side(const gradin_divide *divide, gradin_vec2 at_m) {
    if (!divide) return 0;
    gradin_vec2 a = divide->line_m[0], b = divide->line_m[1];
    return (b.x - a.x) * (at_m.y - a.y) - (b.y - a.y) * (at_m.x - a.x) < 0.0;
}

static const char *compass(double bearing_deg) {
    static const char *const name[] = {"north", "north-east", "east", "south-east",
                                       "south", "south-west", "west", "north-west"};
    return name[(int)floor(gradin_wrap_360_deg(bearing_deg + 22.5) / 45.0) % 8];
}

/* Length of the footprint's cut along the endless line. */
static double cut_m(gradin_polygon footprint, gradin_vec2 from, gradin_vec2 unit) {
    double low_m = INFINITY, high_m = -INFINITY;
    for (int i = 0; i < footprint.n_corner; i++) {
        gradin_vec2 a = footprint.corner_m[i], b = footprint.corner_m[(i + 1) % footprint.n_corner];
        double off_a = unit.x * (a.y - from.y) - unit.y * (a.x - from.x);
        double off_b = unit.x * (b.y - from.y) - unit.y * (b.x - from.x);
        if (off_a == off_b || fmin(off_a, off_b) > 0.0 || fmax(off_a, off_b) < 0.0) continue;
        double share = off_a / (off_a - off_b);
        gradin_vec2 at = {a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
        double along_m = unit.x * (at.x - from.x) + unit.y * (at.y - from.y);
        low_m = fmin(low_m, along_m);
        high_m = fmax(high_m, along_m);
    }
    return fmax(high_m - low_m, 0.0);
}

bool build_divide(builder *b) {
    const gradin_arch *a = b->v->arch;
    if (!a || !b->p->is_arch_in) return true;
    gradin_divide *d = alloc(b->c, 1, sizeof *d);
    if (!d) return false;
    double dx = a->line_m[1].x - a->line_m[0].x, dy = a->line_m[1].y - a->line_m[0].y;
    double length_m = hypot(dx, dy), bearing_deg = gradin_bearing_deg(dx, dy);
    double whole_m =
        fmax(cut_m(b->v->footprint, a->line_m[0], (gradin_vec2){dx / length_m, dy / length_m}),
             length_m);
    *d = (gradin_divide){.name = a->name,
                         .side_name = {compass(bearing_deg - 90.0), compass(bearing_deg + 90.0)},
                         .line_m = {a->line_m[0], a->line_m[1]},
                         .section_m2 = whole_m * b->v->ceiling_m,
                         .opening_m2 = arch_set(b, GRADIN_MACHINE_OPENING) *
                                           arch_set(b, GRADIN_MACHINE_TRIM) +
                                       (whole_m - length_m) * b->v->ceiling_m,
                         .closing_name = a->closing_name,
                         .closed = arch_set(b, GRADIN_MACHINE_CURTAIN)};
    for (int i = 0; i < GRADIN_N_BAND; i++) {
        d->closing_r_db[i] = a->closing_r_db[i];
        d->closing_absorption[i] = a->closing_absorption[i];
    }
    b->model->divide = d;
    return true;
}
