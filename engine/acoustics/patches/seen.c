/* What seats see of the room's patches: their solid angles, cut by sampled rays and scaled to 4 pi,
 * which patches cut by sampling miss by little. */
#include "acoustics/patches/seen.h"

/* Share of the rays to the patch that get through. */
static double share_through(const gradin_between *tree, gradin_vec3 eye_m, const gradin_patch *p,
                            int *last) {
    int n = 0;
    for (int q = 0; q < GRADIN_PATCH_SIGHT; q++)
        n += gradin_between_clear(tree, eye_m, p->sight_m[q], last);
    return (double)n / GRADIN_PATCH_SIGHT;
}

static void look(const gradin_between *tree, const gradin_patches *patches, gradin_vec3 eye_m,
                 double *seen) {
    double sum_sr = 0.0;
    int last = -1;
    for (int j = 0; j < patches->n; j++) {
        const gradin_patch *p = &patches->patch[j];
        seen[j] = gradin_rectangle_seen_sr(eye_m, &p->rectangle) * p->exposed;
        if (seen[j] > 0.0) seen[j] *= share_through(tree, eye_m, p, &last);
        sum_sr += seen[j];
    }
    for (int j = 0; j < patches->n && sum_sr > 0.0; j++)
        seen[j] *= 4.0 / sum_sr; /* Omega_j/pi of 4 pi */
}

void gradin_seats_look(const gradin_between *tree, const gradin_patches *patches,
                       const gradin_vec3 *eye_m, int n_seat, int n_thread, double *seen) {
#pragma omp parallel for num_threads(n_thread) schedule(dynamic, 4)
    for (int k = 0; k < n_seat; k++)
        look(tree, patches, eye_m[k], seen + (size_t)k * (size_t)patches->n);
}
