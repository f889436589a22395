/* Finite size of a pane: radiation efficiency of a rectangle on which a wave is forced.
 *
 * M. Villot, C. Guigou, L. Gagliardini, "Predicting the acoustical radiation of finite size
 * multi-layered structures by applying spatial windowing on infinite structures", J. Sound Vib. 245
 * (2001) 433-455; S. Rhazi, N. Atalla, "A simple method to account for size effects in the transfer
 * matrix method", J. Acoust. Soc. Am. 127 (2010) EL30-36 (both from memory): the power that a
 * baffled rectangle S radiates over that of an endless plate at normal incidence is
 *   sigma = (k/2 pi S) int int cos(kx (x - x')) sin(k r)/r dS dS',  tau_finite = tau sigma cos
 * theta. The double integral over differences of position is one over the rectangle's own
 * correlation; with the mean over all directions of the wave (Bessel's J0) it becomes (1) sigma = k
 * int w(r) J0(k r sin theta) sin(k r) dr with w the mean over all directions of the overlap of the
 * rectangle with itself shifted by r, over S: w(0) = 1. So sigma -> k2 S/(2 pi) for a small pane,
 * 1/cos theta for an endless one. The average runs to 90 degrees; a limiting angle on top would
 * count the size twice. Limits: baffled, no niche; forced waves only: the pane's own modes below
 * its critical frequency, which pass on more, are not in it. */
#include "acoustics/glazing/tmm.h"

enum { N_NODE = 5 };

/* int of (1 - (r/a) cos t)(1 - (r/b) sin t) dt. */
static double overlap_at(double r, double a, double b, double t) {
    return t - r / a * sin(t) + r / b * cos(t) + r * r / (2.0 * a * b) * sin(t) * sin(t);
}

static double overlap(double r, double a, double b) {
    double from = r > a ? acos(a / r) : 0.0, to = r > b ? asin(b / r) : 0.5 * GRADIN_PI;
    return to > from ? 2.0 / GRADIN_PI * (overlap_at(r, a, b, to) - overlap_at(r, a, b, from))
                     : 0.0;
}

typedef struct rectangle {
    double a, b, k, sine;
} rectangle;

/* Gauss's rule of five points on pieces of at most a radian of k r. */
static double integral(const rectangle *s, double from, double to) {
    static const double node[N_NODE] = {
        -0.906179845938663992797626878299, -0.538469310105683091036314420700, 0.0,
        0.538469310105683091036314420700, 0.906179845938663992797626878299};
    static const double weight[N_NODE] = {
        0.236926885056189087514264040720, 0.478628670499366468041291514836,
        0.568888888888888888888888888889, 0.478628670499366468041291514836,
        0.236926885056189087514264040720};
    int n = (int)ceil((to - from) * s->k) + 4;
    double half = 0.5 * (to - from) / n, sum = 0.0;
    for (int i = 0; i < n; i++)
        for (int j = 0; j < N_NODE; j++) {
            double r = from + half * (2 * i + 1 + node[j]);
            sum += weight[j] * overlap(r, s->a, s->b) * j0(s->k * r * s->sine) *
                   sin(s->k * r); /* (1) */
        }
    return sum * half;
}

double gradin_glazing_sigma(double width_m, double height_m, double k_radm, double sine) {
    rectangle s = {fmin(width_m, height_m), fmax(width_m, height_m), k_radm, sine};
    return k_radm *
           (integral(&s, 0.0, s.a) + integral(&s, s.a, s.b) + integral(&s, s.b, hypot(s.a, s.b)));
}

void gradin_glazing_spatial_window_make(double width_m, double height_m,
                                        glazing_spatial_window *window) {
    window->width_m = width_m;
    window->height_m = height_m;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double k = 2.0 * GRADIN_PI * gradin_band_mid_hz(b) / GRADIN_AIR_SPEED_MS;
        for (int i = 0; i <= GLAZING_N_ANGLE; i++) {
            double cosine = (double)(i * i) / (GLAZING_N_ANGLE * GLAZING_N_ANGLE);
            double sine = sqrt(1.0 - cosine * cosine);
            window->factor[b][i] =
                i ? cosine * gradin_glazing_sigma(width_m, height_m, k, sine) : 0.0;
        }
    }
}

double gradin_glazing_spatial_window_factor(const glazing_spatial_window *window, int band,
                                            double sine2) {
    double at = GLAZING_N_ANGLE * sqrt(sqrt(fmax(1.0 - sine2, 0.0)));
    int i = (int)fmin(at, GLAZING_N_ANGLE - 1);
    const double *factor = &window->factor[band][i];
    return factor[0] + (at - i) * (factor[1] - factor[0]);
}
