/* Heads as others see them: the free angle between two of them, and the chance that one person sees
 * over another when eye height and crown vary normally and independently in the audience. */
#include "gradin/sightline.h"

double gradin_window_deg(double seat_m, double head_m, double t_m) {
    if (!(t_m > 0.0)) return NAN;
    return 2.0 * gradin_deg(atan2(fmax(seat_m - head_m, 0.0), 2.0 * t_m));
}

double gradin_clear_probability(double c_m, double crown_m, double sd_rear_m, double sd_front_m) {
    double spread_m = hypot(sd_rear_m, sd_front_m), margin_m = c_m - crown_m;
    if (spread_m == 0.0) return margin_m > 0.0 ? 1.0 : margin_m < 0.0 ? 0.0 : 0.5;
    return 0.5 * erfc(-margin_m / (spread_m * sqrt(2.0)));
}
