/* The risers that a block needs for a wanted C-value, as its lifts can be set.
 *
 * Rows are worked out in one vertical section through the middle of the block along its facing,
 * with the point of focus at the near edge of the focus there, and at every seat of the block over
 * the persons whom the assessment finds ahead of it. The first row stays where it is unless its own
 * seats look over others. Constant C: each row is raised to the lowest setting that gives the
 * section and every seat of the row the wanted C; by the row formula R' = (R + C)(D + T)/D a higher
 * row in front asks for a higher row behind, so the lowest setting of every row is also the lowest
 * of the whole, and when it breaks a limit no setting reaches that C. Then the highest C that a
 * setting reaches is found by bisection, to one millimetre. */
#include "studies/rake/rake.h"
#include "base/use.h"
#include "model/complete.h"

#include <stdio.h>
#include <string.h>

#define LEAST_C_M (-2.0)
#define C_STEP_M 0.001
#define LEAST_STEP_M 0.0003

static gradin_status refuse_block(const gradin_model *model, const char *name,
                                  gradin_error *error) {
    const char *const *names = model->block_name;
    int near = gradin_nearest_name(name, names, model->n_block);
    if (near >= 0)
        return gradin_error_add(error, GRADIN_BAD_INPUT, &RAKE_BLOCK,
                                "the layout has no block '%s'; did you mean '%s'?", name,
                                names[near]);
    char list[GRADIN_TEXT_CHARS / 2] = "";
    size_t used = 0;
    for (int i = 0; i < model->n_block && used < sizeof list - 1; i++)
        used += (size_t)snprintf(list + used, sizeof list - used, "%s%s", i ? ", " : "", names[i]);
    return gradin_error_add(error, GRADIN_BAD_INPUT, &RAKE_BLOCK,
                            "the layout has no block '%s'; it has %s%s", name, list,
                            used < sizeof list ? "" : "...");
}

static gradin_status check(const gradin_model *model, const gradin_rake_options *options,
                           gradin_rake *rake, gradin_error *error) {
    if (!(options->c_m > 0.0 && options->c_m <= 1.0) ||
        !(options->step_m >= LEAST_STEP_M && options->step_m <= 0.5))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "a C up to 1000 mm and steps of 0.3 to 500 mm are allowed");
    for (int i = 0; i < model->n_block; i++) {
        if (strcmp(options->block, model->block_name[i]) != 0) continue;
        rake->block = i;
        return GRADIN_OK;
    }
    return refuse_block(model, options->block, error);
}

/* The highest C, in whole millimetres below the wanted one, that a setting reaches. */
static void settle_for_less(rake_job *job) {
    const char *ignored;
    int high = (int)(job->rake->wanted.c_m / C_STEP_M + 0.5), low = (int)(LEAST_C_M / C_STEP_M);
    while (high - low > 1) {
        int middle = low + (high - low) / 2;
        if (rake_solve_constant_c(job, middle * C_STEP_M, &ignored))
            low = middle;
        else
            high = middle;
    }
    rake_solve_constant_c(job, low * C_STEP_M, &ignored);
}

static void solve(rake_job *job) {
    gradin_rake *rake = job->rake;
    if (rake->wanted.form == GRADIN_RAKE_CONSTANT_RISER) {
        rake->is_reached = rake_solve_constant_riser(job, &rake->hindrance);
        return;
    }
    rake->is_reached = rake_solve_constant_c(job, rake->wanted.c_m, &rake->hindrance);
    if (!rake->is_reached) settle_for_less(job);
}

gradin_status gradin_rake_compute(gradin_arena *arena, const gradin_model *model,
                                  const gradin_rake_options *options, gradin_rake *rake,
                                  gradin_error *error) {
    if (NEEDS(error, arena, options, rake) != GRADIN_OK ||
        model_complete(model, error) != GRADIN_OK || NEEDS(error, options->block) != GRADIN_OK)
        return GRADIN_BAD_USE;
    memset(rake, 0, sizeof *rake);
    rake->model = model;
    rake->wanted = *options;
    rake_job *job = gradin_arena_alloc(arena, 1, sizeof *job);
    if (!job) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the rake");
    *job = (rake_job){.arena = arena, .model = model, .rake = rake, .error = error};
    gradin_status status = check(model, options, rake, error);
    if (status == GRADIN_OK) status = rake_read_rows(job);
    if (status == GRADIN_OK) status = rake_take_seats(job);
    if (status != GRADIN_OK) return status;
    solve(job);
    return rake_make_bill(job);
}
