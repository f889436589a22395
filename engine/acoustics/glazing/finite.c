/* Finite size of a pane: how well waves along a rectangle radiate and are excited.
 *
 * M. Villot, C. Guigou, L. Gagliardini, "Predicting the acoustical radiation of finite size
 * multi-layered structures by applying spatial windowing on infinite structures", J. Sound Vib. 245
 * (2001) 433-455; S. Rhazi, N. Atalla, "A simple method to account for size effects in the transfer
 * matrix method", J. Acoust. Soc. Am. 127 (2010) EL30-36 (both from memory): the power that a
 * baffled rectangle S radiates over that of an endless plate at normal incidence is
 *   sigma = (k/2 pi S) int int cos(kx (x - x')) sin(k r)/r dS dS'
 * The double integral over differences of position is one over the rectangle's own correlation;
 * with the mean over all directions of the wave (Bessel's J0) it becomes
 *   sigma = k int w(r) J0(k r s) sin(k r) dr,  s = kx/k
 * with w the mean over all directions of the overlap of the rectangle with itself shifted by r,
 * over S: w(0) = 1. So sigma -> k2 S/(2 pi) for a small pane, 1/cos theta for an endless one.
 *
 * Weight of s in diffuse incidence. A pane forced by a wave moves at that wave's s < 1 and passes
 * on sigma: its mean is int 2 sin(theta) sigma dtheta. What runs free at s, below coincidence with
 * s > 1, takes in and radiates by the same sigma (reciprocity), so sigma2: the resonant part of
 * statistical energy analysis (EN 12354-1 Annex B, from memory), whose sigma this one follows.
 * Taken together: sigma min(1/cos theta, sigma) up to s = 1, sigma2 beyond, with one factor on the
 * first so that a limp pane keeps its exact mean. Limits: baffled; mean over the directions. */
#include "acoustics/glazing/tmm.h"

enum { N_NODE = 5, MAX_NODE = 24000, MAX_BESSEL = 12000, N_LAST = 6 };

static const double air_pasm = GRADIN_AIR_DENSITY_KGM3 * GRADIN_AIR_SPEED_MS;

/* int of (1 - (r/a) cos t)(1 - (r/b) sin t) dt. */
static double overlap_at(double r, double a, double b, double t) {
    return t - r / a * sin(t) + r / b * cos(t) + r * r / (2.0 * a * b) * sin(t) * sin(t);
}

static double overlap(double r, double a, double b) {
    double from = r > a ? acos(a / r) : 0.0, to = r > b ? asin(b / r) : 0.5 * GRADIN_PI;
    return to > from ? 2.0 / GRADIN_PI * (overlap_at(r, a, b, to) - overlap_at(r, a, b, from))
                     : 0.0;
}

/* Nodes of distance for one band: r and k w(r) sin(k r) times the weight of the rule. */
typedef struct distances {
    int n;
    double k_radm, r_m[MAX_NODE], part[MAX_NODE];
} distances;

/* Gauss's rule of five points on pieces of at most three radians of what oscillates. */
static void add_piece(distances *d, double a, double b, double from, double to, double most) {
    static const double node[N_NODE] = {
        -0.906179845938663992797626878299, -0.538469310105683091036314420700, 0.0,
        0.538469310105683091036314420700, 0.906179845938663992797626878299};
    static const double weight[N_NODE] = {
        0.236926885056189087514264040720, 0.478628670499366468041291514836,
        0.568888888888888888888888888889, 0.478628670499366468041291514836,
        0.236926885056189087514264040720};
    int n = (int)fmin(ceil((to - from) * d->k_radm * (1.0 + most) / 3.0) + 4.0,
                      (MAX_NODE - d->n) / N_NODE);
    double half = 0.5 * (to - from) / n;
    for (int i = 0; i < n; i++)
        for (int j = 0; j < N_NODE; j++) {
            double r = from + half * (2 * i + 1 + node[j]);
            d->r_m[d->n] = r;
            d->part[d->n++] = d->k_radm * half * weight[j] * overlap(r, a, b) * sin(d->k_radm * r);
        }
}

static void find_distances(double width_m, double height_m, double k_radm, double most,
                           distances *d) {
    double a = fmin(width_m, height_m), b = fmax(width_m, height_m);
    d->n = 0;
    d->k_radm = k_radm;
    add_piece(d, a, b, 0.0, a, most);
    if (b > a) add_piece(d, a, b, a, b, most);
    add_piece(d, a, b, b, hypot(a, b), most);
}

/* J0 and its slope at even steps, to be read by Hermite's cubic: within h^4/384 = 3e-7. */
typedef struct bessel {
    int n;
    double value[MAX_BESSEL], slope[MAX_BESSEL];
} bessel;

static const double bessel_step = 0.1;

static void fill_bessel(bessel *table, double most) {
    double n = ceil(most / bessel_step) + 2.0;
    table->n = n < MAX_BESSEL ? (int)n : 0; /* 0: too long, J0 itself is asked */
    for (int i = 0; i < table->n; i++) {
        table->value[i] = j0(i * bessel_step);
        table->slope[i] = -bessel_step * j1(i * bessel_step);
    }
}

static double bessel_at(const bessel *table, double x) {
    if (!table || table->n == 0) return j0(x);
    double at = x / bessel_step;
    int i = (int)at;
    double t = at - i, u = 1.0 - t, a = table->value[i], b = table->value[i + 1];
    return u * u * ((1.0 + 2.0 * t) * a + t * table->slope[i]) +
           t * t * ((3.0 - 2.0 * t) * b - u * table->slope[i + 1]);
}

static double sigma_of(const distances *d, const bessel *table, double s) {
    double sum = 0.0, ks = d->k_radm * s;
    for (int i = 0; i < d->n; i++) sum += d->part[i] * bessel_at(table, ks * d->r_m[i]);
    return sum;
}

double gradin_glazing_sigma(double width_m, double height_m, double k_radm, double s) {
    distances d;
    find_distances(width_m, height_m, k_radm, s, &d);
    return sigma_of(&d, NULL, s);
}

/* A band's largest s: beyond the free waves of 2 mm of glass. */
static double largest_s(double f_hz) {
    return fmin(fmax(1.5, 1.2 * sqrt(6300.0 / f_hz)), 12.0);
}

/* Nodes: cos theta = (1 - i/N)2 up to grazing, then s rising with the cube from 1. */
static double cosine_at(int i) {
    double t = 1.0 - (double)i / GLAZING_N_ANGLE;
    return t * t;
}

static double beyond_at(double most, int i) {
    double t = (double)i / GLAZING_N_ANGLE;
    return 1.0 + (most - 1.0) * t * t * t;
}

/* Factor of the weights up to grazing: by the trapezium rule in the nodes' own variable. */
static double forced_factor(const double *sigma, double most) {
    double whole = 0.0, capped = 0.0, free = 0.0, step = 1.0 / GLAZING_N_ANGLE;
    for (int i = 0; i <= GLAZING_N_ANGLE; i++) {
        double cosine = cosine_at(i), t = sqrt(cosine), half = i % GLAZING_N_ANGLE ? 1.0 : 0.5;
        double u = (double)i / GLAZING_N_ANGLE, beyond = sigma[GLAZING_N_ANGLE + i];
        whole += half * step * 4.0 * t * sigma[i];
        capped += half * step * 4.0 * t * fmin(1.0, sigma[i] * cosine) * sigma[i];
        free +=
            half * step * beyond * beyond * 2.0 * beyond_at(most, i) * (most - 1.0) * 3.0 * u * u;
    }
    return fmax(whole - free, 0.0) / capped;
}

static void fill_band(glazing_spatial_window *window, int band) {
    distances d;
    bessel table;
    double f_hz = gradin_band_mid_hz(band), most = largest_s(f_hz);
    double *sigma = window->sigma[band], *weight = window->weight[band];
    window->most[band] = most;
    find_distances(window->width_m, window->height_m, 2.0 * GRADIN_PI * f_hz / GRADIN_AIR_SPEED_MS,
                   most, &d);
    fill_bessel(&table, d.k_radm * most * hypot(window->width_m, window->height_m));
    for (int i = 0; i <= 2 * GLAZING_N_ANGLE; i++) {
        double s = i > GLAZING_N_ANGLE ? beyond_at(most, i - GLAZING_N_ANGLE)
                                       : sqrt(1.0 - cosine_at(i) * cosine_at(i));
        sigma[i] = fmax(sigma_of(&d, &table, s), 1e-9);
    }
    double factor = forced_factor(sigma, most);
    for (int i = 0; i <= 2 * GLAZING_N_ANGLE; i++)
        weight[i] = i < GLAZING_N_ANGLE ? factor * sigma[i] * fmin(1.0 / cosine_at(i), sigma[i])
                                        : sigma[i] * sigma[i];
}

/* The windows of a thread's last sizes: a facade has few, and each is asked for by every build-up.
 */
typedef struct last_windows {
    glazing_spatial_window window[N_LAST];
    int n, next;
} last_windows;

static _Thread_local last_windows last;

static const glazing_spatial_window *find_last(double width_m, double height_m) {
    for (int i = 0; i < last.n; i++)
        if (last.window[i].width_m == width_m && last.window[i].height_m == height_m)
            return &last.window[i];
    return NULL;
}

void gradin_glazing_spatial_window_make(double width_m, double height_m,
                                        glazing_spatial_window *window) {
    const glazing_spatial_window *found = find_last(width_m, height_m);
    if (found) {
        *window = *found;
        return;
    }
    window->width_m = width_m;
    window->height_m = height_m;
    for (int b = 0; b < GRADIN_N_BAND; b++) fill_band(window, b);
    last.window[last.next] = *window;
    last.next = (last.next + 1) % N_LAST;
    if (last.n < N_LAST) last.n++;
}

static double between(const double *value, double at) {
    int i = (int)fmin(at, 2 * GLAZING_N_ANGLE - 1);
    return value[i] + (at - i) * (value[i + 1] - value[i]);
}

glazing_share gradin_glazing_spatial_window_at(const glazing_spatial_window *window, int band,
                                               double s2) {
    double most = window->most[band], at;
    if (s2 <= 1.0)
        at = GLAZING_N_ANGLE * (1.0 - sqrt(sqrt(1.0 - s2)));
    else
        at = GLAZING_N_ANGLE * (1.0 + fmin(cbrt((sqrt(s2) - 1.0) / (most - 1.0)), 1.0));
    double sigma = between(window->sigma[band], at);
    return (glazing_share){sigma, between(window->weight[band], at), air_pasm * sigma};
}
