/* A straight, level, even pass as a track of two points. */
#include "gradin/acoustics/traffic.h"

gradin_status gradin_track_straight(gradin_arena *arena, gradin_vec3 point_m, double bearing_deg,
                                    double speed_ms, gradin_track *track) {
    if (arena == NULL || track == NULL) return GRADIN_BAD_USE;
    gradin_vec2 unit = gradin_bearing_unit(bearing_deg);
    double *time_s = gradin_arena_alloc(arena, 2, sizeof *time_s);
    gradin_vec3 *end_m = gradin_arena_alloc(arena, 2, sizeof *end_m);
    if (!time_s || !end_m) return GRADIN_NO_MEMORY;
    for (int i = 0; i < 2; i++) {
        double along_m = i ? GRADIN_TRACK_REACH_M : -GRADIN_TRACK_REACH_M;
        time_s[i] = along_m / speed_ms;
        end_m[i] = gradin_add(point_m, (gradin_vec3){along_m * unit.x, along_m * unit.y, 0.0});
    }
    *track = (gradin_track){track->name, 2, time_s, end_m, 0.0, NAN};
    return GRADIN_OK;
}
