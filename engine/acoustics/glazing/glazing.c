/* Sound reduction index and mass of a build-up. */
#include "acoustics/glazing/tmm.h"

#include <string.h>

static const char *name_of(const gradin_buildup *buildup) {
    return buildup->name ? buildup->name : "";
}

static gradin_status take_measured(const gradin_buildup *buildup, double *r_db,
                                   gradin_error *error) {
    for (int b = 0; b < GRADIN_N_BAND; b++)
        if (!isfinite(buildup->measured_r_db[b]))
            return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                    "build-up %s: measured value at %d Hz is no finite number",
                                    name_of(buildup), gradin_band_nominal_hz(b));
    memcpy(r_db, buildup->measured_r_db, GRADIN_N_BAND * sizeof *r_db);
    return GRADIN_OK;
}

gradin_status gradin_glazing_r_db(const gradin_buildup *buildup, double *r_db,
                                  gradin_error *error) {
    if (!buildup || !r_db)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a build-up and a result are needed");
    if (buildup->is_measured) return take_measured(buildup, r_db, error);
    glazing_stack stack;
    gradin_status status = gradin_glazing_stack(buildup, &stack, error);
    if (status != GRADIN_OK) return status;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double tau = gradin_glazing_tau_band(&stack, &gradin_glazing_method, gradin_band_mid_hz(b));
        r_db[b] = -10.0 * log10(tau);
        if (!isfinite(r_db[b]))
            return gradin_error_add(error, GRADIN_NUMERIC, NULL,
                                    "build-up %s leaves the finite numbers", name_of(buildup));
    }
    return GRADIN_OK;
}

double gradin_glazing_mass_kgm2(const gradin_buildup *buildup) {
    double mass_kgm2 = 0.0;
    if (!buildup || !buildup->layer) return 0.0;
    for (int i = 0; i < buildup->n_layer; i++) {
        const gradin_layer *layer = &buildup->layer[i];
        if (layer->kind != GRADIN_LAYER_GAP) mass_kgm2 += layer->density_kgm3 * layer->thickness_m;
    }
    return mass_kgm2;
}
