/* Composite sound reduction index of a facade and its standardised level difference.
 *
 * ISO 12354-3, eq. (10): R' = -10 lg[sum S_i/S tau_i + sum A0/S 10^(-Dn,e,i/10)]. D2m,nT in the
 * form of EN 12354-3:2000: R' + dL_fs + 10 lg(V/(6 T0 S)), T0 = 0.5 s (the 2017 edition writes
 * 0.16 V/(T0 S); equation number from memory). */
#include "gradin/acoustics.h"

static const double reference_reverberation_s = 0.5; /* T0 */

double gradin_composite_r_db(const double *part_tau_m2, int n, double area_m2) {
    double sum_m2 = 0.0;
    for (int i = 0; i < n; i++) sum_m2 += part_tau_m2[i];
    return -10.0 * log10(sum_m2 / area_m2); /* ISO 12354-3, (10) */
}

double gradin_d2m_nt_db(double r_db, double delta_l_fs_db, double volume_m3, double area_m2) {
    return r_db + delta_l_fs_db +
           10.0 * log10(volume_m3 / (6.0 * reference_reverberation_s * area_m2));
}
