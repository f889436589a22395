/* What a search must not worsen: edges that open without a rail, and rough checks that the layout
 * as it is written meets, each for itself: none is paid for with another. Both are those of `gradin
 * fit` but for its routes, which take long; they approve nothing. */
#include "studies/sweep/sweep.h"

#include <string.h>

static const double slack_m = 0.05; /* as fine as edges are found */

static gradin_status check(gradin_arena *arena, const gradin_model *model,
                           gradin_sweep_checks *checks, gradin_error *error) {
    gradin_fit fit;
    gradin_status status = gradin_fit_check(arena, model, &fit, error);
    *checks = (gradin_sweep_checks){.is_known = status == GRADIN_OK};
    if (status != GRADIN_OK) return status;
    memcpy(checks->is_missed, fit.is_missed, sizeof checks->is_missed);
    for (int i = 0; i < fit.n_edge; i++)
        if (!fit.edge[i].is_stage) checks->open_m += fit.edge[i].length_m;
    return GRADIN_OK;
}

static gradin_status check_as_written(const sweep_work *w) {
    gradin_study_inputs in;
    gradin_status status = w->sweep->options.read(w->arena, w->sweep->study, -1, &in, w->error);
    return status == GRADIN_OK ? check(w->arena, &in.model, &w->sweep->checks, w->error) : status;
}

/* The first check that this point misses and the layout as written meets; NULL: none. */
static const char *lost(const gradin_sweep_checks *written, const gradin_sweep_checks *here) {
    for (int k = 0; k < GRADIN_N_FIT_PART; k++)
        if (here->is_missed[k] && !written->is_missed[k])
            return gradin_fit_part_name((gradin_fit_part)k);
    return NULL;
}

gradin_status sweep_guard(const sweep_work *w, gradin_sweep_row *row) {
    gradin_sweep_checks here, *written = &w->sweep->checks;
    gradin_status status = written->is_known ? GRADIN_OK : check_as_written(w);
    if (status == GRADIN_OK) status = check(w->arena, &w->inputs->model, &here, w->error);
    if (status != GRADIN_OK) return status;
    char more[32];
    const char *missed = lost(written, &here);
    gradin_format_fixed(more, sizeof more, here.open_m - written->open_m, 1);
    if (here.open_m > written->open_m + slack_m)
        row->refused = gradin_arena_print(
            w->arena, "opens %s m of edges without a rail beyond the layout as written", more);
    else if (missed)
        row->refused = gradin_arena_print(
            w->arena, "misses a rough check that the layout as written meets: %s (gradin fit)",
            missed);
    else
        return GRADIN_OK;
    return row->refused ? GRADIN_OK
                        : gradin_error_add(w->error, GRADIN_NO_MEMORY, NULL, "out of memory");
}
