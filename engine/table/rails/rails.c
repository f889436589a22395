/* What may be said of a rail, the same in every output. */
#include "table/rails/rails.h"

double rails_allowed_m(const gradin_model *model, double height_m) {
    return model->rail_min_m > 0.0 && height_m >= model->rail_min_m && isfinite(height_m) ? height_m
                                                                                          : NAN;
}

double rails_rounded_m(double height_m) {
    return floor(height_m * 1000.0) / 1000.0;
}

const char *rails_note(const gradin_model *model, const gradin_rail_limits *limits, int seat) {
    if (limits->rail[seat] < 0) return "no rail in view";
    return rails_line_note(model, limits->whole_m[seat]);
}

const char *rails_line_note(const gradin_model *model, double whole_m) {
    if (isinf(whole_m)) return "its height does not matter";
    return isnan(rails_allowed_m(model, whole_m)) ? "none at or above the minimum" : "";
}

rails_sum rails_sum_of(const gradin_model *model, const gradin_rail_limits *limits, int rail) {
    rails_sum sum = {.whole_m = INFINITY};
    for (int k = 0; k < limits->n_line; k++) {
        const gradin_rail_line *line = &limits->line[k];
        if (line->rail != rail) continue;
        sum.n_seat++;
        sum.n_hidden++;
        sum.hides_most = fmax(sum.hides_most, line->hides);
        sum.whole_m = fmin(sum.whole_m, line->whole_m);
    }
    for (int i = 0; i < limits->n_seat; i++) {
        if (limits->rail[i] != rail || limits->whole_m[i] < model->rail[rail].height_m) continue;
        sum.n_seat++;
        sum.whole_m = fmin(sum.whole_m, limits->whole_m[i]);
    }
    return sum;
}
