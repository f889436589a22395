/* Diffuse incidence and third-octave bands.
 *
 * Angle: tau = int tau(theta) sin 2theta dtheta / int sin 2theta dtheta up to the limiting angle
 * (Gauss-Legendre in theta). Band: mean of tau at frequencies evenly spaced in log f. */
#include "acoustics/glazing/tmm.h"

enum { MAX_ANGLE = 512 };

const glazing_method gradin_glazing_method = {.limit_deg = 78.0,
                                              .lateral_pasm2 = 250.0,
                                              .edge_share = 0.1,
                                              .edge_gap_m = 0.02,
                                              .n_angle = 48,
                                              .n_frequency = 8};

typedef struct quadrature {
    int n;
    double node_rad[MAX_ANGLE], weight[MAX_ANGLE]; /* weights sum to 1 and hold sin 2theta */
} quadrature;

/* Legendre polynomial of degree n and its derivative at x in (-1, 1). */
static double legendre(int n, double x, double *slope) {
    double before = 1.0, now = x;
    for (int i = 2; i <= n; i++) {
        double next = ((2 * i - 1) * x * now - (i - 1) * before) / i;
        before = now;
        now = next;
    }
    *slope = n * (x * now - before) / (x * x - 1.0);
    return now;
}

static void angles_fill(quadrature *q, int n, double limit_rad) {
    double sum = 0.0;
    q->n = n;
    for (int i = 0; i < n; i++) {
        double x = cos(GRADIN_PI * (i + 0.75) / (n + 0.5)), slope;
        for (int step = 0; step < 5; step++) x -= legendre(n, x, &slope) / slope;
        legendre(n, x, &slope);
        q->node_rad[i] = 0.5 * limit_rad * (1.0 + x);
        q->weight[i] = sin(2.0 * q->node_rad[i]) / ((1.0 - x * x) * slope * slope);
        sum += q->weight[i];
    }
    for (int i = 0; i < n; i++) q->weight[i] /= sum;
}

static double average(const glazing_stack *stack, const quadrature *q, double lateral,
                      double f_hz) {
    double tau = 0.0;
    for (int i = 0; i < q->n; i++)
        tau += q->weight[i] * gradin_glazing_tau(stack, lateral, q->node_rad[i], f_hz);
    return tau;
}

double gradin_glazing_tau_diffuse(const glazing_stack *stack, const glazing_method *method,
                                  double f_hz) {
    quadrature q;
    angles_fill(&q, method->n_angle, gradin_rad(method->limit_deg));
    return average(stack, &q, method->lateral_pasm2, f_hz);
}

double gradin_glazing_tau_band(const glazing_stack *stack, const glazing_method *method,
                               double mid_hz) {
    double tau = 0.0;
    for (int i = 0; i < method->n_frequency; i++) {
        double step = ((i + 0.5) / method->n_frequency - 0.5) / 10.0;
        tau += gradin_glazing_tau_diffuse(stack, method, mid_hz * pow(10.0, step));
    }
    return tau / method->n_frequency;
}
