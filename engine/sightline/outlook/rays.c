/* Rays from one eye to points that lie on no level grid: by the kernel that scans every occluder
 * for all of them at once, or, where there are so many occluders that a tree of boxes is quicker,
 * one by one through that. Both say the same, bit for bit. */
#include "sightline/outlook/outlook.h"

#include <omp.h>

enum { MOST_SCANNED = 6000 };

static bool ask_tree(const outlook_job *job, gradin_vec3 eye_m, int owner,
                     const gradin_vec3 *point_m, int n, int32_t *first) {
    gradin_arena *own = gradin_arena_create();
    const gradin_mask_grid *grid = own ? gradin_mask_grid_create(own, point_m, n, job->lie) : NULL;
    gradin_mask_scratch *scratch = grid ? gradin_mask_scratch_create(own, &grid, 1) : NULL;
    if (scratch) gradin_mask_first(job->mask_scene, grid, eye_m, owner, first, scratch);
    gradin_arena_destroy(own);
    return scratch != NULL;
}

bool outlook_rays(const outlook_job *job, gradin_vec3 eye_m, int owner, const gradin_vec3 *point_m,
                  int n, int32_t *first) {
    if (n == 0) return true;
    if (job->scene->n_occluder > MOST_SCANNED)
        return ask_tree(job, eye_m, owner, point_m, n, first);
    gradin_visibility(job->scene, eye_m, owner, point_m, n, first,
                      job->scratch[omp_get_thread_num()]);
    return true;
}
