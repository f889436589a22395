/* Where a seating tower stands on plan, slid and turned, and how many seats its rows have. A tower
 * turns about a point that its slide takes along. Elementary geometry, no source. */
#include "gradin/venue.h"

/* Bearings that are written with decimals meet the end of a range to this. */
static const double SAME_DEG = 1e-9;

int gradin_tower_row_seats(const gradin_tower *t, const gradin_tower_level *level) {
    if (!t || !level) return 0;
    return (int)floor((t->width_m - 2.0 * t->post_m) / level->seat_width_m + 1e-9);
}

gradin_vec2 gradin_tower_pivot_m(const gradin_tower *t) {
    if (!t) return (gradin_vec2){NAN, NAN};
    if (!isnan(t->pivot_m.x)) return t->pivot_m;
    gradin_vec2 ahead = gradin_bearing_unit(t->facing_deg);
    return (gradin_vec2){t->front_m.x - ahead.x * t->depth_m / 2.0,
                         t->front_m.y - ahead.y * t->depth_m / 2.0};
}

void gradin_tower_stand(const gradin_tower *t, double slide_m, double turn_deg,
                        gradin_vec2 *front_m, double *facing_deg) {
    if (!t || !front_m || !facing_deg) return;
    gradin_vec2 turned_m = gradin_turned(t->front_m, gradin_tower_pivot_m(t), turn_deg);
    gradin_vec2 way = gradin_bearing_unit(t->slide_bearing_deg);
    *front_m = (gradin_vec2){turned_m.x + way.x * slide_m, turned_m.y + way.y * slide_m};
    *facing_deg = turn_deg == 0.0 ? t->facing_deg : gradin_wrap_360_deg(t->facing_deg + turn_deg);
}

double gradin_tower_turn_to(const gradin_tower *t, double facing_deg) {
    double best_deg = NAN;
    if (!t || !isfinite(facing_deg)) return NAN;
    double clockwise_deg = gradin_wrap_360_deg(facing_deg - t->facing_deg);
    if (360.0 - clockwise_deg <= SAME_DEG) clockwise_deg = 0.0;
    for (int round = -2; round <= 1; round++) {
        double deg = clockwise_deg + 360.0 * round;
        if (deg < t->turn_deg[0] - SAME_DEG || deg > t->turn_deg[1] + SAME_DEG) continue;
        if (isnan(best_deg) || fabs(deg) <= fabs(best_deg)) best_deg = deg;
    }
    return best_deg;
}
