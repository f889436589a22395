/* Rating of a seat: each figure gets the best class whose limit it keeps, the seat the worst class
 * of its figures. A limit or a figure that is NAN does not apply. Limits are the venue's or the
 * brief's own: no published scale maps what is hidden to a class. */
#include "sightline/rating/rate.h"

/* A figure designed to stand on its limit must not fail it by rounding. */
#define SLACK 1e-9

static gradin_rating rate_figure(double figure, const double limit[3], bool is_minimum) {
    int rating = GRADIN_RATING_CLEAR;
    if (isnan(figure)) return GRADIN_RATING_CLEAR;
    while (rating < GRADIN_RATING_POOR) {
        double spare = is_minimum ? figure - limit[rating] : limit[rating] - figure;
        if (isnan(limit[rating]) || spare >= -SLACK) break;
        rating++;
    }
    return (gradin_rating)rating;
}

gradin_rating gradin_sight_rate(const gradin_limits *limits, const gradin_sight *sight, int seat,
                                gradin_reason *reason) {
    const struct {
        gradin_reason reason;
        double figure;
        const double *limit;
        bool is_minimum;
    } check[] = {
        {GRADIN_REASON_VISIBLE, sight->visible[seat], limits->visible_min, true},
        {GRADIN_REASON_C_VALUE, sight->c_m[seat], limits->c_value_min_m, true},
        {GRADIN_REASON_DISTANCE, sight->distance_m[seat], limits->distance_max_m, false},
        {GRADIN_REASON_OFF_AXIS, sight->off_axis_deg[seat], limits->off_axis_max_deg, false},
        {GRADIN_REASON_DOWN, sight->down_deg[seat], limits->down_max_deg, false},
        {GRADIN_REASON_TURN, sight->turn_deg[seat], limits->turn_max_deg, false},
    };
    gradin_rating worst = GRADIN_RATING_CLEAR;
    *reason = GRADIN_REASON_NONE;
    for (size_t i = 0; i < sizeof check / sizeof check[0]; i++) {
        gradin_rating rating = rate_figure(check[i].figure, check[i].limit, check[i].is_minimum);
        if (rating <= worst) continue;
        worst = rating;
        *reason = check[i].reason;
    }
    return worst;
}
