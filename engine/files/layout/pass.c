/* An overflight file: a straight, level pass with its spectrum and the day's air. */
#include "files/traffic/traffic.h"

bool pass_read(reader *r, const char *path, gradin_pass *pass) {
    stated_pass s = {0};
    *pass = gradin_pass_defaults();
    const node *root = SCHEMA_READ_FILE(r, path, &pass_schema, &s);
    if (!root) return false;
    pass->name = s.name;
    pass->point_m = (gradin_vec3){s.track.point_m.x, s.track.point_m.y, s.track.altitude_m};
    pass->bearing_deg = s.track.bearing_deg;
    pass->speed_ms = s.track.speed_ms;
    pass->reference_m = s.spectrum.reference_m;
    fill_spectrum(r, map_get(root, "spectrum"), &s.spectrum, pass->level_db, &pass->is_octave);
    if (s.spectrum.directivity) fill_directivity(r, s.spectrum.directivity, &pass->directivity);
    pass->weighting = (gradin_time_weighting)s.weighting;
    pass->temperature_c = s.air.temperature_c;
    pass->humidity_pct = s.air.humidity_pct;
    pass->pressure_kpa = s.air.pressure_kpa;
    pass->source_uncertainty_db = s.uncertainty.source_db;
    pass->scatter_db = s.uncertainty.scatter_db;
    pass->has_lateral = s.method.has_lateral;
    pass->has_impedance = s.method.has_impedance;
    return complaints_status(&r->c) == GRADIN_OK;
}
