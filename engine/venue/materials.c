/* Polyvinyl butyral (PVB), the usual interlayer of laminated glass.
 *
 * Shares, times, shift and modulus: a chain attributed to F. Pelayo et al., "Study of the
 * time-temperature-dependent behaviour of PVB: application to laminated glass elements",
 * Thin-Walled Structures 119 (2017) 324-331 (second-hand copy: reference/pvb). The shares leave
 * 0.046 %, which the sum of its moduli, 424.747 MPa, holds as the modulus of slow strain.
 * reference/pvb holds two other published descriptions beside it; test_prony.c says how far the
 * three lie apart. */
#include "gradin/acoustics/buildup.h"

const gradin_relaxation gradin_pvb = {
    .n_term = 13,
    .instant_pa = 424.747e6,
    .share = {0.2342151953, 0.2137793134, 0.1745500419, 0.1362133454, 0.1195345045, 0.0684065631,
              0.0414394418, 0.0072519528, 0.0028254596, 0.0005274937, 0.0004293523, 0.0002712854,
              0.0000980473},
    .time_s = {2.366e-07, 2.2643e-06, 2.16668e-05, 2.073273e-04, 1.9838958e-03, 1.89837195e-02,
               1.816534983e-01, 1.7382259321, 16.6329270788, 159.1589781894, 1522.9778990967,
               14573.2380763177, 139450},
    .wlf_c1 = 12.60,
    .wlf_c2_k = 74.46,
    .reference_c = 20.0};
