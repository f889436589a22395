/* Acoustic radiosity: diffusely reflecting patches in steady state.
 *
 * B = E + rho F B, here for the part that is sent back: b = rho/A (q + G b), with G_ij = A_i F_ij
 * e^(-m r_ij) and q the power that falls on the patches straight from the source. With b = s z,
 * s_i = sqrt(rho_i/A_i), it is (I - s G s) z = s q, symmetric and positive definite as long as
 * anything absorbs, so Cholesky's factors serve at half the cost of LU. (Kuttruff, "Room
 * Acoustics", integral equation of the diffuse field; Goral et al. 1984.) Distances for the air are
 * those of the middles. */
#include "acoustics/room/radiosity.h"

#include <cblas.h>
#include <lapacke.h>

int gradin_blas_single(void) {
    int before = openblas_get_num_threads();
    openblas_set_num_threads(1);
    return before;
}

void gradin_blas_restore(int n_thread) {
    openblas_set_num_threads(n_thread);
}

double gradin_radiosity_through_air_m2(const gradin_exchange *exchange,
                                       const gradin_patches *patches, double air_1m, int i, int j) {
    double straight_m2 = exchange->exchange_m2[(size_t)i * (size_t)exchange->n + (size_t)j];
    if (air_1m == 0.0 || straight_m2 == 0.0) return straight_m2;
    double apart_m =
        gradin_norm(gradin_sub(patches->patch[j].middle_m, patches->patch[i].middle_m));
    return straight_m2 * exp(-air_1m * apart_m);
}

static void fill_system(const gradin_exchange *exchange, const gradin_patches *patches,
                        const double *root, double air_1m, double *m) {
    int n = exchange->n;
    for (int i = 0; i < n; i++) {
        for (int j = i; j < n; j++)
            m[(size_t)i * (size_t)n + (size_t)j] =
                -root[i] * root[j] *
                gradin_radiosity_through_air_m2(exchange, patches, air_1m, i, j);
        m[(size_t)i * (size_t)n + (size_t)i] += 1.0;
    }
}

gradin_status gradin_radiosity_solve(const gradin_exchange *exchange, const gradin_patches *patches,
                                     const double *alpha, double air_1m, const double *first,
                                     int n_source, double *leaving, double *work,
                                     gradin_error *error) {
    int n = exchange->n;
    double *m = work, *root = work + (size_t)n * (size_t)n;
    for (int i = 0; i < n; i++) root[i] = sqrt((1.0 - alpha[i]) / exchange->area_m2[i]);
    fill_system(exchange, patches, root, air_1m, m);
    for (int k = 0; k < n_source; k++)
        for (int i = 0; i < n; i++)
            leaving[(size_t)k * (size_t)n + (size_t)i] =
                root[i] * first[(size_t)k * (size_t)n + (size_t)i];
    /* the upper half of rows is the lower half of columns */
    lapack_int failed = LAPACKE_dposv(LAPACK_COL_MAJOR, 'L', n, n_source, m, n, leaving, n);
    if (failed != 0)
        return gradin_error_add(error, GRADIN_NUMERIC, NULL,
                                "the room's sound field has no finite solution: nothing absorbs");
    for (int k = 0; k < n_source; k++)
        for (int i = 0; i < n; i++) leaving[(size_t)k * (size_t)n + (size_t)i] *= root[i];
    return GRADIN_OK;
}
