/* Polyvinyl butyral (PVB), the usual interlayer of laminated glass.
 *
 * Shares, times and shift: F. Pelayo et al., "Study of the time-temperature-dependent behaviour of
 * PVB: application to laminated glass elements", Thin-Walled Structures 119 (2017) 324-331, all
 * from memory; the instantaneous modulus, 0.39 GPa, is the least certain of them (Young's modulus
 * near 1.1 GPa with a bulk modulus of 2 GPa). reference/pvb holds two other published
 * descriptions beside it; test_prony.c says how far the three lie apart. */
#include "gradin/buildup.h"

const gradin_relaxation gradin_pvb = {
    .n_term = 13,
    .instant_pa = 0.39e9,
    .share = {0.2342151953, 0.2137793134, 0.1745500419, 0.1195345045, 0.1362133454, 0.0684065631,
              0.0414394418, 0.0072519528, 0.0028254596, 0.0002712854, 0.0004293523, 0.0000980473,
              0.0005274937},
    .time_s = {2.366e-7, 2.2643e-6, 2.1668e-5, 2.0735e-4, 1.9843e-3, 1.8987e-2, 1.8166e-1, 1.7391,
               1.6643e1, 1.5926e2, 1.524e3, 1.4583e4, 1.3956e5},
    .wlf_c1 = 12.60,
    .wlf_c2_k = 74.46,
    .reference_c = 20.0};
