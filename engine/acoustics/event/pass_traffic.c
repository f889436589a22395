/* A layout's overflight as traffic of one event. */
#include "base/use.h"
#include "gradin/acoustics/event.h"

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

gradin_status gradin_pass_traffic(gradin_arena *arena, const gradin_pass *pass,
                                  gradin_traffic *traffic, gradin_error *error) {
    if (NEEDS(error, arena, pass, traffic) != GRADIN_OK) return GRADIN_BAD_USE;
    gradin_status status = check_pass(pass, error);
    if (status != GRADIN_OK) return status;
    gradin_class *source = gradin_arena_alloc(arena, 1, sizeof *source);
    gradin_track *track = gradin_arena_alloc(arena, 1, sizeof *track);
    gradin_event *event = gradin_arena_alloc(arena, 1, sizeof *event);
    if (track) track->name = pass->name;
    if (!source || !track || !event ||
        gradin_track_straight(arena, pass->point_m, pass->bearing_deg, pass->speed_ms, track) !=
            GRADIN_OK)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    *source = (gradin_class){.name = pass->name,
                             .reference_m = pass->reference_m,
                             .directivity = pass->directivity,
                             .is_octave = pass->is_octave,
                             .scatter_db = pass->scatter_db};
    for (int b = 0; b < GRADIN_N_BAND; b++) source->level_db[b] = pass->level_db[b];
    *traffic = (gradin_traffic){.name = pass->name,
                                .class_of = source,
                                .track = track,
                                .event = event,
                                .n_class = 1,
                                .n_track = 1,
                                .n_event = 1,
                                .temperature_c = pass->temperature_c,
                                .humidity_pct = pass->humidity_pct,
                                .pressure_kpa = pass->pressure_kpa,
                                .source_uncertainty_db = pass->source_uncertainty_db,
                                .has_lateral = pass->has_lateral,
                                .has_impedance = pass->has_impedance,
                                .weighting = pass->weighting,
                                .limit_dba = NAN};
    return GRADIN_OK;
}
