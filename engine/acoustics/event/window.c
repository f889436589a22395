/* The time window of a straight, level pass.
 *
 * It holds the times at which the free-field level at the room's centre, by spherical spreading
 * alone, is within 20 dB of its maximum. With x = V t = d sinh u the level is -20 lg cosh u, whose
 * slope never exceeds 20/ln 10 dB per unit of u: equal steps of u keep every step of the level
 * under one limit and put more times where the source is near. Sound's travelling time is left
 * out: it shifts the whole event, not its maximum, while the source is much slower than sound. */
#include "acoustics/source/pass.h"

static const double window_depth_db = 20.0;
static const double largest_step_db = 1.0;
static const double least_closest_m = 1.0;

static gradin_status check_pass(const gradin_pass *pass, gradin_error *error) {
    bool is_good =
        isfinite(pass->point_m.x) && isfinite(pass->point_m.y) && isfinite(pass->point_m.z) &&
        isfinite(pass->bearing_deg) && isfinite(pass->speed_ms) && pass->speed_ms > 0.0 &&
        isfinite(pass->reference_m) && pass->reference_m > 0.0 && pass->temperature_c > -273.0 &&
        pass->humidity_pct >= 0.0 && pass->pressure_kpa > 0.0;
    if (is_good) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                            "a pass needs a point, a speed, a reference distance and air");
}

static void fill_times(gradin_window *window, double half_u, double speed_ms) {
    int n = window->n_time;
    for (int i = 0; i < n; i++) {
        int step = i - n / 2; /* odd n: symmetric to the bit, with time 0 among them */
        double u = half_u * step / (n / 2);
        window->time_s[i] = window->closest_m / speed_ms * sinh(u);
    }
    for (int i = 0; i < n; i++) {
        int before = i > 0 ? i - 1 : i, after = i + 1 < n ? i + 1 : i;
        window->weight_s[i] = 0.5 * (window->time_s[after] - window->time_s[before]);
    }
    window->length_s = window->time_s[n - 1] - window->time_s[0];
}

gradin_status gradin_window_make(gradin_arena *arena, const gradin_pass *pass, gradin_vec3 centre_m,
                                 gradin_window *window, gradin_error *error) {
    gradin_status status = check_pass(pass, error);
    if (status != GRADIN_OK) return status;
    gradin_vec2 unit = gradin_bearing_unit(pass->bearing_deg);
    gradin_vec3 ahead = {unit.x, unit.y, 0.0};
    double along_m = gradin_dot(gradin_sub(centre_m, pass->point_m), ahead);
    window->nearest_m = gradin_add(pass->point_m, gradin_scale(ahead, along_m));
    window->velocity_ms = gradin_scale(ahead, pass->speed_ms);
    window->closest_m = gradin_norm(gradin_sub(window->nearest_m, centre_m));
    if (window->closest_m < least_closest_m)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                "the track runs through the middle of the room; it must stay at "
                                "least 1 m away");
    double half_u = acosh(pow(10.0, window_depth_db / 20.0));
    int half = (int)ceil(half_u * 20.0 / log(10.0) / largest_step_db);
    window->n_time = 2 * half + 1;
    window->time_s = gradin_arena_alloc(arena, (size_t)window->n_time, sizeof(double));
    window->weight_s = gradin_arena_alloc(arena, (size_t)window->n_time, sizeof(double));
    if (!window->time_s || !window->weight_s)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    fill_times(window, half_u, pass->speed_ms);
    return GRADIN_OK;
}

gradin_vec3 gradin_window_source_m(const gradin_window *window, double time_s) {
    return gradin_add(window->nearest_m, gradin_scale(window->velocity_ms, time_s));
}
