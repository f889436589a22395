/* Times of R of 10,000 random build-ups x 21 bands, full average over the angles, on all cores, and
 * in the same run of some of them by the straightforward way: one dense linear system a wave
 * (amplitudes in every gap, continuity at every panel; LAPACK zgesv), every half degree. Prints how
 * far both lie from the average to six digits, without the path over the edge of sealed units,
 * which is in the first time only. The time of the second holds the averages as well: a per cent or
 * two.
 *
 * usage: bench_glazing [N_BUILDUP [N_DENSE]] */
#include "acoustics/glazing/tmm.h"

#include <lapacke.h>
#include <omp.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { MAX_UNKNOWN = 2 * GLAZING_MAX_PLY };

static unsigned long long state = 88172645463325252ULL;

static int below(int n) {
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return (int)(state % (unsigned long long)n);
}

static gradin_layer plate(void) {
    static const double mm[] = {3, 4, 5, 6, 8, 10, 12, 15, 19};
    return (gradin_layer){.kind = GRADIN_LAYER_PLATE,
                          .thickness_m = mm[below(9)] / 1000.0,
                          .density_kgm3 = GRADIN_GLASS_DENSITY_KGM3,
                          .young_pa = GRADIN_GLASS_YOUNG_PA,
                          .poisson = GRADIN_GLASS_POISSON,
                          .loss = GRADIN_GLASS_LOSS};
}

static glazing_stack random_stack(void) {
    glazing_stack stack;
    gradin_layer layer[GLAZING_MAX_LAYER];
    int n = 0, n_gap = below(3);
    for (int i = 0; i <= n_gap; i++) {
        if (i)
            layer[n++] = (gradin_layer){.kind = GRADIN_LAYER_GAP,
                                        .thickness_m = (6 + below(95)) / 1000.0,
                                        .density_kgm3 = GRADIN_AIR_DENSITY_KGM3,
                                        .speed_ms = GRADIN_AIR_SPEED_MS};
        layer[n++] = plate();
        if (below(2)) continue;
        layer[n++] = (gradin_layer){.kind = GRADIN_LAYER_INTERLAYER,
                                    .thickness_m = 0.00038 * (1 + below(4)),
                                    .density_kgm3 = GRADIN_PVB_DENSITY_KGM3,
                                    .relaxation = &gradin_pvb};
        layer[n++] = plate();
    }
    gradin_buildup buildup = {
        .name = "random", .layer = layer, .n_layer = n, .temperature_c = 20.0};
    if (gradin_glazing_stack(&buildup, &stack, NULL) != GRADIN_OK) exit(3);
    return stack;
}

static void put(lapack_complex_double *matrix, int n, int row, int column, double complex value) {
    matrix[column * n + row] = value;
}

/* Unknowns: reflected pressure, two waves a gap, transmitted pressure; for each panel the same
 * velocity on both sides and a pressure step of Z v. */
static double dense_tau(const glazing_stack *tuned, double sine2) {
    lapack_complex_double matrix[MAX_UNKNOWN * MAX_UNKNOWN] = {0}, right[MAX_UNKNOWN] = {0};
    lapack_int pivot[MAX_UNKNOWN];
    int n = 2 * tuned->n_panel; /* panel i is part 2 i, the gap behind it part 2 i + 1 */
    double w = 2.0 * GRADIN_PI * tuned->f_hz, k = w / GRADIN_AIR_SPEED_MS, kx = k * sqrt(sine2);
    double air = GRADIN_AIR_DENSITY_KGM3 * GRADIN_AIR_SPEED_MS / sqrt(1.0 - sine2);
    for (int i = 0; i < tuned->n_panel; i++) {
        const glazing_panel *panel = &tuned->part[2 * i].panel;
        double complex z =
            (gradin_glazing_stiffness(panel, kx, w) - w * w * panel->mass_kgm2) / (I * w);
        double complex p[2][2] = {{1, 1}, {1, 0}}, v[2][2] = {{1 / air, -1 / air}, {1 / air, 0}};
        for (int side = 0; side < 2; side++) {
            int g = i - 1 + side;
            if (g < 0 || g + 1 >= tuned->n_panel) continue;
            const glazing_fluid *gap = &tuned->part[2 * g + 1].fluid;
            double complex inertia = gap->inertia_pasm2;
            double complex kz = csqrt(gap->k2_1m2 - kx * kx * gap->lighter);
            double complex turn = side ? 1.0 : cexp(-I * kz * gap->thickness_m);
            p[side][0] = turn;
            p[side][1] = 1.0 / turn;
            v[side][0] = kz / inertia * turn;
            v[side][1] = -kz / inertia / turn;
        }
        for (int wave = 0; wave < 2; wave++) {
            int before = 2 * i - 1 + wave, after = 2 * i + 1 + wave;
            if (before >= 0) put(matrix, n, 2 * i, before, v[0][wave]);
            if (before >= 0) put(matrix, n, 2 * i + 1, before, p[0][wave] - z * v[0][wave]);
            if (after < n) put(matrix, n, 2 * i, after, -v[1][wave]);
            if (after < n) put(matrix, n, 2 * i + 1, after, -p[1][wave]);
        }
        if (i == 0) {
            right[0] = -v[0][0];
            right[1] = -(p[0][0] - z * v[0][0]);
        }
    }
    if (LAPACKE_zgesv(LAPACK_COL_MAJOR, n, 1, matrix, n, pivot, right, n) != 0) exit(3);
    return creal(right[n - 1]) * creal(right[n - 1]) + cimag(right[n - 1]) * cimag(right[n - 1]);
}

static double dense_band(const glazing_stack *stack, double mid_hz) {
    double tau = 0.0, weight = 0.0;
    int n_frequency = gradin_glazing_method.n_frequency;
    for (int i = 0; i < n_frequency; i++) {
        double f_hz = mid_hz * pow(10.0, 0.1 * ((i + 0.5) / n_frequency - 0.5));
        glazing_stack tuned;
        gradin_glazing_tune(stack, &gradin_glazing_method, f_hz, &tuned);
        for (double deg = 0.25; deg < gradin_glazing_method.limit_deg; deg += 0.5) {
            double angle = gradin_rad(deg), share = sin(2.0 * angle);
            tau += share * dense_tau(&tuned, sin(angle) * sin(angle));
            weight += share;
        }
    }
    return tau / weight;
}

static double cpu_s(void) {
    return (double)clock() / CLOCKS_PER_SEC;
}

int main(int n_argument, char **argument) {
    int n = n_argument > 1 ? atoi(argument[1]) : 10000,
        n_dense = n_argument > 2 ? atoi(argument[2]) : 20;
    glazing_stack *stack = calloc((size_t)n, sizeof *stack);
    double(*tau)[GRADIN_N_BAND] = calloc((size_t)n, sizeof *tau);
    glazing_method method = gradin_glazing_method;
    double worst_db = 0.0, sum_db = 0.0, quadrature_db = 0.0;
    if (!stack || !tau || n_dense > n) return 3;
    method.coupling = 0.0;
    glazing_method fine = method;
    fine.tolerance = 1e-6;
    for (int i = 0; i < n; i++) stack[i] = random_stack();
    double start_s = omp_get_wtime(), start_cpu_s = cpu_s(), dense_s = 0.0;
#pragma omp parallel for schedule(dynamic, 16)
    for (int i = 0; i < n; i++)
        for (int b = 0; b < GRADIN_N_BAND; b++)
            tau[i][b] =
                gradin_glazing_tau_band(&stack[i], &gradin_glazing_method, gradin_band_mid_hz(b));
    double fast_s = omp_get_wtime() - start_s, fast_cpu_s = cpu_s() - start_cpu_s;
    const gradin_buildup bare = {.n_layer = 0};
    glazing_method sized = gradin_glazing_mounted(&bare, gradin_glazing_sample());
    start_cpu_s = cpu_s();
    for (int i = 0; i < n_dense; i++)
        for (int b = 0; b < GRADIN_N_BAND; b++)
            gradin_glazing_tau_band(&stack[i], &sized, gradin_band_mid_hz(b));
    double sized_s = (cpu_s() - start_cpu_s) / n_dense;
    for (int i = 0; i < n_dense; i++)
        for (int b = 0; b < GRADIN_N_BAND; b++) {
            double mid_hz = gradin_band_mid_hz(b);
            double exact = gradin_glazing_tau_band(&stack[i], &fine, mid_hz);
            double ours = gradin_glazing_tau_band(&stack[i], &method, mid_hz);
            start_cpu_s = cpu_s();
            double dense = dense_band(&stack[i], mid_hz);
            dense_s += (cpu_s() - start_cpu_s) / n_dense * n;
            double apart_db = fabs(10.0 * log10(dense / exact));
            quadrature_db = fmax(quadrature_db, fabs(10.0 * log10(ours / exact)));
            worst_db = fmax(worst_db, apart_db);
            sum_db += apart_db;
        }
    printf("%d build-ups x %d bands: %.1f s on %d threads, %.1f s of processor time\n", n,
           GRADIN_N_BAND, fast_s, omp_get_max_threads(), fast_cpu_s);
    printf("a build-up at the size of the usual sample: %.0f ms\n", 1e3 * sized_s);
    printf("by dense systems, from %d of them: %.0f s of processor time, %.1f times as long\n",
           n_dense, dense_s, dense_s / fast_cpu_s);
    printf("from the exact average over the angles: ours %.3f dB at most, dense systems every half "
           "degree %.2f dB at most, %.3f dB on average\n",
           quadrature_db, worst_db, sum_db / n_dense / GRADIN_N_BAND);
    free(stack);
    free(tau);
    return 0;
}
