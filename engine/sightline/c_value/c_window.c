/* The window of a staggered seat: the free angle between the two heads of the row in front that
 * stand next to the plane of view, 2 atan((seat - head)/(2 T)) when they stand even.
 * Of the row are those who sit as far ahead along the seat's facing as the front person, give or
 * take a quarter of its depth: so a slanting view crosses the row as it stands. */
#include "sightline/c_value/c_seat.h"

#define OF_ROW 0.25 /* row depths */

/* Angle from the plane to the inner edge of a head, 0 when it reaches over the plane. */
static double inner_edge_rad(const sight_person *person, double half_head_m) {
    return atan2(fmax(fabs(person->aside_m) - half_head_m, 0.0), person->ahead_m);
}

double gradin_sight_window_deg(const gradin_seats *seats, double half_head_m, int seat,
                               const sight_person *front, const sight_person *person, int n) {
    double row_m = gradin_sight_forward_m(seats, seat, front->seat);
    double slack_m = OF_ROW * seats->depth_m[front->seat], left = INFINITY, right = INFINITY;
    for (int i = 0; i < n; i++) {
        const sight_person *p = &person[i];
        if (fabs(gradin_sight_forward_m(seats, seat, p->seat) - row_m) > slack_m) continue;
        double edge = inner_edge_rad(p, half_head_m);
        if (edge == 0.0) return 0.0;
        if (p->aside_m > 0.0)
            right = fmin(right, edge);
        else
            left = fmin(left, edge);
    }
    return isinf(left) || isinf(right) ? NAN : gradin_deg(left + right);
}
