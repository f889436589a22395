/* A source on its track. Between its points a track is straight and even; a track of one point
 * stays there. */
#include "acoustics/source/track.h"

static int segment_at(const gradin_track *t, double time_s) {
    int low = 0, high = t->n_point - 2;
    while (low < high) {
        int middle = (low + high + 1) / 2;
        if (t->time_s[middle] <= time_s)
            low = middle;
        else
            high = middle - 1;
    }
    return low;
}

gradin_vec3 gradin_track_at_m(const gradin_track *t, double time_s) {
    int i = segment_at(t, time_s);
    double share = (time_s - t->time_s[i]) / (t->time_s[i + 1] - t->time_s[i]);
    return gradin_add(t->point_m[i],
                      gradin_scale(gradin_sub(t->point_m[i + 1], t->point_m[i]), share));
}

double gradin_track_speed_ms(const gradin_track *t, double time_s, bool is_forwards) {
    int i = segment_at(t, time_s);
    if (!is_forwards && i > 0 && time_s <= t->time_s[i]) i--;
    return gradin_norm(gradin_sub(t->point_m[i + 1], t->point_m[i])) /
           (t->time_s[i + 1] - t->time_s[i]);
}

gradin_vec3 gradin_track_heading(const gradin_track *t, double time_s) {
    int here = segment_at(t, time_s), n = t->n_point - 1;
    for (int apart = 0; apart < n; apart++)
        for (int side = -1; side <= 1; side += 2) {
            int i = here + side * apart;
            if (i < 0 || i >= n) continue;
            gradin_vec3 way = gradin_sub(t->point_m[i + 1], t->point_m[i]);
            if (gradin_norm(way) > 0.0) return gradin_scale(way, 1.0 / gradin_norm(way));
        }
    return (gradin_vec3){0.0, 0.0, 0.0};
}

static gradin_closest closest_on(const gradin_track *t, int i, gradin_vec3 point_m) {
    gradin_vec3 way = gradin_sub(t->point_m[i + 1], t->point_m[i]);
    gradin_vec3 back = gradin_sub(point_m, t->point_m[i]);
    double square = gradin_dot(way, way);
    double share = square > 0.0 ? fmin(fmax(gradin_dot(back, way) / square, 0.0), 1.0) : 0.0;
    return (gradin_closest){t->time_s[i] + share * (t->time_s[i + 1] - t->time_s[i]),
                            gradin_norm(gradin_sub(back, gradin_scale(way, share))),
                            gradin_add(t->point_m[i], gradin_scale(way, share))};
}

gradin_closest gradin_track_closest(const gradin_track *t, gradin_vec3 point_m) {
    gradin_closest best = {t->time_s ? t->time_s[0] : 0.0,
                           gradin_norm(gradin_sub(t->point_m[0], point_m)), t->point_m[0]};
    for (int i = 0; i + 1 < t->n_point; i++) {
        gradin_closest here = closest_on(t, i, point_m);
        if (here.apart_m < best.apart_m) best = here;
    }
    return best;
}
