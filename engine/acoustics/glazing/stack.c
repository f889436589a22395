/* A build-up checked and cut into parts.
 *
 * A run of plates and interlayers that touch is one panel when it begins and ends with a plate and
 * has one interlayer between two plates; any other run (an interlayer at its end, two interlayers
 * or two plates in touch) is kept as elastic layers glued to each other. Gaps, porous layers and
 * sheets stand in any order. Limits: at most GLAZING_MAX_LAYER layers; a plate without stiffness
 * (a limp sheet) touches neither plate nor interlayer. */
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

static const char *plate_fault(const gradin_layer *layer) {
    if (!is_not_negative(layer->young_pa)) return "Young's modulus must not be negative";
    if (!(layer->poisson >= 0.0 && layer->poisson < 0.5))
        return "Poisson's ratio must lie in [0, 0.5)";
    return is_not_negative(layer->loss) ? NULL : "loss factor must not be negative";
}

static const char *relaxation_fault(const gradin_relaxation *r, double temperature_c) {
    double sum = 0.0;
    if (r->n_term < 1 || r->n_term > GRADIN_MAX_RELAXATION || !is_positive(r->instant_pa))
        return "relaxation needs 1 to 24 terms and a positive modulus";
    for (int i = 0; i < r->n_term; i++) {
        if (!is_not_negative(r->share[i]) || !is_positive(r->time_s[i]))
            return "shares of the relaxation must not be negative, its times must be positive";
        sum += r->share[i];
    }
    if (sum > 1.0 + 1e-9) return "shares of the relaxation add up to more than 1";
    if (!(r->wlf_c2_k + temperature_c - r->reference_c > 0.0))
        return "the shift with temperature does not reach so low";
    return NULL;
}

/* NULL, or what is wrong with the values of a layer. */
static const char *fault_of(const gradin_layer *layer, double temperature_c) {
    if (!is_positive(layer->thickness_m)) return "thickness must be positive";
    if (layer->kind == GRADIN_LAYER_POROUS)
        return is_positive(layer->resistivity_pasm2) ? NULL : "flow resistivity must be positive";
    if (!is_positive(layer->density_kgm3)) return "density must be positive";
    switch (layer->kind) {
    case GRADIN_LAYER_PLATE:
        return plate_fault(layer);
    case GRADIN_LAYER_INTERLAYER:
        if (layer->relaxation) return relaxation_fault(layer->relaxation, temperature_c);
        if (!is_positive(layer->shear_pa)) return "shear modulus must be positive";
        return is_not_negative(layer->loss) ? NULL : "loss factor must not be negative";
    case GRADIN_LAYER_GAP:
        return is_positive(layer->speed_ms) ? NULL : "speed of sound must be positive";
    case GRADIN_LAYER_SHEET:
        return layer->resistance_pasm > 0.0 ? NULL : "flow resistance must be positive";
    default:
        return "is of no known kind";
    }
}

static bool is_solid(const gradin_layer *layer) {
    return layer->kind == GRADIN_LAYER_PLATE || layer->kind == GRADIN_LAYER_INTERLAYER;
}

static gradin_status check(const gradin_buildup *buildup, gradin_error *error) {
    int n = buildup->n_layer;
    if (n > GLAZING_MAX_LAYER) return refuse(error, buildup, -1, "has more than 24 layers");
    for (int i = 0; i < n; i++) {
        const gradin_layer *layer = &buildup->layer[i];
        const char *fault = fault_of(layer, buildup->temperature_c);
        if (fault) return refuse(error, buildup, i, fault);
        bool touches = (i > 0 && is_solid(layer - 1)) || (i + 1 < n && is_solid(layer + 1));
        if (layer->kind == GRADIN_LAYER_PLATE && !(layer->young_pa > 0.0) && touches)
            return refuse(error, buildup, i, "a plate that touches another layer must be stiff");
    }
    return GRADIN_OK;
}

/* Rayleigh's speed over the shear wave's, squared: then short waves on the thick plate run as
 * Rayleigh's do. R. D. Mindlin, J. Appl. Mech. 18 (1951) 31-38; the speed by Viktorov's
 * approximation (both from memory), 0.5 % at most off for Poisson's ratios of 0 to 0.5. */
double gradin_glazing_kappa(double poisson) {
    double ratio = (0.87 + 1.12 * poisson) / (1.0 + poisson);
    return ratio * ratio;
}

static void add_ply(glazing_panel *panel, const gradin_layer *plate) {
    double complex young_pa = plate->young_pa * (1.0 + I * plate->loss);
    double h = plate->thickness_m, nu = plate->poisson, plane = 1.0 - nu * nu;
    panel->bend_nm += young_pa * (h * h * h / (12.0 * plane));
    panel->shear_nm += gradin_glazing_kappa(nu) * h / (2.0 * (1.0 + nu)) * young_pa;
    panel->turn_kg += plate->density_kgm3 * h * h * h / 12.0;
    panel->stretch_nm[panel->n_ply] = young_pa * (h / plane);
    panel->ply_kgm2[panel->n_ply++] = plate->density_kgm3 * h;
}

static void add_panel(glazing_stack *stack, int first, int n) {
    glazing_part *part = &stack->part[stack->n_part++];
    *part = (glazing_part){.kind = GLAZING_PANEL, .layer = first};
    for (int i = first; i < first + n; i++) {
        const gradin_layer *layer = &stack->layer[i];
        part->run_kgm2 += layer->density_kgm3 * layer->thickness_m;
        if (layer->kind == GRADIN_LAYER_PLATE)
            add_ply(&part->panel, layer);
        else
            part->panel.lever_m[part->panel.n_ply - 1] =
                layer->thickness_m + 0.5 * (layer[-1].thickness_m + layer[1].thickness_m);
    }
    part->panel.mass_kgm2 = part->run_kgm2;
    stack->n_panel++;
}

static void add_solids(glazing_stack *stack, int first, int n) {
    double mass_kgm2 = 0.0, stretch_nm = 0.0, depth_m = 0.0;
    for (int i = first; i < first + n; i++) {
        const gradin_layer *layer = &stack->layer[i];
        mass_kgm2 += layer->density_kgm3 * layer->thickness_m;
        depth_m += layer->thickness_m;
        if (layer->kind == GRADIN_LAYER_PLATE)
            stretch_nm +=
                layer->young_pa * layer->thickness_m / (1.0 - layer->poisson * layer->poisson);
    }
    for (int i = first; i < first + n; i++)
        stack->part[stack->n_part++] =
            (glazing_part){.kind = GLAZING_SOLID,
                           .layer = i,
                           .run_kgm2 = mass_kgm2,
                           .run_nm = stretch_nm * depth_m * depth_m / 12.0};
    stack->is_chain = false;
}

static bool is_panel(const gradin_layer *layer, int n) {
    bool good = n % 2 == 1;
    for (int i = 0; i < n; i++) good &= (layer[i].kind == GRADIN_LAYER_PLATE) == (i % 2 == 0);
    return good;
}

static int run_length(const glazing_stack *stack, int first) {
    int n = 0;
    while (first + n < stack->n_layer && is_solid(&stack->layer[first + n])) n++;
    return n;
}

gradin_status gradin_glazing_stack(const gradin_buildup *buildup, glazing_stack *stack,
                                   gradin_error *error) {
    if (!buildup || !stack || !buildup->layer || buildup->n_layer < 1)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a build-up needs layers");
    gradin_status status = check(buildup, error);
    if (status != GRADIN_OK) return status;
    *stack = (glazing_stack){
        .n_layer = buildup->n_layer, .is_chain = true, .temperature_c = buildup->temperature_c};
    for (int i = 0; i < buildup->n_layer; i++) stack->layer[i] = buildup->layer[i];
    for (int i = 0; i < stack->n_layer;) {
        int n = run_length(stack, i);
        if (n == 0) {
            bool is_sheet = stack->layer[i].kind == GRADIN_LAYER_SHEET;
            stack->part[stack->n_part++] =
                (glazing_part){.kind = is_sheet ? GLAZING_SHEET : GLAZING_FLUID, .layer = i};
        } else if (is_panel(&stack->layer[i], n)) {
            add_panel(stack, i, n);
        } else {
            add_solids(stack, i, n);
        }
        i += n > 0 ? n : 1;
    }
    return GRADIN_OK;
}

const glazing_panel *gradin_glazing_panel_at(const glazing_stack *stack, int i) {
    for (int k = 0; k < stack->n_part; k++)
        if (stack->part[k].kind == GLAZING_PANEL && i-- == 0) return &stack->part[k].panel;
    return NULL;
}
