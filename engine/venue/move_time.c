/* Time of a move. A drive speeds up at a, runs at v and slows down at a: a distance s takes
 * s/v + v/a when s >= v2/a and 2 sqrt(s/a) otherwise (trapezoidal and triangular speed profile,
 * elementary kinematics). Limits: no jerk, no creep to the stop, no load dependence. */
#include "gradin/machines.h"

double gradin_move_s(double distance, const gradin_drive *drive) {
    if (!drive) return NAN;
    double s = fabs(distance), v = drive->speed_per_s, a = drive->accel_per_s2;
    if (s == 0.0 || isinf(v)) return 0.0;
    if (a <= 0.0) return s / v;
    return s >= v * v / a ? s / v + v / a : 2.0 * sqrt(s / a);
}

static double top(const gradin_setting *s) {
    return s->position + (s->n_step - 1) * s->riser_m;
}

static double spread_s(double low, double high, const gradin_drive *drive) {
    return gradin_move_s(fmax(fabs(low), fabs(high)), drive);
}

double gradin_setting_move_s(const gradin_setting *from, const gradin_setting *to,
                             const gradin_drive *drive) {
    if (!from || !to || !drive) return NAN;
    bool turns = from->n_step > 1 && to->n_step > 1 &&
                 gradin_bearing_gap_deg(from->facing_deg, to->facing_deg) > 1e-6;
    if (!turns) return spread_s(to->position - from->position, top(to) - top(from), drive);
    double quarters = gradin_bearing_gap_deg(from->facing_deg, to->facing_deg) / 90.0;
    return gradin_move_s(top(from) - from->position, drive) + quarters * drive->turn_s +
           spread_s(to->position - from->position, top(to) - from->position, drive);
}

int gradin_moves_together(const gradin_drive *drive, double power_kw, int n) {
    if (!drive) return -1;
    int together = n < drive->at_once ? n : drive->at_once;
    while (together > 1 && drive->power_kw * together > power_kw + 1e-9) together--;
    return together;
}

int gradin_moves_s(const gradin_setting *from, const gradin_setting *to, const gradin_drive *drive,
                   double power_kw, int n) {
    if (!from || !to || !drive || drive->at_once < 1 || n < 1) return -1;
    int together = gradin_moves_together(drive, power_kw, n),
        n_batch = (n + together - 1) / together;
    double one_s = gradin_setting_move_s(from, to, drive) + drive->prepare_s;
    return isfinite(one_s) ? (int)ceil(one_s * n_batch - 1e-6) : -1;
}

bool gradin_setting_equal(const gradin_setting *a, const gradin_setting *b) {
    if (!a || !b) return false;
    if (fabs(a->position - b->position) > 1e-9 || a->n_step != b->n_step) return false;
    return a->n_step == 1 || (fabs(a->riser_m - b->riser_m) <= 1e-9 &&
                              gradin_bearing_gap_deg(a->facing_deg, b->facing_deg) <= 1e-6);
}
