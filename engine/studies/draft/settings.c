/* Where a scheme puts the machines of the venue. */
#include "studies/draft/draft.h"

static double clipped(double value, const double range[2]) {
    return fmin(fmax(value, range[0]), range[1]);
}

static void set_stage(const draft_job *job, draft_scheme *scheme) {
    const gradin_setting up = {.position = job->w->stage_height_m, .n_step = 1};
    const int *s = job->stage;
    if (job->main < 0) return;
    draft_cells c = draft_cells_of(job, s[0], s[1], s[2], s[3]);
    for (int column = c.c0; column < c.c1; column++)
        for (int row = c.r0; row < c.r1; row++)
            scheme->setting[draft_section_machine(job->hall, job->main, column, row)] = up;
    for (int i = 0; i < job->hall->n_grid; i++) {
        const gradin_lift_grid *g = &job->hall->grid[i];
        for (int k = 0; k < g->n_column * g->n_row && job->is_stage_grid[i]; k++)
            scheme->setting[draft_section_machine(job->hall, i, k % g->n_column, k / g->n_column)] =
                up;
    }
}

static void set_rank(const draft_job *job, draft_scheme *scheme, const draft_bank *bank, int rank) {
    const gradin_lift_grid *g = job->plan;
    if (job->main < 0) return; /* rows on platforms */
    gradin_box2 box = draft_rank_box(job, bank, rank);
    int n_step = bank->is_front && rank == 0 ? 1 : bank->n_step;
    for (int i = 0; i < g->n_column * g->n_row; i++) {
        double x_m = g->origin_m.x + (i % g->n_column + 0.5) * g->size_m[0];
        double y_m = g->origin_m.y + (i / g->n_column + 0.5) * g->size_m[1];
        if (x_m < box.x_min_m || x_m > box.x_max_m || y_m < box.y_min_m || y_m > box.y_max_m)
            continue;
        scheme->setting[draft_section_machine(job->hall, job->main, i % g->n_column,
                                              i / g->n_column)] =
            (gradin_setting){.position = bank->height_m[rank],
                             .n_step = n_step,
                             .riser_m = bank->riser_m[rank],
                             .facing_deg = n_step > 1 ? 90.0 * bank->quarter : 0.0};
    }
}

static void set_rest(const draft_job *job, draft_scheme *scheme) {
    for (int i = 0; i < job->hall->n_machine; i++) {
        const gradin_machine *m = &job->hall->machine[i];
        double at = 0.0;
        if (m->kind == GRADIN_MACHINE_TRIM)
            at = job->w->has_arch ? job->w->arch_trim_m : m->travel[1];
        if (m->kind == GRADIN_MACHINE_OPENING)
            at = job->w->has_arch ? job->w->arch_opening_m : m->travel[1];
        if (m->kind == GRADIN_MACHINE_PANEL) at = job->w->has_vomitories;
        if (m->kind == GRADIN_MACHINE_SHADE) at = job->w->shades_closed;
        if (m->kind == GRADIN_MACHINE_HOIST || m->kind == GRADIN_MACHINE_SLIDE)
            at = clipped(0.0, m->travel);
        scheme->setting[i] = (gradin_setting){.position = at, .n_step = 1};
    }
}

void draft_set_machines(const draft_job *job, draft_scheme *scheme) {
    set_rest(job, scheme);
    set_stage(job, scheme);
    for (int i = 0; i < scheme->n_bank; i++)
        for (int rank = 0; rank < scheme->bank[i].n_rank; rank++)
            set_rank(job, scheme, &scheme->bank[i], rank);
    draft_set_towers(job, scheme);
}
