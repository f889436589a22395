/* The rough checks together. */
#include "studies/fit/fit.h"
#include "base/use.h"
#include "model/complete.h"

static bool is_exit_short(const gradin_fit *fit) {
    bool is_short = fit->exit_m < fit->exit_needed_m - 1e-9;
    for (int k = 0; k < fit->n_side && fit->is_cut; k++)
        is_short |= fit->side[k].exit_m < fit->side[k].needed_m - 1e-9;
    return is_short;
}

static bool lacks_wheelchairs(const gradin_fit *fit) {
    const gradin_seats *seats = &fit->model->seats;
    if (seats->n_wheelchair < fit->wheelchairs_needed) return true;
    return seats->n_companion < fit->companions_needed;
}

static void judge(gradin_fit *fit) {
    const bool is_missed[GRADIN_N_FIT_PART] = {[GRADIN_FIT_ROWS] = fit->n_long_row > 0,
                                               [GRADIN_FIT_SPACING] = fit->n_tight_row > 0,
                                               [GRADIN_FIT_WHEELCHAIRS] = lacks_wheelchairs(fit),
                                               [GRADIN_FIT_SLOPES] = fit->n_steep > 0,
                                               [GRADIN_FIT_EXITS] = is_exit_short(fit),
                                               [GRADIN_FIT_WAYS] = fit->n_cut_off > 0,
                                               [GRADIN_FIT_VOMITORIES] = fit->n_vom_blocked > 0,
                                               [GRADIN_FIT_LOADS] = fit->n_overload > 0};
    fit->is_met = true;
    for (int k = 0; k < GRADIN_N_FIT_PART; k++) {
        fit->is_missed[k] = is_missed[k];
        fit->is_met &= !is_missed[k];
    }
}

gradin_status gradin_fit_check(gradin_arena *arena, const gradin_model *model, gradin_fit *fit,
                               gradin_error *error) {
    if (NEEDS(error, arena, fit) != GRADIN_OK || model_complete(model, error) != GRADIN_OK ||
        NEEDS(error, model->machinery) != GRADIN_OK)
        return GRADIN_BAD_USE;
    *fit = (gradin_fit){.model = model};
    if (!fit_edges(arena, fit) || !fit_rows(arena, fit) || !fit_spacing(arena, fit) ||
        !fit_exits(arena, fit) || !fit_ways_out(arena, fit) || !fit_loads(arena, fit))
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the checks");
    fit_slopes(fit);
    judge(fit);
    return GRADIN_OK;
}
