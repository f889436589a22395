/* The stage's axis as a mirror: the hall of a symmetric draft is the same on both sides of it. */
#include "studies/draft/draft.h"

static const double SAME_M = 0.02, SAME_DEG = 0.1;

static bool is_north_south(const draft_job *job) {
    return job->quarter % 2 == 0;
}

static double axis_m(const draft_job *job) {
    gradin_box2 b = job->stage_box;
    return is_north_south(job) ? (b.x_min_m + b.x_max_m) / 2.0 : (b.y_min_m + b.y_max_m) / 2.0;
}

gradin_vec2 draft_mirror_m(const draft_job *job, gradin_vec2 at_m) {
    double axis = axis_m(job);
    return is_north_south(job) ? (gradin_vec2){2.0 * axis - at_m.x, at_m.y}
                               : (gradin_vec2){at_m.x, 2.0 * axis - at_m.y};
}

double draft_mirror_deg(const draft_job *job, double bearing_deg) {
    return gradin_wrap_360_deg((is_north_south(job) ? 360.0 : 540.0) - bearing_deg);
}

double draft_off_axis_m(const draft_job *job, gradin_vec2 at_m) {
    return fabs((is_north_south(job) ? at_m.x : at_m.y) - axis_m(job));
}

static bool are_alike(const gradin_tower *a, const gradin_tower *b) {
    return fabs(a->width_m - b->width_m) < SAME_M && fabs(a->depth_m - b->depth_m) < SAME_M &&
           a->n_level == b->n_level;
}

int draft_mirror_tower(const draft_job *job, int index) {
    const gradin_tower *t = &job->hall->tower[index];
    gradin_vec2 at_m = draft_mirror_m(job, t->front_m);
    double facing_deg = draft_mirror_deg(job, t->facing_deg);
    for (int i = 0; i < job->hall->n_tower; i++) {
        const gradin_tower *o = &job->hall->tower[i];
        if (hypot(o->front_m.x - at_m.x, o->front_m.y - at_m.y) < SAME_M && are_alike(t, o) &&
            gradin_bearing_gap_deg(o->facing_deg, facing_deg) < SAME_DEG)
            return i;
    }
    return -1;
}
