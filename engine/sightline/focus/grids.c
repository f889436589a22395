/* Mask grids of the focus areas and scratch for the threads that use them. */
#include "sightline/focus/focus.h"

gradin_mask_grid **gradin_sight_grids(gradin_arena *arena, const sight_focus *focus) {
    gradin_mask_grid **grid = gradin_arena_alloc(arena, (size_t)focus->n_area, sizeof *grid);
    for (int a = 0; grid && a < focus->n_area; a++) {
        int from = focus->first_sample[a];
        grid[a] = gradin_mask_grid_create(arena, focus->sample_m + from,
                                          focus->first_sample[a + 1] - from, focus->lie);
        if (!grid[a]) return NULL;
    }
    return grid;
}

gradin_mask_scratch **gradin_sight_scratch(gradin_arena *arena, const sight_focus *focus,
                                           gradin_mask_grid *const *grid, int n_thread) {
    gradin_mask_scratch **scratch = gradin_arena_alloc(arena, (size_t)n_thread, sizeof *scratch);
    for (int i = 0; scratch && i < n_thread; i++) {
        scratch[i] =
            gradin_mask_scratch_create(arena, (const gradin_mask_grid *const *)grid, focus->n_area);
        if (!scratch[i]) return NULL;
    }
    return scratch;
}
