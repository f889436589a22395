/* Sound reduction index of layers by third octaves. */
#include "acoustics/glazing/tmm.h"

gradin_status gradin_glazing_predict(const gradin_buildup *buildup, const glazing_method *method,
                                     double *r_db, gradin_error *error) {
    glazing_stack stack;
    gradin_status status = gradin_glazing_stack(buildup, &stack, error);
    if (status != GRADIN_OK) return status;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double tau = gradin_glazing_tau_band(&stack, method, gradin_band_mid_hz(b));
        r_db[b] = -10.0 * log10(tau);
        if (!isfinite(r_db[b]))
            return gradin_error_add(error, GRADIN_NUMERIC, NULL,
                                    "build-up %s leaves the finite numbers",
                                    buildup->name ? buildup->name : "");
    }
    return GRADIN_OK;
}
