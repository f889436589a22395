/* Third-octave bands, and the path over what holds two panes together.
 *
 * Band: mean of tau over frequencies spaced evenly in log f, as band-limited noise measures it.
 *
 * Panes that one spacer or one frame holds pass sound on by it, which the layers do not show. By
 * power balance of two plates that lose little to each other (statistical energy analysis: L.
 * Cremer, M. Heckl, B. Petersson, "Structure-Borne Sound", 3rd ed., 2005, from memory) and by
 * reciprocity the power passed on goes with the root of what both panes pass alone:
 *   tau_held = share sqrt(tau_first tau_last),  share = coupling/(k d), at most coupling_most
 * Spacer and frame are softer the wider and the faster, so that the share falls with k d, d being
 * the gap (the form is an estimate, no source; mounting.c on its figures). The shares of several
 * gaps multiply. It goes with the perimeter over the area. What lies outside of the first pane or
 * behind the last, a shade, stands before this path as well. */
#include "acoustics/glazing/tmm.h"

/* Parts up to the first panel and from the last one on, with whatever lies outside or behind, and
 * the share that is passed between them; 0 with fewer than two panels. */
static double find_held(const glazing_stack *stack, const glazing_method *method, double mid_hz,
                        glazing_span *first, glazing_span *last) {
    int n_seen = 0;
    double share = 1.0, gap_m = 0.0, k_radm = 2.0 * GRADIN_PI * mid_hz / GRADIN_AIR_SPEED_MS;
    if (stack->n_panel < 2 || !stack->is_chain) return 0.0;
    for (int i = 0; i < stack->n_part; i++) {
        const gradin_layer *layer = &stack->layer[stack->part[i].layer];
        if (stack->part[i].kind == GLAZING_FLUID) gap_m += layer->thickness_m;
        if (stack->part[i].kind != GLAZING_PANEL || !(layer->young_pa > 0.0)) continue;
        if (n_seen++ == 0)
            *first = (glazing_span){0, i + 1};
        else
            share *= fmin(method->coupling / (k_radm * gap_m), method->coupling_most);
        *last = (glazing_span){i, stack->n_part};
        gap_m = 0.0;
    }
    double size = method->window ? gradin_glazing_rim_1m(method->window) /
                                       gradin_glazing_rim_1m(gradin_glazing_sample())
                                 : 1.0;
    return n_seen < 2 ? 0.0 : share * size;
}

double gradin_glazing_tau_band(const glazing_stack *stack, const glazing_method *method,
                               double mid_hz) {
    glazing_stack tuned;
    glazing_span first, last;
    double share = find_held(stack, method, mid_hz, &first, &last), tau = 0.0;
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
