/* From the layers of a build-up to a chain of panels and gaps. */
#include "acoustics/glazing/stack.h"

static bool is_positive(double value) {
    return isfinite(value) && value > 0.0;
}

static bool is_not_negative(double value) {
    return isfinite(value) && value >= 0.0;
}

static bool has_valid_values(const gradin_layer *layer) {
    if (!is_positive(layer->thickness_m) || !is_positive(layer->density_kgm3)) return false;
    switch (layer->kind) {
    case GRADIN_LAYER_PLATE:
        return is_not_negative(layer->young_pa) && is_not_negative(layer->loss) &&
               layer->poisson > -1.0 && layer->poisson < 0.5;
    case GRADIN_LAYER_INTERLAYER:
        return is_positive(layer->shear_pa) && is_not_negative(layer->loss);
    case GRADIN_LAYER_GAP:
        return is_positive(layer->speed_ms);
    }
    return false;
}

static gradin_status refuse(gradin_error *error, const gradin_buildup *buildup, int layer,
                            const char *text) {
    return gradin_error_add(error, GRADIN_BAD_INPUT, NULL, "build-up %s, layer %d: %s",
                            buildup->name ? buildup->name : "without a name", layer + 1, text);
}

/* A panel takes plate, interlayer, plate, ... as far as they go; 0 layers when it would end on an
 * interlayer or glue a plate without stiffness. */
static int panel_length(const gradin_layer *layer, int n) {
    int length = 0;
    while (length < n && layer[length].kind == GRADIN_LAYER_PLATE) {
        bool is_glued = length + 1 < n && layer[length + 1].kind == GRADIN_LAYER_INTERLAYER;
        if ((is_glued || length > 0) && !is_positive(layer[length].young_pa)) return 0;
        if (!is_glued) return length + 1;
        length += 2;
    }
    return 0;
}

static gradin_part part_of(const gradin_layer *layer, int n_layer) {
    gradin_part part = {
        .is_gap = layer->kind == GRADIN_LAYER_GAP, .layer = layer, .n_layer = n_layer};
    for (int i = 0; i < n_layer; i++)
        part.mass_kgm2 += layer[i].thickness_m * layer[i].density_kgm3;
    return part;
}

gradin_status gradin_stack_make(const gradin_buildup *buildup, gradin_stack *stack,
                                gradin_error *error) {
    const gradin_layer *layer = buildup->layer;
    int n = buildup->n_layer;
    stack->n_part = 0;
    if (n < 0 || n > GRADIN_MAX_LAYER || (n > 0 && !layer))
        return refuse(error, buildup, 0, "0 to 16 layers are allowed");
    for (int i = 0; i < n; i++)
        if (!has_valid_values(&layer[i]))
            return refuse(error, buildup, i, "has a value that no such layer can have");
    for (int i = 0; i < n;) {
        bool needs_gap = stack->n_part % 2 == 1;
        bool is_gap = layer[i].kind == GRADIN_LAYER_GAP;
        int length = is_gap ? 1 : panel_length(&layer[i], n - i);
        if (is_gap != needs_gap || length == 0 || (is_gap && i + 1 == n))
            return refuse(error, buildup, i,
                          "panels and gaps must take turns, a panel first and last, with an "
                          "interlayer only between two stiff plates");
        stack->part[stack->n_part++] = part_of(&layer[i], length);
        i += length;
    }
    return GRADIN_OK;
}

double gradin_glazing_mass_kgm2(const gradin_buildup *buildup) {
    double mass_kgm2 = 0.0;
    if (buildup->is_measured) return 0.0;
    for (int i = 0; i < buildup->n_layer; i++)
        if (buildup->layer[i].kind != GRADIN_LAYER_GAP)
            mass_kgm2 += buildup->layer[i].thickness_m * buildup->layer[i].density_kgm3;
    return mass_kgm2;
}
