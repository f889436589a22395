/* Stiffness of a panel: thick plates glued by viscoelastic sheets.
 *
 * Laminate: D. Ross, E. E. Ungar, E. M. Kerwin, "Damping of plate flexural vibrations by means of
 * viscoelastic laminae", Structural Damping, ASME 1959 (from memory): every plate bends about its
 * own mid-plane and stretches, an interlayer only shears. For n plies the same balance of in-plane
 * forces, one equation a joint, with t the joint's shear flow over kx squared:
 *   (1) t_j (kx2 h_j/G_j + 1/K_j + 1/K_j+1) - t_j-1/K_j - t_j+1/K_j+1 = d_j
 *   (2) K = E h/(1 - nu2) - w2 rho h/kx2 (the ply's own inertia along the plane)
 * Thick plates: R. D. Mindlin, "Influence of rotatory inertia and shear on flexural motions of
 * isotropic, elastic plates", J. Appl. Mech. 18 (1951) 31-38 (from memory). With one rotation psi
 * of all plies, of moment B psi, and the shear stiffness S = sum kappa G h:
 *   (3) B = kx2 (sum D_i + sum d_j t_j) - w2 sum rho h3/12
 *   (4) p/w = kx2 B S/(B + S)
 * which tends to D kx4 for thin plates. For two thin plies the D in it is D1 + D2 + d2 K g/(1 + g),
 * g = G/(h kx2 K), K = K1 K2/(K1 + K2), the RKU form. Limits: equal deflection of all plies, one
 * shear angle for all of them; test_layered.c says how near this is to full elasticity. */
#include "acoustics/glazing/stack.h"

enum { COINCIDENCE_STEPS = 8 };

/* kx2/K of ply i, (2). */
static double complex give(const glazing_panel *panel, int i, double kx2, double w2) {
    return kx2 * gradin_reciprocal(panel->stretch_nm[i] * kx2 - w2 * panel->ply_kgm2[i]);
}

/* d t of a single joint: the same as below in one division. */
static double complex single_joint(const glazing_panel *panel, double kx2, double w2) {
    double complex a = panel->stretch_nm[0] * kx2 - w2 * panel->ply_kgm2[0];
    double complex b = panel->stretch_nm[1] * kx2 - w2 * panel->ply_kgm2[1], both = a * b;
    double lever_m = panel->lever_m[0];
    return lever_m * lever_m * both * gradin_reciprocal(kx2 * (panel->slip_m3n[0] * both + a + b));
}

/* sum d_j t_j by elimination of the tridiagonal system (1). */
static double complex joint_stiffness(const glazing_panel *panel, double kx2, double w2) {
    double complex upper[GLAZING_MAX_PLY], flow[GLAZING_MAX_PLY], sum = 0.0;
    double complex before = give(panel, 0, kx2, w2);
    int n_joint = panel->n_ply - 1;
    for (int j = 0; j < n_joint; j++) {
        double complex behind = give(panel, j + 1, kx2, w2);
        double complex pivot = kx2 * panel->slip_m3n[j] + before + behind;
        if (j) pivot += before * upper[j - 1];
        double complex inverse = gradin_reciprocal(pivot);
        upper[j] = -behind * inverse;
        flow[j] = (panel->lever_m[j] + (j ? before * flow[j - 1] : 0.0)) * inverse;
        before = behind;
    }
    for (int j = n_joint - 1; j >= 0; j--) {
        if (j < n_joint - 1) flow[j] -= upper[j] * flow[j + 1];
        sum += panel->lever_m[j] * flow[j];
    }
    return sum;
}

double complex gradin_glazing_stiffness(const glazing_panel *panel, double kx_radm, double w) {
    double kx2 = kx_radm * kx_radm, w2 = w * w;
    if (!(kx2 > 0.0) || panel->bend_nm == 0.0) return 0.0;
    double complex turn = panel->bend_nm;
    if (panel->n_ply == 2)
        turn += single_joint(panel, kx2, w2);
    else if (panel->n_ply > 2)
        turn += joint_stiffness(panel, kx2, w2);
    turn = kx2 * turn - w2 * panel->turn_kg;                                         /* (3) */
    return kx2 * turn * panel->shear_nm * gradin_reciprocal(turn + panel->shear_nm); /* (4) */
}

double gradin_glazing_coincidence(const glazing_panel *panel, double f_hz) {
    double w = 2.0 * GRADIN_PI * f_hz, k = w / GRADIN_AIR_SPEED_MS, kx = k;
    for (int step = 0; step < COINCIDENCE_STEPS; step++) { /* halves the error: D falls by kx^-2 */
        double stiffness = creal(gradin_glazing_stiffness(panel, kx, w)) / (kx * kx * kx * kx);
        if (stiffness <= 0.0) return INFINITY;
        kx = sqrt(w * sqrt(panel->mass_kgm2 / stiffness));
    }
    return (kx / k) * (kx / k);
}
