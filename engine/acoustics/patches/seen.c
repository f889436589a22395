/* What seats see of the room's patches: their solid angles, cut by sampled rays and scaled to 4 pi,
 * which patches cut by sampling miss by little. A patch so small from the seat that it is one of
 * thousands gets two rays, to opposite points: what they err by averages out. */
#include "acoustics/patches/seen.h"

#include <omp.h>

typedef struct looker {
    gradin_vec3 *end_m; /* [n_patch][GRADIN_PATCH_SIGHT] */
    bool *is_clear;     /* [n_patch][GRADIN_PATCH_SIGHT] */
} looker;

static const double small_sr = 0.004;

/* Points of a patch that get rays lie so far from each other in its list. */
static int step_to_next(double seen_sr) {
    return seen_sr < small_sr ? GRADIN_PATCH_SIGHT - 1 : 1;
}

static double share_clear(double seen_sr, int n_clear) {
    return (double)n_clear / (seen_sr < small_sr ? 2 : GRADIN_PATCH_SIGHT);
}

static void look(const gradin_mask_scene *scene, const gradin_patches *patches, gradin_vec3 eye_m,
                 const looker *own, double *seen) {
    double sum_sr = 0.0;
    int n = 0, at = 0;
    for (int j = 0; j < patches->n; j++) {
        const gradin_patch *p = &patches->patch[j];
        seen[j] = gradin_rectangle_seen_sr(eye_m, &p->rectangle) * p->exposed;
        int step = step_to_next(seen[j]);
        for (int q = 0; seen[j] > 0.0 && q < GRADIN_PATCH_SIGHT; q += step)
            own->end_m[n++] = p->sight_m[q];
    }
    gradin_rays_clear(scene, eye_m, GRADIN_NO_OWNER, own->end_m, n, own->is_clear);
    for (int j = 0; j < patches->n; j++) {
        int n_clear = 0, step = step_to_next(seen[j]);
        for (int q = 0; seen[j] > 0.0 && q < GRADIN_PATCH_SIGHT; q += step)
            n_clear += own->is_clear[at++];
        seen[j] *= share_clear(seen[j], n_clear);
        sum_sr += seen[j];
    }
    for (int j = 0; j < patches->n && sum_sr > 0.0; j++)
        seen[j] *= 4.0 / sum_sr; /* Omega_j/pi of 4 pi */
}

bool gradin_seats_look(gradin_arena *arena, const gradin_mask_scene *scene,
                       const gradin_patches *patches, const gradin_vec3 *eye_m, int n_seat,
                       int n_thread, double *seen) {
    size_t n = (size_t)patches->n * GRADIN_PATCH_SIGHT, n_own = (size_t)n_thread;
    looker all = {.end_m = gradin_arena_alloc(arena, n_own * n, sizeof *all.end_m),
                  .is_clear = gradin_arena_alloc(arena, n_own * n, sizeof *all.is_clear)};
    if (!all.end_m || !all.is_clear) return false;
#pragma omp parallel for num_threads(n_thread) schedule(dynamic, 4)
    for (int k = 0; k < n_seat; k++) {
        size_t from = (size_t)omp_get_thread_num() * n;
        looker own = {all.end_m + from, all.is_clear + from};
        look(scene, patches, eye_m[k], &own, seen + (size_t)k * (size_t)patches->n);
    }
    return true;
}
