/* Diffuse incidence: tau = int tau(theta) sin 2theta dtheta / int sin 2theta dtheta up to a
 * limiting angle, which is the plain mean of tau over sin^2 theta. For a pane of finite size the
 * integral runs over all waves on it, those that are slower than sound in air, too, with the weight
 * of finite.c and tau/sigma2 of layers whose air has the impedance rho c sigma; what edges radiate
 * of slow free waves counts by the gain g of their mounting, (g - (g - 1)/s2)2, which is 1 at
 * grazing. Limp layers have no free waves.
 *
 * Method: adaptive bisection with the 7/15-point Gauss-Kronrod rule (R. Piessens et al., QUADPACK,
 * Springer 1983: nodes and weights from memory, verified by test_glazing.c), begun at the angles of
 * coincidence of the panels, where tau has peaks as narrow as their loss, and at even steps where
 * there are elastic layers, whose coincidence nobody knows beforehand. Limits: at most
 * MAX_DEPTH halvings deep. */
#include "acoustics/glazing/tmm.h"

enum { HALF_NODES = 7, MAX_DEPTH = 24, N_EVEN = 10, MAX_CUT = GLAZING_MAX_PLY + 2 * N_EVEN + 3 };

typedef struct integrand {
    const glazing_stack *tuned;
    glazing_span span;
    const glazing_spatial_window *window;
    double gain;      /* of slow waves */
    bool is_weighted; /* by the window */
    int band;
    double tolerance; /* absolute, of the integral over a unit of sin^2 */
} integrand;

typedef struct piece {
    double a, b, integral, error;
} piece;

static double value_at(const integrand *g, double sine2) {
    double f_hz = g->tuned->f_hz;
    if (!g->window)
        return gradin_glazing_tau_tuned(g->tuned, g->span, gradin_glazing_endless(f_hz, sine2));
    glazing_share share = gradin_glazing_spatial_window_at(g->window, g->band, sine2);
    glazing_wave wave = {2.0 * GRADIN_PI * f_hz / GRADIN_AIR_SPEED_MS * sqrt(sine2),
                         share.z_air_pasm};
    double tau = gradin_glazing_tau_tuned(g->tuned, g->span, wave) / (share.sigma * share.sigma);
    double edge = sine2 > 1.0 ? g->gain - (g->gain - 1.0) / sine2 : 1.0;
    return g->is_weighted ? tau * share.weight * edge * edge : tau;
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
    if (!(sine2 < limit && sine2 > cut[0]) || n == MAX_CUT - 1) return n;
    for (; cut[at - 1] > sine2; at--) cut[at] = cut[at - 1];
    cut[at] = sine2;
    return n + 1;
}

/* from, the coincidences and grazing in between in rising order, to; returns their count. Nobody
 * knows where elastic layers have theirs: even steps up to grazing, then even ratios. */
static int find_cuts(const glazing_stack *tuned, glazing_span span, double from, double to,
                     double *cut) {
    int n = 1;
    cut[0] = from;
    if (!tuned->is_chain)
        for (int i = 1; i < N_EVEN; i++) {
            n = add_cut(cut, n, fmin(to, 1.0) * i / N_EVEN, to);
            if (to > 1.0) n = add_cut(cut, n, pow(to, (double)i / N_EVEN), to);
        }
    for (int i = span.first; i < span.end; i++)
        if (tuned->part[i].kind == GLAZING_PANEL)
            n = add_cut(cut, n, gradin_glazing_coincidence(&tuned->part[i].panel, tuned->f_hz), to);
    n = add_cut(cut, n, 1.0, to);
    cut[n++] = to;
    return n;
}

static int band_of(double f_hz) {
    long band = lround(10.0 * log10(f_hz / gradin_band_mid_hz(0)));
    return (int)(band < 0 ? 0 : band >= GRADIN_N_BAND ? GRADIN_N_BAND - 1 : band);
}

/* Largest sine2 at which something passes: three times that of the last coincidence, beyond which
 * panes are stiff; the whole table with limp layers only. *gain is 1 for those. */
static double reach(const glazing_stack *tuned, glazing_span span, double most, double *gain) {
    double last = 0.0;
    bool is_stiff = !tuned->is_chain;
    for (int i = span.first; i < span.end; i++) {
        if (tuned->part[i].kind != GLAZING_PANEL) continue;
        double at = gradin_glazing_coincidence(&tuned->part[i].panel, tuned->f_hz);
        if (isfinite(at)) is_stiff = true;
        last = fmax(last, at);
    }
    if (!is_stiff) *gain = 1.0;
    return is_stiff && tuned->is_chain ? fmin(most * most, fmax(1.5, 3.0 * last)) : most * most;
}

static double integrate(const integrand *like, double from, double to, double tolerance) {
    double cut[MAX_CUT], guess = 0.0, sum = 0.0;
    piece part[MAX_CUT];
    integrand g = *like;
    int n = find_cuts(g.tuned, g.span, from, to, cut) - 1;
    for (int i = 0; i < n; i++) {
        part[i] = kronrod(&g, cut[i], cut[i + 1]);
        guess += part[i].integral;
    }
    g.tolerance = tolerance * guess / (to - from);
    for (int i = 0; i < n; i++) sum += refine(&g, part[i], 0);
    return sum;
}

static integrand integrand_of(const glazing_stack *tuned, glazing_span span,
                              const glazing_method *method) {
    return (integrand){tuned,
                       span,
                       method->window,
                       method->edge_gain,
                       method->window != NULL,
                       band_of(tuned->f_hz),
                       0.0};
}

double gradin_glazing_tuned_diffuse(const glazing_stack *tuned, glazing_span span,
                                    const glazing_method *method) {
    integrand g = integrand_of(tuned, span, method);
    if (g.window)
        return integrate(&g, 0.0, reach(tuned, span, g.window->most[g.band], &g.gain),
                         method->tolerance);
    double sine = sin(gradin_rad(method->limit_deg)), limit = sine * sine;
    return integrate(&g, 0.0, limit, method->tolerance) / limit;
}

double gradin_glazing_tuned_slow(const glazing_stack *tuned, glazing_span span,
                                 const glazing_method *method) {
    integrand g = integrand_of(tuned, span, method);
    double to = reach(tuned, span, g.window->most[g.band], &g.gain);
    return integrate(&g, 1.0, to, method->tolerance);
}

double gradin_glazing_tuned_mean(const glazing_stack *tuned, glazing_span span,
                                 const glazing_method *method, double from, double to) {
    integrand g = integrand_of(tuned, span, method);
    g.is_weighted = false;
    return integrate(&g, from, to, method->tolerance) / (to - from);
}

double gradin_glazing_tau_diffuse(const glazing_stack *stack, const glazing_method *method,
                                  double f_hz) {
    glazing_stack tuned;
    gradin_glazing_tune(stack, method, f_hz, &tuned);
    return gradin_glazing_tuned_diffuse(&tuned, gradin_glazing_all(&tuned), method);
}
