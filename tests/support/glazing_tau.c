/* tests/support/glazing_tau.c: transmission of single waves for the check against NumPy.
 *
 * Prints the constants it uses, then answers every line of standard input
 *   N_LAYER then, a layer: kind thickness density young poisson loss shear speed resistivity
 *                          resistance (shear 0 of an interlayer: PVB at 20 degC)
 *   N_WAVE then, a wave: sine2 f_hz
 * by one line with two tau of each wave: as the engine takes it, and by the linear system. */
#include "acoustics/glazing/tmm.h"

#include <stdio.h>

static bool read_layer(gradin_layer *layer) {
    int kind;
    *layer = (gradin_layer){.relaxation = NULL};
    if (scanf("%d %lf %lf %lf %lf %lf %lf %lf %lf %lf", &kind, &layer->thickness_m,
              &layer->density_kgm3, &layer->young_pa, &layer->poisson, &layer->loss,
              &layer->shear_pa, &layer->speed_ms, &layer->resistivity_pasm2,
              &layer->resistance_pasm) != 10)
        return false;
    layer->kind = (gradin_layer_kind)kind;
    if (layer->kind == GRADIN_LAYER_INTERLAYER && layer->shear_pa == 0.0)
        layer->relaxation = &gradin_pvb;
    return true;
}

static bool answer(const glazing_stack *stack) {
    int n_wave;
    if (scanf("%d", &n_wave) != 1) return false;
    for (int i = 0; i < n_wave; i++) {
        double sine2, f_hz;
        if (scanf("%lf %lf", &sine2, &f_hz) != 2) return false;
        glazing_stack tuned;
        gradin_glazing_tune(stack, &gradin_glazing_method, f_hz, &tuned);
        glazing_wave wave = gradin_glazing_endless(f_hz, sine2);
        printf("%.17g %.17g ", gradin_glazing_tau_tuned(&tuned, gradin_glazing_all(&tuned), wave),
               gradin_glazing_tau_layered(&tuned, wave));
    }
    putchar('\n');
    return true;
}

int main(void) {
    gradin_layer layer[GLAZING_MAX_LAYER];
    glazing_stack stack;
    int n_layer;
    printf("%.17g %.17g %.17g %.17g\n", GRADIN_AIR_DENSITY_KGM3, GRADIN_AIR_SPEED_MS,
           gradin_glazing_method.lateral_pasm2, gradin_glazing_method.gap_loss);
    while (scanf("%d", &n_layer) == 1) {
        gradin_buildup buildup = {.name = "asked",
                                  .layer = layer,
                                  .n_layer = n_layer,
                                  .temperature_c = GRADIN_GLAZING_TEMPERATURE_C};
        if (n_layer < 1 || n_layer > GLAZING_MAX_LAYER) return 1;
        for (int i = 0; i < n_layer; i++)
            if (!read_layer(&layer[i])) return 1;
        if (gradin_glazing_stack(&buildup, &stack, NULL) != GRADIN_OK || !answer(&stack)) return 1;
    }
    return 0;
}
