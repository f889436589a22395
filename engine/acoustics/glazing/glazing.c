/* Sound reduction index and mass of a build-up. */
#include "gradin/acoustics/glazing.h"
#include "acoustics/glazing/tmm.h"

#include <string.h>

static const char *name_of(const gradin_buildup *buildup) {
    return buildup->name ? buildup->name : "";
}

static gradin_status refuse_use(gradin_error *error) {
    return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a build-up and a result are needed");
}

/* The method for a build-up in a pane of a size; of the standard sample without one. */
static glazing_method sized(const gradin_buildup *buildup, double width_m, double height_m,
                            glazing_spatial_window *window) {
    if (!(width_m > 0.0)) return gradin_glazing_mounted(buildup, gradin_glazing_sample());
    gradin_glazing_spatial_window_make(width_m, height_m, window);
    return gradin_glazing_mounted(buildup, window);
}

gradin_status gradin_glazing_r_in_window(const gradin_buildup *buildup,
                                         const glazing_spatial_window *window, double *r_db,
                                         gradin_error *error) {
    glazing_method method = gradin_glazing_mounted(buildup, window);
    return buildup->is_measured ? gradin_measured_fill(buildup, r_db, error)
                                : gradin_glazing_predict(buildup, &method, r_db, error);
}

static gradin_status predict_sized(const gradin_buildup *buildup, double width_m, double height_m,
                                   double *r_db, gradin_error *error) {
    glazing_spatial_window window;
    glazing_method method = sized(buildup, width_m, height_m, &window);
    return gradin_glazing_predict(buildup, &method, r_db, error);
}

gradin_status gradin_glazing_r_db(const gradin_buildup *buildup, double *r_db,
                                  gradin_error *error) {
    if (!buildup || !r_db) return refuse_use(error);
    return buildup->is_measured ? gradin_measured_fill(buildup, r_db, error)
                                : predict_sized(buildup, 0.0, 0.0, r_db, error);
}

gradin_status gradin_glazing_finite_r_db(const gradin_buildup *buildup, double width_m,
                                         double height_m, double *r_db, gradin_error *error) {
    if (!buildup || !r_db || !(width_m > 0.0) || !(height_m > 0.0)) return refuse_use(error);
    return buildup->is_measured ? gradin_measured_fill(buildup, r_db, error)
                                : predict_sized(buildup, width_m, height_m, r_db, error);
}

/* What lies from a layer on becomes the air that it takes up: the loss is what the shade does and
 * not what its distance does to waves that radiate near the glass only. */
static void leave_air(gradin_layer *from, gradin_buildup *buildup) {
    gradin_layer *to = from;
    const gradin_layer *end = buildup->layer + buildup->n_layer;
    for (const gradin_layer *layer = from; layer < end; layer++) {
        if (layer->kind != GRADIN_LAYER_GAP && layer->kind != GRADIN_LAYER_POROUS) continue;
        *to++ = (gradin_layer){.kind = GRADIN_LAYER_GAP,
                               .thickness_m = layer->thickness_m,
                               .density_kgm3 = GRADIN_AIR_DENSITY_KGM3,
                               .speed_ms = GRADIN_AIR_SPEED_MS};
    }
    buildup->n_layer = (int)(to - buildup->layer);
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
    gradin_buildup both = *buildup;
    memcpy(all, buildup->layer, (size_t)buildup->n_layer * sizeof *all);
    memcpy(all + buildup->n_layer, layer, (size_t)n_layer * sizeof *all);
    both.layer = all;
    both.n_layer += n_layer;
    glazing_method method = sized(buildup, width_m, height_m, &window);
    method.is_shaded = true;
    gradin_status status = gradin_glazing_predict(&both, &method, loss_db, error);
    leave_air(&all[buildup->n_layer], &both);
    if (status == GRADIN_OK) status = gradin_glazing_predict(&both, &method, bare_db, error);
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
