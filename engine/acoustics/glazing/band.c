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
 *   tau_edge = share sqrt(tau_first tau_last).
 * A wider spacer is softer by its width, so beyond edge_gap_m the share falls as 1/gap^2 (an
 * estimate, no source); the shares of several gaps multiply.
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

static double edge_share(const glazing_stack *stack, const glazing_method *method) {
    if (stack->n_panel < 2) return 0.0;
    double share = 1.0;
    for (int i = 0; i + 1 < stack->n_panel; i++) {
        double closeness = fmin(1.0, method->edge_gap_m / stack->gap[i].thickness_m);
        share *= method->edge_share * closeness * closeness;
    }
    return share;
}

static double tau_alone(const glazing_panel *panel, const glazing_method *method, double f_hz) {
    glazing_stack alone = {.n_panel = 1, .panel = {*panel}};
    return gradin_glazing_tau_diffuse(&alone, method, f_hz);
}

double gradin_glazing_tau_band(const glazing_stack *stack, const glazing_method *method,
                               double mid_hz) {
    double share = edge_share(stack, method), tau = 0.0;
    for (int i = 0; i < method->n_frequency; i++) {
        double f_hz = mid_hz * pow(10.0, 0.1 * ((i + 0.5) / method->n_frequency - 0.5));
        tau += gradin_glazing_tau_diffuse(stack, method, f_hz);
        if (share > 0.0)
            tau += share * sqrt(tau_alone(&stack->panel[0], method, f_hz) *
                                tau_alone(&stack->panel[stack->n_panel - 1], method, f_hz));
    }
    return fmin(tau / method->n_frequency, 1.0);
}
