/* Field measurements of a facade.
 *
 * ISO 16283-3:2016 (from memory, numbers our own): (1) R'45 = L1,s - L2 + 10 lg(S/A) - 1.5 with a
 * loudspeaker at 45 degrees, (2) R'tr,s the same with - 3 for traffic from all angles, (3) D2m,nT =
 * L1,2m - L2 + 10 lg(T/T0), T0 = 0.5 s. Plane wave: the element passes on I S cos(theta) tau
 * of an intensity I = p2/(rho c), and a diffuse room holds p2 = 4 rho c W/A, so that
 *   (4) L2 = Lff - R_theta + 10 lg(4 S cos(theta)/A).
 * With the surface level L1,s = Lff + 6 it gives back R_45 to 0.02 dB. Limits: diffuse room;
 * levels with background noise removed. */
#include "gradin/glazing.h"

static const double reference_reverberation_s = 0.5; /* T0 */

static double surface_r_db(double l1s_db, double l2_db, double s_m2, double area_room_m2) {
    return l1s_db - l2_db + 10.0 * log10(s_m2 / area_room_m2);
}

double gradin_r45_db(double l1s_db, double l2_db, double s_m2, double area_room_m2) {
    return surface_r_db(l1s_db, l2_db, s_m2, area_room_m2) - 1.5; /* (1) */
}

double gradin_rtr_db(double l1s_db, double l2_db, double s_m2, double area_room_m2) {
    return surface_r_db(l1s_db, l2_db, s_m2, area_room_m2) - 3.0; /* (2) */
}

double gradin_d2m_nt_levels_db(double l1_2m_db, double l2_db, double reverberation_s) {
    return l1_2m_db - l2_db + 10.0 * log10(reverberation_s / reference_reverberation_s); /* (3) */
}

double gradin_plane_wave_room_db(double lff_db, double r_theta_db, double angle_deg, double s_m2,
                                 double area_room_m2) {
    return lff_db - r_theta_db +
           10.0 * log10(4.0 * s_m2 * cos(gradin_rad(angle_deg)) / area_room_m2); /* (4) */
}
