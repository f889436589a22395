/* The settings of a rake as a layout states them: one for each rectangle of sections that are set
 * alike. */
#include "base/use.h"
#include "studies/rake/rake.h"
#include "studies/shared/complete.h"

/* Of a point seen from `from`, along the side of the section towards corner `to` (1: its columns,
 * 3: its rows), m; sections may lie at a bearing. */
static double along_m(const gradin_section *s, int to, gradin_vec2 from, gradin_vec2 point) {
    double dx = s->corner_m[to].x - s->corner_m[0].x, dy = s->corner_m[to].y - s->corner_m[0].y;
    return ((point.x - from.x) * dx + (point.y - from.y) * dy) / hypot(dx, dy);
}

/* Does the rectangle from one section's corner to the other's hold only sections of the rank? */
static bool is_whole(const gradin_rake *rake, const gradin_rake_rank *rank) {
    const gradin_section *all = rake->model->section;
    const gradin_section *a = &all[rank->section[0]], *b = &all[rank->section[rank->n_section - 1]];
    int n = 0;
    for (int i = 0; i < rake->model->n_section; i++) {
        gradin_vec2 low = all[i].corner_m[0], high = all[i].corner_m[2];
        n += along_m(a, 1, a->corner_m[0], low) >= -1e-6 &&
             along_m(a, 3, a->corner_m[0], low) >= -1e-6 &&
             along_m(a, 1, high, b->corner_m[2]) >= -1e-6 &&
             along_m(a, 3, high, b->corner_m[2]) >= -1e-6;
    }
    return n == rank->n_section;
}

static gradin_lift_setting setting(const gradin_rake *rake, const gradin_rake_rank *rank, int from,
                                   int to) {
    const gradin_section *section = rake->model->section;
    return (gradin_lift_setting){.from = section[rank->section[from]].name,
                                 .to = section[rank->section[to]].name,
                                 .set = {.position = rank->height_m,
                                         .n_step = rank->n_step,
                                         .riser_m = rank->riser_m,
                                         .facing_deg = rank->facing_deg}};
}

gradin_status gradin_rake_settings(gradin_arena *arena, const gradin_rake *rake,
                                   const gradin_lift_setting **settings, int *n_setting,
                                   gradin_error *error) {
    if (NEEDS(error, arena, settings, n_setting) != GRADIN_OK ||
        rake_complete(rake, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    int most = 0;
    for (int r = 0; r < rake->n_rank; r++) most += rake->rank[r].n_section;
    gradin_lift_setting *made = gradin_arena_alloc(arena, (size_t)most, sizeof *made);
    if (!made) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the rake");
    *n_setting = 0;
    for (int r = 0; r < rake->n_rank; r++) {
        const gradin_rake_rank *rank = &rake->rank[r];
        if (rank->n_section > 0 && is_whole(rake, rank)) {
            made[(*n_setting)++] = setting(rake, rank, 0, rank->n_section - 1);
            continue;
        }
        for (int i = 0; i < rank->n_section; i++) made[(*n_setting)++] = setting(rake, rank, i, i);
    }
    *settings = made;
    return GRADIN_OK;
}
