/* The evaluation window of an event: the moments at which its track is worked out.
 *
 * From the closest approach outwards, each step as long as the source takes for a tenth of its
 * distance: the free-field level, by spherical spreading, moves by less than 1 dB. Within 1 dB of
 * the maximum the steps are half as long: the angle of the glass sharpens the seats' maxima, which
 * then lie 0.007 dB below those of much finer steps on the demo (mean), not 0.03 dB. The window
 * ends 30 dB below the maximum (0.1 dB short of the whole exposure of a straight pass), or with the
 * track. Sound's travelling time is left out: it shifts the whole event, not its maximum, while the
 * source is much slower than sound. */
#include "acoustics/event/moments.h"

enum { MOST_MOMENTS = 4000 };

static const double step_of_distance = 0.1, window_ratio = 31.6227766; /* 30 dB */
static const double near_step_of_distance = 0.05, near_ratio = 1.122;  /* 1 dB */
static const double longest_step_s = 5.0, shortest_step_s = 1e-3, least_closest_m = 1.0;

/* Times from the closest approach on, forwards or backwards; the first is one step away. */
static int walk(const gradin_track *t, gradin_vec3 point_m, gradin_closest closest,
                bool is_forwards, double *time_s) {
    double sign = is_forwards ? 1.0 : -1.0, at_s = closest.time_s;
    double end_s = is_forwards ? t->time_s[t->n_point - 1] : t->time_s[0];
    int n = 0;
    while (n < MOST_MOMENTS && (end_s - at_s) * sign > 0.0) {
        double apart_m = gradin_norm(gradin_sub(gradin_track_at_m(t, at_s), point_m));
        if (apart_m > window_ratio * closest.apart_m) break;
        double speed_ms = gradin_track_speed_ms(t, at_s, is_forwards);
        bool is_near = apart_m < near_ratio * closest.apart_m;
        double step_m = (is_near ? near_step_of_distance : step_of_distance) * apart_m;
        double step_s = fmin(step_m / speed_ms, longest_step_s);
        at_s += sign * fmax(step_s, shortest_step_s);
        if ((end_s - at_s) * sign < 0.0) at_s = end_s;
        time_s[n++] = at_s;
    }
    return n;
}

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

static gradin_status alloc(gradin_arena *arena, gradin_moments *m, int n, gradin_error *error) {
    *m = (gradin_moments){.n = n};
    m->time_s = gradin_arena_alloc(arena, (size_t)n, sizeof(double));
    m->weight_s = gradin_arena_alloc(arena, (size_t)n, sizeof(double));
    m->source_m = gradin_arena_alloc(arena, (size_t)n, sizeof(gradin_vec3));
    m->heading = gradin_arena_alloc(arena, (size_t)n, sizeof(gradin_vec3));
    return m->time_s && m->weight_s && m->source_m && m->heading ? GRADIN_OK : out_of_memory(error);
}

static gradin_status hold(gradin_arena *arena, const gradin_track *track, gradin_closest closest,
                          gradin_moments *m, gradin_error *error) {
    gradin_status status = alloc(arena, m, 1, error);
    if (status != GRADIN_OK) return status;
    gradin_vec2 ahead = gradin_bearing_unit(isnan(track->bearing_deg) ? 0.0 : track->bearing_deg);
    m->source_m[0] = track->point_m[0];
    m->heading[0] = (gradin_vec3){ahead.x, ahead.y, 0.0};
    m->weight_s[0] = m->length_s = track->hold_s;
    m->closest_m = closest.apart_m;
    return GRADIN_OK;
}

static void weigh(const gradin_track *track, gradin_moments *m) {
    for (int i = 0; i < m->n; i++) {
        int before = i > 0 ? i - 1 : i, after = i + 1 < m->n ? i + 1 : i;
        m->weight_s[i] = 0.5 * (m->time_s[after] - m->time_s[before]);
        m->source_m[i] = gradin_track_at_m(track, m->time_s[i]);
        m->heading[i] = gradin_track_heading(track, m->time_s[i]);
    }
    m->length_s = m->time_s[m->n - 1] - m->time_s[0];
}

static gradin_status move(gradin_arena *arena, const gradin_track *track, gradin_vec3 point_m,
                          gradin_closest closest, gradin_moments *m, gradin_error *error) {
    double *side = gradin_arena_alloc(arena, 2 * MOST_MOMENTS, sizeof *side);
    if (!side) return out_of_memory(error);
    int n_before = walk(track, point_m, closest, false, side);
    int n_after = walk(track, point_m, closest, true, side + MOST_MOMENTS);
    if (n_before == MOST_MOMENTS || n_after == MOST_MOMENTS)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                "track %s stays near the room for longer than can be worked out "
                                "in %d steps; divide it",
                                track->name, (int)MOST_MOMENTS);
    gradin_status status = alloc(arena, m, n_before + 1 + n_after, error);
    if (status != GRADIN_OK) return status;
    for (int i = 0; i < n_before; i++) m->time_s[i] = side[n_before - 1 - i];
    m->time_s[n_before] = m->closest_s = closest.time_s;
    for (int i = 0; i < n_after; i++) m->time_s[n_before + 1 + i] = side[MOST_MOMENTS + i];
    m->closest_m = closest.apart_m;
    weigh(track, m);
    return GRADIN_OK;
}

gradin_status gradin_moments_make(gradin_arena *arena, const gradin_track *track,
                                  gradin_vec3 point_m, gradin_moments *moments,
                                  gradin_error *error) {
    gradin_closest closest = gradin_track_closest(track, point_m);
    if (closest.apart_m < least_closest_m)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                "track %s runs through the room or right beside it; it must stay "
                                "at least 1 m away",
                                track->name);
    return track->n_point == 1 ? hold(arena, track, closest, moments, error)
                               : move(arena, track, point_m, closest, moments, error);
}
