/* Sound reduction of a pane by the angle of a plane wave.
 *
 * Of a wave of intensity I the pane passes I S q(theta); R(theta) = -10 lg(q/cos theta), S cos
 * theta being what a plane wave brings. As in finite.c the pane moves at the wave's own sine s,
 * radiates by sigma(s) and meets tau/sigma2 of its layers; coincidence is blurred by the pane's
 * size, pi/(k L) of s each way, L the mean chord pi S/U of the pane; what slow free waves add in
 * diffuse incidence is spread over all angles by sigma. The curve over the angle is then scaled so
 * that its diffuse mean, int 2 q sin(theta) dtheta, is the diffuse tau: the predicted one of the
 * build-up with its frames, or the measured one where there is a measurement. With layers unknown
 * the shape is that of a limp sheet of 25 kg/m2, which the mass hardly changes. q stays finite at
 * grazing, where a pane without size would pass all or nothing. Limits: mean over the directions
 * along the pane; no reveal shades it. */
#include "acoustics/glazing/tmm.h"
#include "gradin/acoustics/glazing.h"

enum { N_TABLE = GRADIN_N_OBLIQUE, N_BLUR_FREQUENCY = 4 };

static const double unknown_kgm2 = 25.0;

enum { N_ALONG = GRADIN_N_ALONG };

/* Table nodes: even steps of theta from 0 to 90 degrees. */
static double angle_at(int i) {
    return 0.5 * GRADIN_PI * i / (N_TABLE - 1);
}

static double blur_of(const glazing_spatial_window *window, double f_hz) {
    double chord_m = GRADIN_PI / gradin_glazing_rim_1m(window);
    return GRADIN_PI / (2.0 * GRADIN_PI * f_hz / GRADIN_AIR_SPEED_MS * chord_m);
}

/* q at the nodes of the table, one frequency, added up. */
static void add_shape(const glazing_stack *tuned, const glazing_method *method, int band,
                      double *q) {
    glazing_span all = gradin_glazing_all(tuned);
    double blur = blur_of(method->window, tuned->f_hz), most = method->window->most[band];
    double slow = gradin_glazing_tuned_slow(tuned, all, method), forced = 0.0;
    for (int i = 0; i < N_TABLE; i++) {
        double weight = (i > 0 && i + 1 < N_TABLE ? 1.0 : 0.5) * 0.5 * GRADIN_PI / (N_TABLE - 1);
        double s = sin(angle_at(i));
        forced +=
            2.0 * s * weight * gradin_glazing_spatial_window_at(method->window, band, s * s).sigma;
    }
    for (int i = 0; i < N_TABLE; i++) {
        double s = sin(angle_at(i)), low = fmax(s - blur, 0.0), high = fmin(s + blur, most);
        double mean = gradin_glazing_tuned_mean(tuned, all, method, low * low, high * high);
        q[i] += gradin_glazing_spatial_window_at(method->window, band, s * s).sigma *
                (mean + slow / forced);
    }
}

/* int 2 q sin(theta) dtheta by the trapezium rule. */
static double diffuse_of(const double *q) {
    double sum = 0.0;
    for (int i = 0; i < N_TABLE; i++)
        sum += (i > 0 && i + 1 < N_TABLE ? 1.0 : 0.5) * 2.0 * q[i] * sin(angle_at(i));
    return sum * 0.5 * GRADIN_PI / (N_TABLE - 1);
}

/* Scaled to a diffuse mean of 1; false when it leaves the finite numbers. */
static bool find_band(const glazing_stack *stack, const glazing_method *method, int band,
                      double *q) {
    for (int i = 0; i < N_TABLE; i++) q[i] = 0.0;
    for (int k = 0; k < N_BLUR_FREQUENCY; k++) {
        glazing_stack tuned;
        double step = 0.1 * ((k + 0.5) / N_BLUR_FREQUENCY - 0.5);
        gradin_glazing_tune(stack, method, gradin_band_mid_hz(band) * pow(10.0, step), &tuned);
        add_shape(&tuned, method, band, q);
    }
    double scale = 1.0 / diffuse_of(q);
    for (int i = 0; i < N_TABLE; i++) q[i] *= scale;
    return isfinite(scale);
}

static double sinc2(double x) {
    double y = fabs(x) > 1e-6 ? sin(x) / x : 1.0;
    return y * y;
}

static double strip_sigma(double kl, double s) {
    int n = (int)ceil(2.0 * kl) + 64;
    double sum = 0.0;
    for (int i = 0; i < n; i++)
        sum += sinc2(0.5 * kl * (sin(GRADIN_PI * ((i + 0.5) / n - 0.5)) - s));
    return 0.5 * kl * sum / n;
}

/* Weight of a direction in the trapezium rule from along the width to along the height. */
static double along_weight(int j) {
    return (j > 0 && j + 1 < N_ALONG ? 1.0 : 0.5) / (N_ALONG - 1);
}

static void find_along(double width_m, double height_m, int band, gradin_oblique *oblique) {
    double k_radm = 2.0 * GRADIN_PI * gradin_band_mid_hz(band) / GRADIN_AIR_SPEED_MS;
    for (int i = 0; i < N_TABLE; i++) {
        double mean = 0.0, *along = oblique->along[band][i];
        for (int j = 0; j < N_ALONG; j++) {
            double phi = 0.5 * GRADIN_PI * j / (N_ALONG - 1);
            double chord_m = width_m * height_m / (width_m * sin(phi) + height_m * cos(phi));
            along[j] = strip_sigma(k_radm * chord_m, sin(angle_at(i)));
            mean += along_weight(j) * along[j];
        }
        for (int j = 0; j < N_ALONG; j++) along[j] /= mean;
    }
}

static gradin_status check_use(const gradin_buildup *buildup, const gradin_oblique *oblique,
                               double width_m, double height_m, gradin_error *error) {
    if (buildup && oblique && width_m > 0.0 && height_m > 0.0) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a build-up and a size are needed");
}

static gradin_status find_shape(const gradin_buildup *buildup, const glazing_spatial_window *window,
                                gradin_oblique *oblique, gradin_error *error) {
    glazing_stack stack;
    const gradin_layer limp = {
        .kind = GRADIN_LAYER_PLATE, .thickness_m = 0.01, .density_kgm3 = unknown_kgm2 / 0.01};
    gradin_buildup shape = *buildup;
    if (!shape.layer) shape.layer = &limp, shape.n_layer = 1;
    gradin_status status = gradin_glazing_stack(&shape, &stack, error);
    if (status != GRADIN_OK) return status;
    glazing_method method = gradin_glazing_mounted(&shape, window);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        if (!find_band(&stack, &method, b, oblique->passed[b]))
            return gradin_error_add(error, GRADIN_NUMERIC, NULL,
                                    "build-up %s leaves the finite numbers",
                                    buildup->name ? buildup->name : "");
    return GRADIN_OK;
}

gradin_status gradin_oblique_shape(const gradin_buildup *buildup, double width_m, double height_m,
                                   gradin_oblique *oblique, gradin_error *error) {
    glazing_spatial_window window;
    gradin_status status = check_use(buildup, oblique, width_m, height_m, error);
    if (status != GRADIN_OK) return status;
    gradin_glazing_spatial_window_make(width_m, height_m, &window);
    return find_shape(buildup, &window, oblique, error);
}

gradin_status gradin_oblique_make(const gradin_buildup *buildup, double width_m, double height_m,
                                  gradin_oblique *oblique, gradin_error *error) {
    glazing_spatial_window window;
    double r_db[GRADIN_N_BAND];
    gradin_status status = check_use(buildup, oblique, width_m, height_m, error);
    if (status != GRADIN_OK) return status;
    gradin_glazing_spatial_window_make(width_m, height_m, &window);
    status = find_shape(buildup, &window, oblique, error);
    if (status == GRADIN_OK) status = gradin_glazing_r_in_window(buildup, &window, r_db, error);
    for (int b = 0; status == GRADIN_OK && b < GRADIN_N_BAND; b++) {
        double tau = pow(10.0, -0.1 * r_db[b]);
        for (int i = 0; i < N_TABLE; i++) oblique->passed[b][i] *= tau;
        find_along(width_m, height_m, b, oblique);
    }
    return status;
}

/* Place of a value between 0 and pi/2 in a table of n, its whole part in *i. */
static double place(double rad, int n, int *i) {
    double at = fmin(fmax(rad, 0.0) / (0.5 * GRADIN_PI), 1.0) * (n - 1);
    *i = (int)fmin(at, n - 2);
    return at - *i;
}

double gradin_oblique_passed(const gradin_oblique *oblique, int band, double angle_rad,
                             double along_rad) {
    int i, j;
    if (!oblique || band < 0 || band >= GRADIN_N_BAND) return NAN;
    double part = place(angle_rad, N_TABLE, &i);
    const double *q = oblique->passed[band];
    double mean = q[i] + part * (q[i + 1] - q[i]);
    if (isnan(along_rad)) return mean;
    double turn = fabs(remainder(along_rad, GRADIN_PI)), side = place(turn, N_ALONG, &j);
    const double *low = oblique->along[band][i], *high = oblique->along[band][i + 1];
    double at_low = low[j] + side * (low[j + 1] - low[j]);
    double at_high = high[j] + side * (high[j + 1] - high[j]);
    return mean * (at_low + part * (at_high - at_low));
}

double gradin_oblique_r_db(const gradin_oblique *oblique, int band, double angle_rad,
                           double along_rad) {
    return -10.0 *
           log10(gradin_oblique_passed(oblique, band, angle_rad, along_rad) / cos(angle_rad));
}
