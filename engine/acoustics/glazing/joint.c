/* A pane with a joint round it: the joint's reduction index is per metre, reference length 1 m, so
 * tau = tau_pane + l/S 10^(-Rs/10) (ISO 12354-3, 4.2 and Annex B, from memory). */
#include "gradin/acoustics/glazing.h"

double gradin_jointed_r_db(double r_db, double joint_r_db, double width_m, double height_m) {
    double metres_per_m2 = 2.0 * (width_m + height_m) / (width_m * height_m);
    return -10.0 * log10(pow(10.0, -0.1 * r_db) + metres_per_m2 * pow(10.0, -0.1 * joint_r_db));
}
