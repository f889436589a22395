/* Operations of the text cases on sightlines: the plane formulas, and a round head met by the real
 * segment test. */
#include "case.h"
#include "gradin/sightline.h"
#include "support/formulas.h"

enum { MAX_ROW = 64, HALVINGS = 60 };

static double run_c_value(const double *in) {
    return gradin_c_value_m(in[0], in[1], in[2], in[3]);
}
static double run_riser(const double *in) {
    return gradin_riser_m(in[0], in[1], in[2], in[3]);
}
static double run_c_value_two_rows(const double *in) {
    return gradin_c_value_m(in[0], in[1], 2.0 * in[2], 2.0 * in[3]);
}
static double run_riser_two_rows(const double *in) {
    return 0.5 * gradin_riser_m(in[0], in[1], in[2], 2.0 * in[3]);
}

static double run_rake_height(const double *in) {
    double r_m[MAX_ROW];
    int row = (int)in[4];
    if (row < 1 || row > MAX_ROW) return NAN;
    gradin_rake_constant_c(in[0], in[1], in[2], in[3], row, r_m);
    return r_m[row - 1];
}

static double run_rake_riser(const double *in) {
    double r_m[MAX_ROW];
    int row = (int)in[4];
    if (row < 2 || row > MAX_ROW) return NAN;
    gradin_rake_constant_c(in[0], in[1], in[2], in[3], row, r_m);
    return r_m[row - 1] - r_m[row - 2];
}

static double run_rake_c(const double *in) {
    double back = in[4] - 2.0; /* rows from the first pair on */
    return gradin_c_value_m(in[0] + back * in[2], in[1] + back * in[3], in[3], in[2]);
}

static double run_window(const double *in) {
    return formula_window_deg(in[0], in[1], in[2]);
}
static double run_clear_probability(const double *in) {
    return formula_clear_probability(in[0], in[1], in[2], in[3]);
}

/* How far the ray stays off a spherical head whose crown is `crown` above the front eye: the radius
 * at which the sphere would touch the ray, found by the engine's segment test, less its own. */
static double run_head_clearance(const double *in) {
    double d = in[0], t = in[1], n = in[2], r = in[3], radius = in[4], crown = in[5];
    gradin_vec3 eye = {0.0, d + t, r + n}, focus = {0.0, 0.0, 0.0};
    gradin_vec3 head = {0.0, d, r + crown - radius};
    double free = 0.0, touching = 1.0;
    for (int i = 0; i < HALVINGS; i++) {
        double middle = 0.5 * (free + touching);
        gradin_shape ball = formula_sphere(head, middle);
        if (gradin_shape_hit(&ball, eye, focus, NULL))
            touching = middle;
        else
            free = middle;
    }
    return free - radius;
}

const case_operation case_sightline[] = {
    {"c_value", "d r n t", run_c_value},
    {"riser", "c d r t", run_riser},
    {"c_value_two_rows", "d r n t", run_c_value_two_rows},
    {"riser_two_rows", "c d r t", run_riser_two_rows},
    {"rake_height", "d r t c row", run_rake_height},
    {"rake_riser", "d r t c row", run_rake_riser},
    {"rake_c", "d r t n row", run_rake_c},
    {"window", "seat head t", run_window},
    {"clear_probability", "c crown sd_rear sd_front", run_clear_probability},
    {"head_clearance", "d t n r radius crown", run_head_clearance},
    {0},
};
