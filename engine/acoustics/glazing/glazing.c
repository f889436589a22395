/* Sound reduction index and mass of a build-up. */
#include "acoustics/glazing/tmm.h"

#include <string.h>

static const char *name_of(const gradin_buildup *buildup) {
    return buildup->name ? buildup->name : "";
}

static gradin_status copy_measured(const gradin_buildup *buildup, double *r_db,
                                   gradin_error *error) {
    for (int b = 0; b < GRADIN_N_BAND; b++)
        if (!isfinite(buildup->measured_r_db[b]))
            return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                    "build-up %s: measured value at %d Hz is no finite number",
                                    name_of(buildup), gradin_band_nominal_hz(b));
    memcpy(r_db, buildup->measured_r_db, GRADIN_N_BAND * sizeof *r_db);
    return GRADIN_OK;
}

static gradin_status predict(const gradin_buildup *buildup, const glazing_method *method,
                             double *r_db, gradin_error *error) {
    glazing_stack stack;
    gradin_status status = gradin_glazing_stack(buildup, &stack, error);
    if (status != GRADIN_OK) return status;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double tau = gradin_glazing_tau_band(&stack, method, gradin_band_mid_hz(b));
        r_db[b] = -10.0 * log10(tau);
        if (!isfinite(r_db[b]))
            return gradin_error_add(error, GRADIN_NUMERIC, NULL,
                                    "build-up %s leaves the finite numbers", name_of(buildup));
    }
    return GRADIN_OK;
}

static gradin_status refuse_use(gradin_error *error) {
    return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a build-up and a result are needed");
}

gradin_status gradin_glazing_r_db(const gradin_buildup *buildup, double *r_db,
                                  gradin_error *error) {
    if (!buildup || !r_db) return refuse_use(error);
    return buildup->is_measured ? copy_measured(buildup, r_db, error)
                                : predict(buildup, &gradin_glazing_method, r_db, error);
}

/* The method with the window of a pane; without a size as it is. */
static glazing_method sized(double width_m, double height_m, glazing_spatial_window *window) {
    glazing_method method = gradin_glazing_method;
    if (!(width_m > 0.0)) return method;
    gradin_glazing_spatial_window_make(width_m, height_m, window);
    method.window = window;
    return method;
}

gradin_status gradin_glazing_finite_r_db(const gradin_buildup *buildup, double width_m,
                                         double height_m, double *r_db, gradin_error *error) {
    glazing_spatial_window window;
    if (!buildup || !r_db || !(width_m > 0.0) || !(height_m > 0.0)) return refuse_use(error);
    if (buildup->is_measured) return copy_measured(buildup, r_db, error);
    glazing_method method = sized(width_m, height_m, &window);
    return predict(buildup, &method, r_db, error);
}

gradin_status gradin_glazing_insertion_db(const gradin_buildup *buildup, const gradin_layer *layer,
                                          int n_layer, double width_m, double height_m,
                                          double *loss_db, gradin_error *error) {
    glazing_spatial_window window;
    gradin_layer all[GLAZING_MAX_LAYER];
    double bare_db[GRADIN_N_BAND];
    if (!buildup || !buildup->layer || !layer || !loss_db) return refuse_use(error);
    if (buildup->n_layer + n_layer > GLAZING_MAX_LAYER)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                "build-up %s has more than 24 layers with its shade",
                                name_of(buildup));
    gradin_buildup both = *buildup, bare = *buildup;
    memcpy(all, buildup->layer, (size_t)buildup->n_layer * sizeof *all);
    memcpy(all + buildup->n_layer, layer, (size_t)n_layer * sizeof *all);
    both.layer = all;
    both.n_layer += n_layer;
    glazing_method method = sized(width_m, height_m, &window);
    gradin_status status = predict(&bare, &method, bare_db, error);
    if (status == GRADIN_OK) status = predict(&both, &method, loss_db, error);
    for (int b = 0; status == GRADIN_OK && b < GRADIN_N_BAND; b++) loss_db[b] -= bare_db[b];
    return status;
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
