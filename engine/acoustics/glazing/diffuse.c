/* Diffuse incidence: (1) tau = int tau(theta) sin 2theta dtheta / int sin 2theta dtheta up to a
 * limiting angle, which is the plain mean of tau over sin^2 theta; for a pane of finite size up to
 * 90 degrees with tau sigma cos theta (finite.c).
 *
 * Method: adaptive bisection with the 7/15-point Gauss-Kronrod rule (R. Piessens et al., QUADPACK,
 * Springer 1983: nodes and weights from memory, verified by test_glazing.c), begun at the angles of
 * coincidence of the panels, where tau has peaks as narrow as their loss, and at even steps where
 * there are elastic layers, whose coincidence nobody knows beforehand. Limits: the same at most
 * MAX_DEPTH halvings deep. */
#include "acoustics/glazing/tmm.h"

enum { HALF_NODES = 7, MAX_DEPTH = 24, N_EVEN = 10, MAX_CUT = GLAZING_MAX_PLY + N_EVEN + 2 };

typedef struct integrand {
    const glazing_stack *tuned;
    glazing_span span;
    const glazing_spatial_window *window;
    int band;
    double tolerance; /* absolute, of the integral over a unit of sin^2 */
} integrand;

typedef struct piece {
    double a, b, integral, error;
} piece;

static double value_at(const integrand *g, double sine2) {
    double tau = gradin_glazing_tau_tuned(g->tuned, g->span, sine2);
    return g->window ? tau * gradin_glazing_spatial_window_factor(g->window, g->band, sine2) : tau;
}

/* Estimate over [a, b] by Kronrod's rule; the error is its distance from Gauss's. */
static piece kronrod(const integrand *g, double a, double b) {
    static const double node[HALF_NODES] = {
        0.991455371120812639206854697526, 0.949107912342758524526189684048,
        0.864864423359769072789712788641, 0.741531185599394439863864773281,
        0.586087235467691130294144838259, 0.405845151377397166906606412077,
        0.207784955007898467600689403773};
    static const double weight[HALF_NODES + 1] = {
        0.022935322010529224963732008059, 0.063092092629978553290700663189,
        0.104790010322250183839876322542, 0.140653259715525918745189590510,
        0.169004726639267902826583426599, 0.190350578064785409913256402421,
        0.204432940075298892414161999235, 0.209482141084727828012999174892};
    static const double gauss[HALF_NODES / 2 + 1] = {
        0.129484966168869693270611432679, 0.279705391489276667901467771424,
        0.381830050505118944950369775489, 0.417959183673469387755102040816};
    double middle = 0.5 * (a + b), half = 0.5 * (b - a), centre = value_at(g, middle);
    double fine = weight[HALF_NODES] * centre, coarse = gauss[HALF_NODES / 2] * centre;
    for (int i = 0; i < HALF_NODES; i++) {
        double pair = value_at(g, middle - half * node[i]) + value_at(g, middle + half * node[i]);
        fine += weight[i] * pair;
        if (i % 2) coarse += gauss[i / 2] * pair;
    }
    return (piece){a, b, fine * half, fabs(fine - coarse) * half};
}

static double refine(const integrand *g, piece whole, int depth) {
    if (!(whole.error > g->tolerance * (whole.b - whole.a)) || depth == MAX_DEPTH)
        return whole.integral;
    double middle = 0.5 * (whole.a + whole.b);
    return refine(g, kronrod(g, whole.a, middle), depth + 1) +
           refine(g, kronrod(g, middle, whole.b), depth + 1);
}

/* Puts an angle into its place among the n cuts. */
static int add_cut(double *cut, int n, double sine2, double limit) {
    int at = n;
    if (!(sine2 < limit) || n == MAX_CUT - 1) return n;
    for (; cut[at - 1] > sine2; at--) cut[at] = cut[at - 1];
    cut[at] = sine2;
    return n + 1;
}

/* 0, the coincidences in between in rising order, the limit; returns their count. */
static int find_cuts(const glazing_stack *tuned, glazing_span span, double limit, double *cut) {
    int n = 1, n_even = tuned->is_chain ? 1 : N_EVEN;
    cut[0] = 0.0;
    for (int i = 1; i < n_even; i++) n = add_cut(cut, n, limit * i / n_even, limit);
    for (int i = span.first; i < span.end; i++)
        if (tuned->part[i].kind == GLAZING_PANEL)
            n = add_cut(cut, n, gradin_glazing_coincidence(&tuned->part[i].panel, tuned->f_hz),
                        limit);
    cut[n++] = limit;
    return n;
}

static int band_of(double f_hz) {
    long band = lround(10.0 * log10(f_hz / gradin_band_mid_hz(0)));
    return (int)(band < 0 ? 0 : band >= GRADIN_N_BAND ? GRADIN_N_BAND - 1 : band);
}

double gradin_glazing_tuned_diffuse(const glazing_stack *tuned, glazing_span span,
                                    const glazing_method *method) {
    double cut[MAX_CUT], guess = 0.0, tau = 0.0;
    double sine = method->window ? 1.0 : sin(gradin_rad(method->limit_deg)), limit = sine * sine;
    piece part[MAX_CUT];
    integrand g = {tuned, span, method->window, band_of(tuned->f_hz), 0.0};
    int n = find_cuts(tuned, span, limit, cut) - 1;
    for (int i = 0; i < n; i++) {
        part[i] = kronrod(&g, cut[i], cut[i + 1]);
        guess += part[i].integral;
    }
    g.tolerance = method->tolerance * guess / limit;
    for (int i = 0; i < n; i++) tau += refine(&g, part[i], 0);
    return tau / limit; /* (1) */
}

double gradin_glazing_tau_diffuse(const glazing_stack *stack, const glazing_method *method,
                                  double f_hz) {
    glazing_stack tuned;
    gradin_glazing_tune(stack, method, f_hz, &tuned);
    return gradin_glazing_tuned_diffuse(&tuned, gradin_glazing_all(&tuned), method);
}
