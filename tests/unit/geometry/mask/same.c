#include "unit/geometry/mask/same.h"

#include <criterion/criterion.h>
#include <string.h>

typedef struct rays_case {
    const gradin_vec3 *sample;
    int n_sample;
    gradin_vec3 eye;
    int owner;
    const char *what;
    int trial;
} rays_case;

/* A grid that lies otherwise than the scene is met ray by ray. */
static void expect_rays(const gradin_mask_scene *masks, const gradin_mask_grid *loose,
                        const int32_t *slow, rays_case r, gradin_mask_scratch *scratch) {
    static int32_t quick[SAME_MOST];
    static bool clear[SAME_MOST];
    gradin_mask_first(masks, loose, r.eye, r.owner, quick, scratch);
    int n = gradin_rays_clear(masks, r.eye, r.owner, r.sample, r.n_sample, clear), n_clear = 0;
    for (int i = 0; i < r.n_sample; i++) {
        n_clear += clear[i];
        cr_assert_eq(slow[i], quick[i], "%s, trial %d, ray %d: %d, tree %d", r.what, r.trial, i,
                     slow[i], quick[i]);
        cr_assert_eq(clear[i], slow[i] == GRADIN_CLEAR, "%s, trial %d, ray %d", r.what, r.trial, i);
    }
    cr_assert_eq(n, n_clear);
    gradin_rays_first(masks, r.eye, r.owner, r.sample, r.n_sample, quick);
    cr_assert_eq(memcmp(quick, slow, (size_t)r.n_sample * sizeof *quick), 0, "%s, trial %d", r.what,
                 r.trial);
}

int same_masks(const gradin_scene *scene, const gradin_vec3 *sample, int n_sample, gradin_lie lie,
               gradin_vec3 eye, int owner, const char *what, int trial) {
    static int32_t slow[SAME_MOST], quick[SAME_MOST];
    static bool clear[SAME_MOST];
    int n_clear = 0;
    gradin_arena *arena = gradin_arena_create();
    gradin_mask_scene *masks = gradin_mask_scene_create(arena, scene, lie);
    const gradin_mask_grid *grid = gradin_mask_grid_create(arena, sample, n_sample, lie);
    gradin_mask_scratch *scratch = gradin_mask_scratch_create(arena, &grid, 1);
    const gradin_lie other = {lie.row, lie.edge};
    const gradin_mask_grid *loose = gradin_mask_grid_create(arena, sample, n_sample, other);
    gradin_visibility_reference(scene, eye, owner, sample, n_sample, slow);
    for (int i = 0; i < n_sample; i++) n_clear += slow[i] == GRADIN_CLEAR;
    for (int simd = GRADIN_SIMD_PORTABLE; simd < GRADIN_N_SIMD; simd++) {
        if (!gradin_simd_use((gradin_simd)simd)) continue;
        memset(quick, 0x55, sizeof quick);
        memset(clear, 0, sizeof clear);
        gradin_mask_first(masks, grid, eye, owner, quick, scratch);
        int n = gradin_mask_clear(masks, grid, eye, owner, clear, scratch);
        for (int i = 0; i < n_sample; i++) {
            cr_assert_eq(slow[i], quick[i], "%s, trial %d, set %d, sample %d: %d, mask %d", what,
                         trial, simd, i, slow[i], quick[i]);
            cr_assert_eq(clear[i], slow[i] == GRADIN_CLEAR, "%s, trial %d, set %d, sample %d", what,
                         trial, simd, i);
        }
        expect_rays(masks, loose, slow, (rays_case){sample, n_sample, eye, owner, what, trial},
                    scratch);
        cr_assert_eq(n, n_clear, "%s, trial %d, set %d: %d clear, %d", what, trial, simd, n,
                     n_clear);
    }
    gradin_simd_use(GRADIN_SIMD_BEST);
    gradin_arena_destroy(arena);
    return n_sample - n_clear;
}
