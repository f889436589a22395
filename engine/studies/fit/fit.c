/* The rough checks together. */
#include "studies/fit/fit.h"
#include "base/use.h"
#include "model/complete.h"

gradin_status gradin_fit_check(gradin_arena *arena, const gradin_model *model, gradin_fit *fit,
                               gradin_error *error) {
    if (NEEDS(error, arena, fit) != GRADIN_OK || model_complete(model, error) != GRADIN_OK ||
        NEEDS(error, model->machinery) != GRADIN_OK)
        return GRADIN_BAD_USE;
    bool is_narrow = false;
    *fit = (gradin_fit){.model = model};
    if (!fit_edges(arena, fit) || !fit_rows(arena, fit) || !fit_spacing(arena, fit) ||
        !fit_exits(arena, fit) || !fit_ways_out(arena, fit) || !fit_loads(arena, fit))
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the checks");
    for (int k = 0; k < fit->n_side && fit->is_cut; k++)
        is_narrow |= fit->side[k].exit_m < fit->side[k].needed_m - 1e-9;
    fit_slopes(fit);
    bool is_short = model->seats.n_wheelchair < fit->wheelchairs_needed ||
                    model->seats.n_companion < fit->companions_needed;
    fit->is_met = !is_narrow && !is_short && fit->n_tight_row == 0 && fit->n_long_row == 0 &&
                  fit->n_vom_blocked == 0 && fit->n_cut_off == 0 && fit->n_overload == 0 &&
                  fit->n_steep == 0 && !(fit->exit_m < fit->exit_needed_m - 1e-9);
    return GRADIN_OK;
}
