/* Points of a study worked out one after the other. Each stage is worked out once for all points
 * that agree in the keys that it depends on (depends.c); a stage that every key concerns would fill
 * memory for nothing and is not remembered. */
#include "studies/sweep/sweep.h"
#include "base/use.h"

#include <string.h>

typedef gradin_status (*stage_work)(const sweep_work *work, gradin_known *figure);

static const stage_work work_of[GRADIN_N_STAGE] = {[GRADIN_STAGE_SIGHT] = sweep_look,
                                                   [GRADIN_STAGE_PASS] = sweep_hear_pass,
                                                   [GRADIN_STAGE_SEASON] = sweep_hear_season,
                                                   [GRADIN_STAGE_CHANGEOVER] = sweep_change_over,
                                                   [GRADIN_STAGE_GLASS] = sweep_weigh};

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

static bool is_study_good(const gradin_study *s) {
    bool good = gradin_study_points(s) > 0 && s->figure && s->n_figure > 0 &&
                s->n_figure <= GRADIN_N_STUDY_FIGURE && s->layout_path && s->percentile >= 0.0 &&
                s->percentile <= 100.0;
    for (int i = 0; good && i < s->n_figure; i++) {
        const gradin_study_figure_form *form = gradin_study_figure_of(s->figure[i]);
        good = form && (form->stage != GRADIN_STAGE_SEASON || s->traffic_path) &&
               (form->stage != GRADIN_STAGE_CHANGEOVER || s->partner_path);
    }
    return good;
}

static bool is_asked(const gradin_study *s, gradin_stage stage) {
    for (int i = 0; i < s->n_figure; i++)
        if (gradin_study_figure_of(s->figure[i])->stage == stage) return true;
    return false;
}

gradin_status gradin_sweep_begin(const gradin_study *study, const gradin_sweep_options *options,
                                 gradin_sweep *sweep, gradin_error *error) {
    if (NEEDS(error, study, sweep) != GRADIN_OK) return GRADIN_BAD_USE;
    *sweep = (gradin_sweep){.study = study};
    if (NEEDS(error, options) != GRADIN_OK || !options->read)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a sweep needs a reader of points");
    sweep->options = *options;
    if (!is_study_good(study))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "a study has keys with values, and figures with the files that "
                                "they need");
    sweep->kept.is_as_set_only = true; /* no figure has shades in another state */
    sweep->memory = sweep_memory_create();
    return sweep->memory ? GRADIN_OK : out_of_memory(error);
}

void gradin_sweep_end(gradin_sweep *sweep) {
    if (!sweep) return;
    sweep_memory_destroy(sweep->memory);
    sweep_rays_destroy(sweep->rays);
    sweep->memory = NULL;
    sweep->rays = NULL;
    gradin_kept_room_clear(&sweep->kept);
}

/* The first diagnostic as one line; copied, for the error goes on to the next point. */
static const char *reason_of(gradin_arena *arena, const gradin_error *error) {
    char line[2 * GRADIN_TEXT_CHARS] = "cannot stand";
    if (error->n_diagnostic > 0) gradin_diagnostic_format(&error->diagnostic[0], line, sizeof line);
    return gradin_arena_copy_text(arena, line);
}

static gradin_status work_out(const sweep_work *w, gradin_stage stage, sweep_stage_result *result,
                              gradin_error *error) {
    gradin_error mine = {0};
    sweep_work own = *w;
    own.error = &mine;
    for (int k = 0; k < GRADIN_N_STUDY_FIGURE; k++) result->figure[k] = sweep_certain(NAN);
    result->refused = NULL;
    w->sweep->n_worked[stage]++;
    gradin_status status = work_of[stage](&own, result->figure);
    if (status == GRADIN_BAD_INPUT) {
        result->refused = reason_of(w->arena, &mine);
        return result->refused ? GRADIN_OK : out_of_memory(error);
    }
    if (status != GRADIN_OK)
        gradin_error_add(error, status, NULL, "%s",
                         mine.n_diagnostic > 0 ? mine.diagnostic[0].text : "a stage failed");
    return status;
}

static gradin_status take_stage(const sweep_work *w, int point, gradin_stage stage,
                                sweep_stage_result *result, gradin_error *error) {
    char key[33];
    bool is_shared =
        sweep_key(w->sweep->study, point, stage, key) && !w->sweep->options.is_from_scratch;
    const sweep_stage_result *found = is_shared ? sweep_memory_find(w->sweep->memory, key) : NULL;
    if (found) {
        *result = *found;
        return GRADIN_OK;
    }
    gradin_status status = work_out(w, stage, result, error);
    if (status != GRADIN_OK || !is_shared) return status;
    return sweep_memory_keep(w->sweep->memory, key, result) ? GRADIN_OK : out_of_memory(error);
}

static gradin_status take_stages(const sweep_work *w, gradin_sweep_row *row, gradin_arena *arena,
                                 gradin_error *error) {
    const gradin_study *s = w->sweep->study;
    gradin_known *figure = gradin_arena_alloc(arena, (size_t)s->n_figure, sizeof *figure);
    if (!figure) return out_of_memory(error);
    row->figure = figure;
    for (int stage = 0; stage < GRADIN_N_STAGE && !row->refused; stage++) {
        sweep_stage_result result;
        if (!is_asked(s, (gradin_stage)stage)) continue;
        gradin_status status = take_stage(w, row->point, (gradin_stage)stage, &result, error);
        if (status != GRADIN_OK) return status;
        row->refused = result.refused;
        for (int i = 0; i < s->n_figure; i++)
            if ((int)gradin_study_figure_of(s->figure[i])->stage == stage)
                figure[i] = result.figure[s->figure[i]];
    }
    return GRADIN_OK;
}

static gradin_status work_point(gradin_arena *arena, gradin_arena *scratch, gradin_sweep *sweep,
                                gradin_sweep_row *row, gradin_error *error) {
    gradin_study_inputs inputs;
    gradin_error mine = {0};
    sweep_work w = {
        .arena = scratch, .sweep = sweep, .inputs = &inputs, .point = row->point, .error = error};
    gradin_status status = sweep->options.read(scratch, sweep->study, row->point, &inputs, &mine);
    if (status == GRADIN_OK) {
        if (sweep->options.keeps_checks && row->point >= 0) status = sweep_guard(&w, row);
        if (status == GRADIN_OK && !row->refused) status = take_stages(&w, row, arena, error);
    } else if (status == GRADIN_BAD_INPUT && !inputs.is_study_wrong) {
        row->refused = reason_of(scratch, &mine);
        status = GRADIN_OK;
    } else if (error) {
        *error = mine;
    }
    if (status != GRADIN_OK || !row->refused) return status;
    row->figure = NULL;
    row->refused = gradin_arena_copy_text(arena, row->refused);
    return row->refused ? GRADIN_OK : out_of_memory(error);
}

gradin_status gradin_sweep_point(gradin_arena *arena, gradin_sweep *sweep, int point,
                                 gradin_sweep_row *row, gradin_error *error) {
    if (NEEDS(error, arena, sweep, row) != GRADIN_OK ||
        NEEDS(error, sweep->study, sweep->memory) != GRADIN_OK || !sweep->options.read)
        return GRADIN_BAD_USE;
    if (point < -1 || point >= gradin_study_points(sweep->study))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "the study has no point %d", point);
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return out_of_memory(error);
    *row = (gradin_sweep_row){.point = point};
    gradin_status status = work_point(arena, scratch, sweep, row, error);
    gradin_arena_destroy(scratch);
    return status;
}
