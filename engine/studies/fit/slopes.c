/* Places for wheelchairs on a floor that slopes, against the venue's own rule, and how steep a
 * floor their ways may go over. 1:12, where no rule is stated: ADA Standards 2010 clause 405.2,
 * from memory. */
#include "studies/fit/fit.h"

static const double WAY_SLOPE = 1.0 / 12.0;
static const double SLACK = 1e-6;

double fit_wheelchair_slope(const gradin_local_rules *rules) {
    return rules->wheelchair_way_slope > 0.0 ? rules->wheelchair_way_slope : WAY_SLOPE;
}

void fit_slopes(gradin_fit *fit) {
    const gradin_seats *s = &fit->model->seats;
    double most = fit->model->machinery->rules.wheelchair_place_slope;
    for (int i = 0; i < s->n_seat; i++) {
        if (s->kind[i] != GRADIN_SEAT_WHEELCHAIR) continue;
        gradin_vec2 at_m = {s->floor_m[i].x, s->floor_m[i].y};
        double slope = fit_slope(fit->model, at_m, s->floor_m[i].z);
        fit->n_steep += most > 0.0 && slope > most + SLACK;
        if (slope <= fit->steepest + SLACK) continue;
        fit->steepest = slope;
        fit->steepest_place = s->id[i];
    }
}
