/* What a build-up is at one frequency.
 *
 * Edges of a pane with a size: mounting.c. Gap: a flow resistivity r along the panes only,
 * rho (1 - j r/(w rho)), for what its reveals absorb; at normal incidence r has no effect. A gap
 * beside cloth counts r and the loss of its gas by the share that the cloth throws back, one open
 * to the room not at all (both an estimate, no source). Sheet: mass m and flow resistance r side by
 * side, 1/Z = 1/(jwm) + 1/r. Bulk modulus of an interlayer that is an elastic layer of its own: 2
 * GPa (PVB: A. Van Duser, A. Jagota, S. J. Bennison, J. Eng. Mech. 125 (1999) 435-442, from
 * memory). */
#include "acoustics/glazing/tmm.h"

static const double interlayer_bulk_pa = 2e9;

static double complex interlayer_shear_pa(const glazing_stack *stack, const gradin_layer *layer,
                                          double f_hz) {
    return layer->relaxation
               ? gradin_relaxation_shear_pa(layer->relaxation, f_hz, stack->temperature_c)
               : layer->shear_pa * (1.0 + I * layer->loss);
}

static void find_slips(const glazing_stack *stack, const glazing_part *part, double f_hz,
                       glazing_panel *panel) {
    for (int i = 0; i + 1 < panel->n_ply; i++) {
        const gradin_layer *layer = &stack->layer[part->layer + 2 * i + 1];
        panel->slip_m3n[i] = layer->thickness_m / interlayer_shear_pa(stack, layer, f_hz);
    }
}

/* What edges do to the bending wave of a part that meets coincidence at sine2: *edges, and as the
 * result 1 + j loss. */
static double complex mount(const glazing_part *part, const glazing_method *method, double sine2,
                            double f_hz, glazing_edges *edges) {
    if (!method->window || !isfinite(sine2)) return 1.0;
    double w = 2.0 * GRADIN_PI * f_hz, free_radm = w / GRADIN_AIR_SPEED_MS * sqrt(sine2);
    edges->free4_1m4 = free_radm * free_radm * free_radm * free_radm;
    edges->rim_pasm =
        method->rim * part->run_kgm2 * w / free_radm * gradin_glazing_rim_1m(method->window);
    return 1.0 + I * gradin_mount_loss(method, sine2, f_hz);
}

static void tune_panel(const glazing_stack *stack, const glazing_method *method, double f_hz,
                       glazing_part *part) {
    glazing_panel *panel = &part->panel;
    find_slips(stack, part, f_hz, panel);
    if (!method->window) return;
    double complex edge =
        mount(part, method, gradin_glazing_coincidence(panel, f_hz), f_hz, &part->edges);
    panel->bend_nm *= edge;
    panel->shear_nm *= edge;
    for (int i = 0; i < panel->n_ply; i++) panel->stretch_nm[i] *= edge;
    for (int i = 0; i + 1 < panel->n_ply; i++) panel->slip_m3n[i] /= edge;
}

/* Solids glued together bend as one plate. */
static double complex mount_run(const glazing_method *method, double f_hz, glazing_part *part) {
    if (!(part->run_nm > 0.0)) return 1.0;
    double critical_hz = GRADIN_AIR_SPEED_MS * GRADIN_AIR_SPEED_MS / (2.0 * GRADIN_PI) *
                         sqrt(part->run_kgm2 / part->run_nm);
    return mount(part, method, critical_hz / f_hz, f_hz, &part->edges);
}

static glazing_solid solid_of(const glazing_stack *stack, const gradin_layer *layer,
                              double complex edge, double f_hz) {
    glazing_solid solid = {.thickness_m = layer->thickness_m, .density_kgm3 = layer->density_kgm3};
    if (layer->kind == GRADIN_LAYER_PLATE) {
        double nu = layer->poisson;
        double complex young_pa = layer->young_pa * (1.0 + I * layer->loss) * edge;
        solid.shear_pa = young_pa / (2.0 * (1.0 + nu));
        solid.lame_pa = young_pa * (nu / ((1.0 + nu) * (1.0 - 2.0 * nu)));
    } else {
        solid.shear_pa = interlayer_shear_pa(stack, layer, f_hz) * edge;
        solid.lame_pa = interlayer_bulk_pa * edge - solid.shear_pa * (2.0 / 3.0);
    }
    return solid;
}

/* Share of a wave that what lies on the side of a fluid throws back: a panel or foil all, a screen
 * of flow resistance r at rest r/(r + 2 rho c), the open room nothing. */
static double thrown_back(const glazing_stack *stack, int part, int step) {
    int i = part + step;
    while (i >= 0 && i < stack->n_part && stack->part[i].kind == GLAZING_FLUID) i += step;
    if (i < 0 || i >= stack->n_part) return 0.0;
    double r = stack->layer[stack->part[i].layer].resistance_pasm;
    if (stack->part[i].kind != GLAZING_SHEET || isinf(r)) return 1.0;
    return r / (r + 2.0 * GRADIN_AIR_DENSITY_KGM3 * GRADIN_AIR_SPEED_MS);
}

/* 1 for a gap between panels, 0 for one that is open to the room. */
static double closed_share(const glazing_stack *stack, int part) {
    return thrown_back(stack, part, -1) * thrown_back(stack, part, 1);
}

static glazing_fluid fluid_of(const gradin_layer *layer, const glazing_method *method,
                              double closed, double f_hz) {
    double w = 2.0 * GRADIN_PI * f_hz, k = w / layer->speed_ms;
    glazing_fluid fluid = {.thickness_m = layer->thickness_m,
                           .lighter = 1.0,
                           .is_open = !(closed > 0.0) && !method->is_shaded};
    if (layer->kind == GRADIN_LAYER_POROUS) {
        gradin_porous_fluid(layer->resistivity_pasm2, f_hz, &fluid);
    } else {
        fluid.inertia_pasm2 = w * layer->density_kgm3;
        fluid.k2_1m2 = k * k * (1.0 - I * (closed * method->gap_loss));
        fluid.lighter = 1.0 / (1.0 - I * (closed * method->lateral_pasm2) / fluid.inertia_pasm2);
    }
    return fluid;
}

static double complex sheet_of(const gradin_layer *layer, double f_hz) {
    double complex z = I * (2.0 * GRADIN_PI * f_hz * layer->density_kgm3 * layer->thickness_m);
    return isinf(layer->resistance_pasm)
               ? z
               : z * layer->resistance_pasm / (z + layer->resistance_pasm); /* (2) */
}

void gradin_glazing_tune(const glazing_stack *stack, const glazing_method *method, double f_hz,
                         glazing_stack *tuned) {
    tuned->n_layer = stack->n_layer;
    tuned->n_part = stack->n_part;
    tuned->n_panel = stack->n_panel;
    tuned->is_chain = stack->is_chain;
    tuned->temperature_c = stack->temperature_c;
    tuned->f_hz = f_hz;
    for (int i = 0; i < tuned->n_part; i++) {
        glazing_part *part = &tuned->part[i];
        *part = stack->part[i];
        const gradin_layer *layer = &stack->layer[part->layer];
        if (part->kind == GLAZING_PANEL)
            tune_panel(stack, method, f_hz, part);
        else if (part->kind == GLAZING_SOLID)
            part->solid = solid_of(stack, layer, mount_run(method, f_hz, part), f_hz);
        else if (part->kind == GLAZING_FLUID)
            part->fluid = fluid_of(layer, method, closed_share(stack, i), f_hz);
        else
            part->series_pasm = sheet_of(layer, f_hz);
    }
}
