/* Times at which a track is worked out.
 *
 * From the closest approach outwards, each step as long as the source takes for a tenth of its
 * distance: the free-field level, by spherical spreading, moves by less than 1 dB. The window ends
 * 30 dB below the maximum (0.1 dB short of the whole exposure of a straight pass), or with the
 * track. Between its points a track is straight and even. */
#include "acoustics/source/track.h"

enum { MOST_MOMENTS = 4000 };

static const double step_of_distance = 0.1, window_ratio = 31.6227766; /* 30 dB */
static const double longest_step_s = 5.0, shortest_step_s = 1e-3, least_closest_m = 1.0;

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

static gradin_vec3 source_at_m(const gradin_track *t, double time_s) {
    int i = segment_at(t, time_s);
    double share = (time_s - t->time_s[i]) / (t->time_s[i + 1] - t->time_s[i]);
    return gradin_add(t->point_m[i],
                      gradin_scale(gradin_sub(t->point_m[i + 1], t->point_m[i]), share));
}

static double speed_ms(const gradin_track *t, int i) {
    return gradin_norm(gradin_sub(t->point_m[i + 1], t->point_m[i])) /
           (t->time_s[i + 1] - t->time_s[i]);
}

/* Of the piece that the source is on, or of the nearest one on which it moves. */
static gradin_vec3 heading_at(const gradin_track *t, double time_s) {
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

static double closest_time_s(const gradin_track *t, gradin_vec3 centre_m) {
    double best_m = INFINITY, best_s = t->time_s[0];
    for (int i = 0; i + 1 < t->n_point; i++) {
        gradin_vec3 way = gradin_sub(t->point_m[i + 1], t->point_m[i]);
        gradin_vec3 back = gradin_sub(centre_m, t->point_m[i]);
        double square = gradin_dot(way, way);
        double share = square > 0.0 ? fmin(fmax(gradin_dot(back, way) / square, 0.0), 1.0) : 0.0;
        double apart_m = gradin_norm(gradin_sub(back, gradin_scale(way, share)));
        if (apart_m >= best_m) continue;
        best_m = apart_m;
        best_s = t->time_s[i] + share * (t->time_s[i + 1] - t->time_s[i]);
    }
    return best_s;
}

/* Times from the closest approach on, in direction sign; the first is one step away. */
static int walk(const gradin_track *t, gradin_vec3 centre_m, double from_s, double closest_m,
                double sign, double *time_s) {
    double end_s = sign > 0.0 ? t->time_s[t->n_point - 1] : t->time_s[0], at_s = from_s;
    int n = 0;
    while (n < MOST_MOMENTS && (end_s - at_s) * sign > 0.0) {
        double apart_m = gradin_norm(gradin_sub(source_at_m(t, at_s), centre_m));
        if (apart_m > window_ratio * closest_m) break;
        int segment = segment_at(t, at_s);
        if (sign < 0.0 && segment > 0 && at_s <= t->time_s[segment]) segment--;
        double step_s = fmin(step_of_distance * apart_m / speed_ms(t, segment), longest_step_s);
        at_s += sign * fmax(step_s, shortest_step_s);
        if ((end_s - at_s) * sign < 0.0) at_s = end_s;
        time_s[n++] = at_s;
    }
    return n;
}

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

static gradin_status take(gradin_arena *arena, gradin_moments *m, int n, gradin_error *error) {
    *m = (gradin_moments){.n = n};
    m->time_s = gradin_arena_alloc(arena, (size_t)n, sizeof(double));
    m->weight_s = gradin_arena_alloc(arena, (size_t)n, sizeof(double));
    m->source_m = gradin_arena_alloc(arena, (size_t)n, sizeof(gradin_vec3));
    m->heading = gradin_arena_alloc(arena, (size_t)n, sizeof(gradin_vec3));
    return m->time_s && m->weight_s && m->source_m && m->heading ? GRADIN_OK : out_of_memory(error);
}

static gradin_status hold(gradin_arena *arena, const gradin_track *track, gradin_vec3 centre_m,
                          gradin_moments *m, gradin_error *error) {
    gradin_status status = take(arena, m, 1, error);
    if (status != GRADIN_OK) return status;
    gradin_vec2 ahead = gradin_bearing_unit(isnan(track->bearing_deg) ? 0.0 : track->bearing_deg);
    m->source_m[0] = track->point_m[0];
    m->heading[0] = (gradin_vec3){ahead.x, ahead.y, 0.0};
    m->weight_s[0] = m->length_s = track->hold_s;
    m->closest_m = gradin_norm(gradin_sub(track->point_m[0], centre_m));
    return GRADIN_OK;
}

static void weigh(const gradin_track *track, gradin_moments *m) {
    for (int i = 0; i < m->n; i++) {
        int before = i > 0 ? i - 1 : i, after = i + 1 < m->n ? i + 1 : i;
        m->weight_s[i] = 0.5 * (m->time_s[after] - m->time_s[before]);
        m->source_m[i] = source_at_m(track, m->time_s[i]);
        m->heading[i] = heading_at(track, m->time_s[i]);
    }
    m->length_s = m->time_s[m->n - 1] - m->time_s[0];
}

static gradin_status move(gradin_arena *arena, const gradin_track *track, gradin_vec3 centre_m,
                          gradin_moments *m, gradin_error *error) {
    double *side = gradin_arena_alloc(arena, 2 * MOST_MOMENTS, sizeof *side);
    if (!side) return out_of_memory(error);
    double at_s = closest_time_s(track, centre_m);
    double closest_m = gradin_norm(gradin_sub(source_at_m(track, at_s), centre_m));
    int n_before = walk(track, centre_m, at_s, closest_m, -1.0, side);
    int n_after = walk(track, centre_m, at_s, closest_m, 1.0, side + MOST_MOMENTS);
    if (n_before == MOST_MOMENTS || n_after == MOST_MOMENTS)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                "track %s stays near the room for longer than can be worked out "
                                "in %d steps; divide it",
                                track->name, (int)MOST_MOMENTS);
    gradin_status status = take(arena, m, n_before + 1 + n_after, error);
    if (status != GRADIN_OK) return status;
    for (int i = 0; i < n_before; i++) m->time_s[i] = side[n_before - 1 - i];
    m->time_s[n_before] = at_s;
    for (int i = 0; i < n_after; i++) m->time_s[n_before + 1 + i] = side[MOST_MOMENTS + i];
    m->closest_m = closest_m;
    weigh(track, m);
    return GRADIN_OK;
}

gradin_status gradin_moments_make(gradin_arena *arena, const gradin_track *track,
                                  gradin_vec3 centre_m, gradin_moments *moments,
                                  gradin_error *error) {
    gradin_status status = track->n_point == 1 ? hold(arena, track, centre_m, moments, error)
                                               : move(arena, track, centre_m, moments, error);
    if (status == GRADIN_OK && moments->closest_m < least_closest_m)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                "track %s runs through the middle of the room; it must stay at "
                                "least 1 m away",
                                track->name);
    return status;
}
