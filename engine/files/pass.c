/* An overflight file: a straight, level pass with its spectrum and the day's air. */
#include "files/layout_read.h"
#include "files/traffic.h"

bool pass_read(reader *r, const char *path, gradin_pass *pass) {
    const node *root = node_read(r, path), *track = NULL, *spectrum = NULL, *air = NULL, *any;
    const node *method = NULL, *level = NULL, *directivity = NULL;
    int weighting = GRADIN_WEIGHTING_NONE;
    gradin_vec2 point_m = {0.0, 0.0};
    if (!root || !read_head(r, root, "gradin-overflight-1")) return false;
    *pass = gradin_pass_defaults();
    READ(r, root, {"format", FIELD_ANY, true, 0, 0, &any, 0},
         {"units", FIELD_ANY, true, 0, 0, &any, 0},
         {"name", FIELD_TEXT, true, 0, 0, &pass->name, 0},
         {"track", FIELD_MAP, true, 0, 0, &track, 0},
         {"spectrum", FIELD_MAP, true, 0, 0, &spectrum, 0},
         {"air", FIELD_MAP, false, 0, 0, &air, 0}, {"method", FIELD_MAP, false, 0, 0, &method, 0},
         {"time_weighting", FIELD_CHOICE, false, 0, 0, &weighting, time_weighting_names});
    pass->weighting = (gradin_time_weighting)weighting;
    if (track)
        READ(r, track, {"point", FIELD_POINT, true, 0, 0, &point_m, 0},
             {"altitude", FIELD_LENGTH, true, 20, 20000, &pass->point_m.z, 0},
             {"bearing_deg", FIELD_NUMBER, true, 0, 360, &pass->bearing_deg, 0},
             {"speed_ms", FIELD_NUMBER, true, 1, 340, &pass->speed_ms, 0});
    pass->point_m.x = point_m.x;
    pass->point_m.y = point_m.y;
    if (spectrum) {
        READ(r, spectrum,
             {"reference_distance", FIELD_LENGTH, true, 1, 10000, &pass->reference_m, 0},
             {"level_db", FIELD_LIST, true, 0, 0, &level, 0},
             {"directivity", FIELD_MAP, false, 0, 0, &directivity, 0});
        if (level)
            read_numbers(r, level, GRADIN_N_BAND, GRADIN_N_BAND, -50, 180, 1.0, pass->level_db,
                         NULL);
        if (directivity) directivity_read(r, directivity, &pass->directivity);
    }
    if (air)
        READ(r, air, {"temperature_c", FIELD_NUMBER, false, -40, 50, &pass->temperature_c, 0},
             {"humidity_pct", FIELD_NUMBER, false, 1, 100, &pass->humidity_pct, 0},
             {"pressure_kpa", FIELD_NUMBER, false, 50, 110, &pass->pressure_kpa, 0});
    if (method)
        READ(r, method, {"lateral_attenuation", FIELD_FLAG, false, 0, 0, &pass->has_lateral, 0},
             {"impedance", FIELD_FLAG, false, 0, 0, &pass->has_impedance, 0});
    return complaints_status(&r->c) == GRADIN_OK;
}
