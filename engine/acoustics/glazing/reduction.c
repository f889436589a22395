/* Sound reduction index of a build-up at diffuse incidence, in thirds.
 *
 * tau = int tau(theta) sin 2 theta / int sin 2 theta from 0 to a limiting angle (field incidence;
 * 78 degrees is common practice, from memory), by Gauss-Legendre panels; the value of a band is the
 * mean of tau over frequencies that divide it evenly on a logarithmic scale, as a test with
 * band-limited noise would give. Measured values are returned as they are.
 *
 * Agreement with published tables: tests/unit/acoustics/test_glazing.c. */
#include "acoustics/glazing/stack.h"

enum { N_PANEL = 30, N_NODE = 6, N_ANGLE = N_PANEL * N_NODE, N_FREQUENCY = 12 };

static const double limit_deg = 78.0;

typedef struct angles {
    double theta_rad[N_ANGLE], weight[N_ANGLE]; /* weights sum to 1 */
} angles;

static void fill_angles(angles *a) {
    /* Gauss-Legendre with 6 nodes, Abramowitz and Stegun, Table 25.4 */
    static const double node[N_NODE / 2] = {0.2386191860831969, 0.6612093864662645,
                                            0.9324695142031521};
    static const double weight[N_NODE / 2] = {0.4679139345726910, 0.3607615730481386,
                                              0.1713244923791704};
    double limit_rad = gradin_rad(limit_deg), half_rad = limit_rad / (2 * N_PANEL), sum = 0.0;
    for (int i = 0; i < N_ANGLE; i++) {
        int n = i % N_NODE, pair = n / 2;
        double middle_rad = (2 * (i / N_NODE) + 1) * half_rad;
        a->theta_rad[i] = middle_rad + (n % 2 ? half_rad : -half_rad) * node[pair];
        a->weight[i] = weight[pair] * sin(2.0 * a->theta_rad[i]);
        sum += a->weight[i];
    }
    for (int i = 0; i < N_ANGLE; i++) a->weight[i] /= sum;
}

static double band_tau(const gradin_stack *stack, const angles *a, double mid_hz) {
    double sum = 0.0;
    for (int k = 0; k < N_FREQUENCY; k++) {
        double f_hz = mid_hz * pow(10.0, 0.1 * ((k + 0.5) / N_FREQUENCY - 0.5));
        for (int i = 0; i < N_ANGLE; i++)
            sum += a->weight[i] * gradin_stack_tau(stack, a->theta_rad[i], f_hz);
    }
    return sum / N_FREQUENCY;
}

gradin_status gradin_glazing_r_db(const gradin_buildup *buildup, double *r_db,
                                  gradin_error *error) {
    if (!buildup || !r_db)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "a reduction index needs a build-up and room for its result");
    if (buildup->is_measured) {
        for (int b = 0; b < GRADIN_N_BAND; b++) r_db[b] = buildup->measured_r_db[b];
        return GRADIN_OK;
    }
    gradin_stack stack;
    gradin_status status = gradin_stack_make(buildup, &stack, error);
    if (status != GRADIN_OK) return status;
    angles a;
    fill_angles(&a);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double tau = band_tau(&stack, &a, gradin_band_mid_hz(b));
        r_db[b] = tau < 1.0 ? -10.0 * log10(tau) : 0.0;
        if (!isfinite(r_db[b]))
            return gradin_error_add(error, GRADIN_NUMERIC, NULL,
                                    "build-up %s: its reduction index is not a finite number",
                                    buildup->name ? buildup->name : "without a name");
    }
    return GRADIN_OK;
}
