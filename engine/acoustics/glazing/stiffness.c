/* Bending stiffness of plates glued by viscoelastic sheets.
 *
 * Method: D. Ross, E. E. Ungar, E. M. Kerwin, "Damping of plate flexural vibrations by means of
 * viscoelastic laminae", Structural Damping, ASME 1959 (from memory): every plate bends about its
 * own mid-plane and stretches, an interlayer only shears. For n plies the same balance of in-plane
 * forces, one equation a joint, with t the joint's shear flow over kx squared:
 *   t_j (kx2 h_j/G_j + 1/K_j + 1/K_j+1) - t_j-1/K_j - t_j+1/K_j+1 = d_j,   K = E h/(1 - nu2)
 *   D = sum D_i + sum d_j t_j
 * For two plies this is D1 + D2 + d2 K g/(1 + g) with K = K1 K2/(K1 + K2), g = G/(h kx2 K) (the
 * RKU form). Limits: thin plies, shear of the plies themselves and rotatory inertia left out; equal
 * deflection of all plies. */
#include "acoustics/glazing/stack.h"

double complex gradin_glazing_stiffness(const glazing_panel *panel, double kx_radm) {
    double complex upper[GLAZING_MAX_PLY], flow[GLAZING_MAX_PLY];
    int n_joint = panel->n_ply - 1;
    for (int j = 0; j < n_joint; j++) { /* tridiagonal system, downward sweep */
        double complex own =
            kx_radm * kx_radm * panel->slip_m3n[j] + panel->flex_mn[j] + panel->flex_mn[j + 1];
        double complex pivot = j ? own + panel->flex_mn[j] * upper[j - 1] : own;
        upper[j] = -panel->flex_mn[j + 1] / pivot;
        flow[j] = (panel->lever_m[j] + (j ? panel->flex_mn[j] * flow[j - 1] : 0.0)) / pivot;
    }
    double complex stiffness = panel->bend_nm;
    for (int j = n_joint - 1; j >= 0; j--) {
        if (j < n_joint - 1) flow[j] -= upper[j] * flow[j + 1];
        stiffness += panel->lever_m[j] * flow[j];
    }
    return stiffness;
}
