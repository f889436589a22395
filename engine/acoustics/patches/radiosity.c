/* Acoustic radiosity: diffusely reflecting patches in steady state.
 *
 * B = E + rho F B, here for the part that is sent back: b = rho/A (q + G b), with G_ij = A_i F_ij
 * e^(-m r_ij) and q the power that falls on the patches straight from the source. With b = s z,
 * s_i = sqrt(rho_i/A_i), it is (1) (I - s G s) z = s q, symmetric and positive definite as long as
 * anything absorbs, so Cholesky's factors serve at half the cost of LU. (Kuttruff, "Room
 * Acoustics", integral equation of the diffuse field; Goral et al. 1984.) Distances for the air are
 * those of the middles.
 *
 * States of a room differ in few patches (patches 2), the rest (patches 1) is the same in all. With
 * L L' = I - s1 G11 s1 and V = G21 s1 L'^-1, what is left for patches 2 is (2) I - s2 (G22 + V V')
 * s2: block elimination by the Schur complement (Golub and Van Loan, "Matrix Computations", 4th
 * ed., section 4.2.9). L, V and V V' serve all states. Without patches 2 this is plain Cholesky. */
#include "acoustics/patches/radiosity.h"
#include "gradin/acoustics.h"

#include <cblas.h>
#include <lapacke.h>
#include <string.h>

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

void gradin_radiosity_air_fill(const gradin_exchange *exchange, const gradin_patches *patches,
                               double air_1m, double *through_m2) {
    int n = exchange->n;
    for (int i = 0; i < n; i++)
        for (int j = i; j < n; j++)
            through_m2[(size_t)i * (size_t)n + (size_t)j] =
                gradin_radiosity_through_air_m2(exchange, patches, air_1m, i, j);
}

typedef struct parts {
    int n, n_same, n_other, n_source;
    double *l, *v, *k; /* L, V and G22 + V V' in the places of G11, G21 and G22; [.][n] */
    double *z;         /* [n_source][n] (L^-1 s1 q1, q2 + V L^-1 s1 q1) */
    double *schur;     /* [n_other][n_other] of one state */
    double *root;      /* [n] s */
} parts;

size_t gradin_radiosity_scratch(int n, int n_same, int n_source) {
    size_t n_other = (size_t)(n - n_same);
    return (size_t)n * ((size_t)n_source + 1) + n_other * n_other;
}

static parts parts_of(const gradin_radiosity *band) {
    size_t n = (size_t)band->n, n_same = (size_t)band->n_same;
    double *m = band->through_m2, *z = band->scratch, *root = z + n * (size_t)band->n_source;
    return (parts){.n = band->n,
                   .n_same = band->n_same,
                   .n_other = band->n - band->n_same,
                   .n_source = band->n_source,
                   .l = m,
                   .v = m + n_same,
                   .k = m + n_same * n + n_same,
                   .z = z,
                   .root = root,
                   .schur = root + n};
}

static void fill_roots(const gradin_radiosity *band, int state, double *root) {
    const double *alpha = band->alpha + (size_t)state * (size_t)band->n;
    for (int i = 0; i < band->n; i++) root[i] = sqrt((1.0 - alpha[i]) / band->area_m2[i]);
}

/* I - s1 G11 s1 of (1), and G21 s1. */
static void scale_same(const parts *p) {
    for (int i = 0; i < p->n_same; i++) {
        double *column = p->l + (size_t)i * (size_t)p->n;
        for (int j = i; j < p->n_same; j++) column[j] *= -p->root[i] * p->root[j];
        for (int j = p->n_same; j < p->n; j++) column[j] *= p->root[i];
        column[i] += 1.0;
    }
}

/* False when nothing absorbs. */
static bool factor_same(const parts *p) {
    int n = p->n, n_same = p->n_same, n_other = p->n_other;
    if (n_same == 0) return true;
    if (LAPACKE_dpotrf_work(LAPACK_COL_MAJOR, 'L', n_same, p->l, n) != 0) return false;
    if (n_other == 0) return true;
    cblas_dtrsm(CblasColMajor, CblasRight, CblasLower, CblasTrans, CblasNonUnit, n_other, n_same,
                1.0, p->l, n, p->v, n);
    cblas_dsyrk(CblasColMajor, CblasLower, CblasNoTrans, n_other, n_same, 1.0, p->v, n, 1.0, p->k,
                n);
    return true;
}

static void start_sources(const parts *p, const double *first) {
    int n = p->n, n_same = p->n_same;
    for (int k = 0; k < p->n_source; k++)
        for (int i = 0; i < n; i++) {
            size_t at = (size_t)k * (size_t)n + (size_t)i;
            p->z[at] = i < n_same ? p->root[i] * first[at] : first[at];
        }
    if (n_same == 0) return;
    cblas_dtrsm(CblasColMajor, CblasLeft, CblasLower, CblasNoTrans, CblasNonUnit, n_same,
                p->n_source, 1.0, p->l, n, p->z, n);
    if (p->n_other > 0)
        cblas_dgemm(CblasColMajor, CblasNoTrans, CblasNoTrans, p->n_other, p->n_source, n_same, 1.0,
                    p->v, n, p->z, n, 1.0, p->z + n_same, n);
}

/* emission[.][from .. to) times s. */
static void scale_rows(const parts *p, int from, int to, double *emission) {
    for (int k = 0; k < p->n_source; k++)
        for (int i = from; i < to; i++)
            emission[(size_t)k * (size_t)p->n + (size_t)i] *= p->root[i];
}

/* What patches 2 send back in one state by (2), in place of q2 + V L^-1 s1 q1. */
static bool solve_other(const parts *p, double *emission) {
    int n = p->n, n_same = p->n_same, n_other = p->n_other;
    if (n_other == 0) return true;
    for (int i = 0; i < n_other; i++) {
        double *column = p->schur + (size_t)i * (size_t)n_other;
        for (int j = i; j < n_other; j++)
            column[j] = -p->root[n_same + i] * p->root[n_same + j] *
                        p->k[(size_t)i * (size_t)n + (size_t)j];
        column[i] += 1.0;
    }
    scale_rows(p, n_same, n, emission);
    if (LAPACKE_dposv_work(LAPACK_COL_MAJOR, 'L', n_other, p->n_source, p->schur, n_other,
                           emission + n_same, n) != 0)
        return false;
    scale_rows(p, n_same, n, emission);
    return true;
}

static bool solve_state(const parts *p, double *emission) {
    int n = p->n, n_same = p->n_same;
    memcpy(emission, p->z, (size_t)n * (size_t)p->n_source * sizeof *emission);
    if (!solve_other(p, emission)) return false;
    if (n_same == 0) return true;
    if (p->n_other > 0)
        cblas_dgemm(CblasColMajor, CblasTrans, CblasNoTrans, n_same, p->n_source, p->n_other, 1.0,
                    p->v, n, emission + n_same, n, 1.0, emission, n);
    cblas_dtrsm(CblasColMajor, CblasLeft, CblasLower, CblasTrans, CblasNonUnit, n_same, p->n_source,
                1.0, p->l, n, emission, n);
    scale_rows(p, 0, n_same, emission);
    return true;
}

gradin_status gradin_radiosity_solve(const gradin_radiosity *band, gradin_error *error) {
    parts p = parts_of(band);
    fill_roots(band, 0, p.root);
    scale_same(&p);
    bool is_solved = factor_same(&p);
    if (is_solved) start_sources(&p, band->first);
    for (int state = 0; is_solved && state < band->n_state; state++) {
        fill_roots(band, state, p.root);
        is_solved = solve_state(&p, band->emission[state]);
    }
    if (is_solved) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_NUMERIC, NULL,
                            "the room's sound field has no finite solution: nothing absorbs");
}
