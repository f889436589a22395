/* Third-octave bands, the path over the edge of a sealed unit, and the settings of the method.
 *
 * Band: mean of tau over frequencies spaced evenly in log f, as band-limited noise measures it.
 * Field incidence up to 78 deg: F. Fahy, P. Gardonio, "Sound and Structural Vibration", 2nd ed.,
 * 2007, ch. 5 (from memory).
 *
 * Edge: the panes of a sealed unit are joined along their edges, which the layers do not show. By
 * power balance of two plates that lose little to each other (statistical energy analysis: L.
 * Cremer, M. Heckl, B. Petersson, "Structure-Borne Sound", 3rd ed., 2005, from memory) and by
 * reciprocity the power passed on goes with the root of what both panes pass alone:
 *   (1) tau_edge = share sqrt(tau_first tau_last).
 * A wider spacer is softer by its width, so beyond edge_gap_m the share falls as 1/gap^2 (an
 * estimate, no source); the shares of several gaps multiply. What lies outside of the first pane or
 * behind the last, a shade, stands before this path as well.
 *
 * limit_deg, lateral_pasm2 and edge_share are one choice for all builds, made against the generic
 * values of EN 12758; test_glazing.c prints what they reach. */
#include "acoustics/glazing/tmm.h"

const glazing_method gradin_glazing_method = {.limit_deg = 78.0,
                                              .lateral_pasm2 = 200.0,
                                              .gap_loss = 0.01,
                                              .edge_share = 0.12,
                                              .edge_gap_m = 0.02,
                                              .tolerance = 0.05,
                                              .n_frequency = 8};

/* Parts up to the first panel and from the last one on, with whatever lies outside or behind, and
 * the share that their common edge passes on; 0 with fewer than two panels. */
static double find_edge(const glazing_stack *stack, const glazing_method *method,
                        glazing_span *first, glazing_span *last) {
    int n_seen = 0;
    double share = 1.0, gap_m = 0.0;
    if (stack->n_panel < 2 || !stack->is_chain) return 0.0;
    for (int i = 0; i < stack->n_part; i++) {
        const gradin_layer *layer = &stack->layer[stack->part[i].layer];
        if (stack->part[i].kind == GLAZING_FLUID) gap_m += layer->thickness_m;
        if (stack->part[i].kind != GLAZING_PANEL || !(layer->young_pa > 0.0)) continue;
        if (n_seen++ == 0) {
            *first = (glazing_span){0, i + 1};
        } else {
            double closeness = fmin(1.0, method->edge_gap_m / gap_m);
            share *= method->edge_share * closeness * closeness;
        }
        *last = (glazing_span){i, stack->n_part};
        gap_m = 0.0;
    }
    return n_seen < 2 ? 0.0 : share;
}

double gradin_glazing_tau_band(const glazing_stack *stack, const glazing_method *method,
                               double mid_hz) {
    glazing_stack tuned;
    glazing_span first, last;
    double share = find_edge(stack, method, &first, &last), tau = 0.0;
    for (int i = 0; i < method->n_frequency; i++) {
        gradin_glazing_tune(stack, method,
                            mid_hz * pow(10.0, 0.1 * ((i + 0.5) / method->n_frequency - 0.5)),
                            &tuned);
        tau += gradin_glazing_tuned_diffuse(&tuned, gradin_glazing_all(&tuned), method);
        if (share > 0.0) /* (1) */
            tau += share * sqrt(gradin_glazing_tuned_diffuse(&tuned, first, method) *
                                gradin_glazing_tuned_diffuse(&tuned, last, method));
    }
    tau /= method->n_frequency;
    return tau > 1.0 ? 1.0 : tau; /* NAN stays */
}
