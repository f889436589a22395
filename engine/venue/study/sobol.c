/* Sobol's low-discrepancy sequence: N points fill a box more evenly than N drawn by chance.
 *
 * Bratley and Fox, "Algorithm 659", ACM TOMS 14 (1988): direction numbers by the recursion (1)
 * m_k = 2 a_1 m_{k-1} ^ ... ^ 2^s m_{k-s} ^ m_{k-s} of a primitive polynomial of degree s. Here
 * points come in their natural order, point i by the bits of i, not in that of the Gray code.
 * Polynomials and first numbers: Joe and Kuo, SIAM J. Sci. Comput. 30 (2008), new-joe-kuo-6.21201
 * (from memory; the tests hold them against an independent library). Unscrambled, with the point 0.
 * Limits: 16 dimensions, 2^31 points; evenest where the count is a power of two. */
#include "gradin/study.h"

enum { N_BIT = 31, MOST_DEGREE = 6 };

typedef struct polynomial {
    int degree;
    unsigned inner; /* coefficients between the first and the last */
    uint32_t first[MOST_DEGREE];
} polynomial;

/* Of dimension 1 on; dimension 0 is van der Corput's sequence. */
static const polynomial of_dimension[GRADIN_MAX_VARIED - 1] = {{1, 0, {1}},
                                                               {2, 1, {1, 3}},
                                                               {3, 1, {1, 3, 1}},
                                                               {3, 2, {1, 1, 1}},
                                                               {4, 1, {1, 1, 3, 3}},
                                                               {4, 4, {1, 3, 5, 13}},
                                                               {5, 2, {1, 1, 5, 5, 17}},
                                                               {5, 4, {1, 1, 5, 5, 5}},
                                                               {5, 7, {1, 1, 7, 11, 19}},
                                                               {5, 11, {1, 1, 5, 1, 1}},
                                                               {5, 13, {1, 1, 1, 3, 11}},
                                                               {5, 14, {1, 3, 5, 5, 31}},
                                                               {6, 1, {1, 3, 3, 9, 7, 49}},
                                                               {6, 13, {1, 1, 1, 15, 21, 21}},
                                                               {6, 16, {1, 3, 1, 13, 27, 49}}};

/* (1) */
static void directions(const polynomial *p, uint32_t m[N_BIT]) {
    for (int k = 0; k < N_BIT; k++) {
        if (k < p->degree) {
            m[k] = p->first[k];
            continue;
        }
        m[k] = m[k - p->degree] ^ (m[k - p->degree] << p->degree);
        for (int j = 1; j < p->degree; j++)
            if ((p->inner >> (p->degree - 1 - j)) & 1U) m[k] ^= m[k - j] << j;
    }
}

double gradin_sobol(int point, int dimension) {
    uint32_t m[N_BIT], sum = 0;
    if (point < 0 || dimension < 0 || dimension >= GRADIN_MAX_VARIED) return NAN;
    if (dimension > 0) directions(&of_dimension[dimension - 1], m);
    for (int k = 0; k < N_BIT; k++)
        if (((uint32_t)point >> k) & 1U) sum ^= (dimension > 0 ? m[k] : 1U) << (N_BIT - 1 - k);
    return (double)sum / (double)(1U << N_BIT);
}
