/* A build-up checked and made ready: plates that an interlayer joins become one panel.
 *
 * Limits: layers alternate plate / gap or interlayer / plate; a plate without stiffness (a limp
 * sheet) stands alone; at most 16 layers. */
#include "acoustics/glazing/stack.h"

static gradin_status refuse(gradin_error *error, const gradin_buildup *buildup, int layer,
                            const char *text) {
    const char *name = buildup->name ? buildup->name : "";
    if (layer < 0)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL, "build-up %s %s", name, text);
    return gradin_error_add(error, GRADIN_BAD_INPUT, NULL, "build-up %s, layer %d: %s", name,
                            layer + 1, text);
}

static bool is_positive(double value) {
    return isfinite(value) && value > 0.0;
}

static bool is_not_negative(double value) {
    return isfinite(value) && value >= 0.0;
}

/* NULL, or what is wrong with the values of a layer. */
static const char *fault_of(const gradin_layer *layer) {
    if (!is_positive(layer->thickness_m)) return "thickness must be positive";
    if (!is_positive(layer->density_kgm3)) return "density must be positive";
    switch (layer->kind) {
    case GRADIN_LAYER_PLATE:
        if (!is_not_negative(layer->young_pa)) return "Young's modulus must not be negative";
        if (!(layer->poisson >= 0.0 && layer->poisson < 0.5))
            return "Poisson's ratio must lie in [0, 0.5)";
        return is_not_negative(layer->loss) ? NULL : "loss factor must not be negative";
    case GRADIN_LAYER_INTERLAYER:
        if (!is_positive(layer->shear_pa)) return "shear modulus must be positive";
        return is_not_negative(layer->loss) ? NULL : "loss factor must not be negative";
    case GRADIN_LAYER_GAP:
        return is_positive(layer->speed_ms) ? NULL : "speed of sound must be positive";
    }
    return "is of no known kind";
}

static gradin_status check(const gradin_buildup *buildup, gradin_error *error) {
    int n = buildup->n_layer;
    if (n > GLAZING_MAX_LAYER) return refuse(error, buildup, -1, "has more than 16 layers");
    if (n % 2 == 0) return refuse(error, buildup, -1, "must begin and end with a plate");
    for (int i = 0; i < n; i++) {
        const gradin_layer *layer = &buildup->layer[i];
        const char *fault = fault_of(layer);
        if (fault) return refuse(error, buildup, i, fault);
        if ((layer->kind == GRADIN_LAYER_PLATE) != (i % 2 == 0))
            return refuse(error, buildup, i,
                          "plates must alternate with one gap or one interlayer");
        if (layer->kind == GRADIN_LAYER_INTERLAYER &&
            !(layer[-1].young_pa > 0.0 && layer[1].young_pa > 0.0))
            return refuse(error, buildup, i, "an interlayer needs a stiff plate on both sides");
    }
    return GRADIN_OK;
}

static void add_ply(glazing_panel *panel, const gradin_layer *plate) {
    double complex lossy = 1.0 + I * plate->loss;
    double h = plate->thickness_m, plane = 1.0 - plate->poisson * plate->poisson;
    panel->bend_nm += plate->young_pa * lossy * (h * h * h / (12.0 * plane));
    if (plate->young_pa > 0.0) panel->flex_mn[panel->n_ply] = plane / (plate->young_pa * h * lossy);
    panel->n_ply++;
    panel->mass_kgm2 += plate->density_kgm3 * h;
}

static void add_interlayer(glazing_panel *panel, const gradin_layer *layer) {
    int joint = panel->n_ply - 1;
    panel->slip_m3n[joint] = layer->thickness_m / (layer->shear_pa * (1.0 + I * layer->loss));
    panel->lever_m[joint] =
        layer->thickness_m + 0.5 * (layer[-1].thickness_m + layer[1].thickness_m);
    panel->mass_kgm2 += layer->density_kgm3 * layer->thickness_m;
}

gradin_status gradin_glazing_stack(const gradin_buildup *buildup, glazing_stack *stack,
                                   gradin_error *error) {
    if (!buildup || !stack || !buildup->layer || buildup->n_layer < 1)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a build-up needs layers");
    gradin_status status = check(buildup, error);
    if (status != GRADIN_OK) return status;
    *stack = (glazing_stack){.n_panel = 1};
    for (int i = 0; i < buildup->n_layer; i++) {
        const gradin_layer *layer = &buildup->layer[i];
        glazing_panel *panel = &stack->panel[stack->n_panel - 1];
        if (layer->kind == GRADIN_LAYER_PLATE) {
            add_ply(panel, layer);
        } else if (layer->kind == GRADIN_LAYER_INTERLAYER) {
            add_interlayer(panel, layer);
        } else {
            stack->gap[stack->n_panel++ - 1] =
                (glazing_gap){layer->thickness_m, layer->density_kgm3, layer->speed_ms};
        }
    }
    return GRADIN_OK;
}
