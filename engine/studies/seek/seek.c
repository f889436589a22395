/* A search: points spread evenly, then from the best ones downhill, then step by step.
 *
 * 1. A third of the points by Sobol's sequence, shifted by the seed (Cranley and Patterson 1976,
 *    from memory), words as equal shares of their axis.
 * 2. From the best point that no descent has been through: downhill along numbers (local.c), then
 *    by single steps of one and two keys, words among them (polish.c). Again from the next best,
 * and from more spread points when none is left, until as many as the study allows have been tried.
 * Where there are no more combinations than points, all of them are tried. A point is tried once,
 * and what comes next depends on nothing but the rows before, so that a journal brings a search
 * back to where it was. */
#include "studies/seek/seek.h"
#include "base/philox.h"
#include "base/use.h"
#include "studies/sweep/sweep.h"

enum { SPREAD_PART = 3, MOST_IDLE = 1000 };

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

gradin_status gradin_seek_begin(gradin_arena *arena, gradin_study *study, const gradin_model *model,
                                gradin_error *error) {
    if (NEEDS(error, arena, study, model) != GRADIN_OK ||
        NEEDS(error, study->varied, study->figure) != GRADIN_OK)
        return GRADIN_BAD_USE;
    int n = study->search.n_most;
    if (n < 1 || n > GRADIN_MAX_SEARCH || study->n_design > 0 || study->n_aim < 1)
        return gradin_error_add(error, GRADIN_BAD_INPUT, &(gradin_place){.file = study->file},
                                "states no search, or no aims of one");
    gradin_status status = seek_check_keys(study, model, error);
    if (status != GRADIN_OK) return status;
    seek_job job = {.arena = arena, .study = study};
    seek_find_axes(&job);
    study->chosen =
        gradin_arena_alloc(arena, (size_t)n * (size_t)study->n_varied, sizeof *study->chosen);
    if (!study->chosen) return out_of_memory(error);
    for (int k = 0; k < study->n_varied; k++) {
        const char *first = seek_value(&job, k, 0);
        if (!first) return out_of_memory(error);
        for (int i = 0; i < n; i++) study->chosen[i * study->n_varied + k] = first;
    }
    study->n_chosen = n;
    return GRADIN_OK;
}

static double shift_of(const gradin_study *study, int key) {
    const uint32_t counter[4] = {(uint32_t)key, 0, 0, 0};
    const uint32_t seed[2] = {(uint32_t)study->search.seed, 0x5345454bu};
    return gradin_philox(counter, seed).word[0] / 4294967296.0;
}

/* From point *next of the sequence on, until `n` new ones were tried. */
static void spread(seek_job *job, int *next, int n) {
    int idle = 0;
    for (int stop = job->n + n; job->n < stop && !seek_is_over(job) && idle < MOST_IDLE;) {
        double unit[SEEK_MOST_KEY], whole;
        int before = job->n;
        for (int k = 0; k < job->n_axis; k++)
            unit[k] = modf(gradin_sobol(*next, k) + shift_of(job->study, k), &whole);
        seek_place p = seek_place_of(job, unit);
        seek_try(job, &p);
        idle = job->n > before ? 0 : idle + 1;
        ++*next;
    }
}

static void try_all(seek_job *job) {
    seek_place p = {{0}};
    for (int k = job->n_axis; k >= 0 && !seek_is_over(job);) {
        seek_try(job, &p);
        for (k = job->n_axis - 1; k >= 0 && ++p.at[k] == job->axis[k].n; k--) p.at[k] = 0;
    }
}

static int best_of(seek_job *job, bool is_base_left_out) {
    int best = -1;
    for (int i = 0; i < job->n; i++)
        if (!(is_base_left_out && job->is_base[i]) && (best < 0 || seek_is_better(job, i, best)))
            best = i;
    return best;
}

/* Point whose every step was tried, or -1. */
static int go_down(seek_job *job, int from) {
    bool is_whole = false;
    int at = seek_polish(job, seek_descend(job, from), &is_whole);
    return is_whole ? at : -1;
}

static void look(seek_job *job, gradin_sought *sought) {
    int next = 0, settled = -1, part = (job->n_most + SPREAD_PART - 1) / SPREAD_PART;
    bool is_idle = false;
    spread(job, &next, part);
    while (!seek_is_over(job) && !is_idle) {
        int from = best_of(job, true), before = job->n;
        if (from < 0) {
            spread(job, &next, part);
            is_idle = job->n == before;
            continue;
        }
        int at = go_down(job, from);
        if (at >= 0 && (settled < 0 || seek_is_better(job, at, settled))) settled = at;
    }
    sought->is_polished = settled >= 0 && settled == best_of(job, false);
}

gradin_status gradin_seek(gradin_arena *arena, gradin_study *study, const gradin_sweep_row *row,
                          gradin_seek_try try_point, void *user, gradin_sought *sought,
                          gradin_error *error) {
    if (NEEDS(error, arena, study, row, sought) != GRADIN_OK ||
        NEEDS(error, study->chosen, study->varied, study->aim) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (!try_point || study->n_chosen < 1 || !sweep_has_columns(study))
        return gradin_error_add(
            error, GRADIN_BAD_USE, NULL,
            "a search was begun, has a column for each figure, and somebody who "
            "works points out");
    seek_job job = {.arena = arena,
                    .study = study,
                    .row = row,
                    .try_point = try_point,
                    .user = user,
                    .error = error,
                    .n_most = study->n_chosen};
    job.place = gradin_arena_alloc(arena, (size_t)job.n_most, sizeof *job.place);
    job.is_base = gradin_arena_alloc(arena, (size_t)job.n_most, sizeof *job.is_base);
    if (!job.place || !job.is_base) return out_of_memory(error);
    seek_find_axes(&job);
    *sought = (gradin_sought){.n_all = seek_count_all(&job)};
    if (sought->n_all <= job.n_most)
        try_all(&job);
    else
        look(&job, sought);
    sought->n_tried = study->n_chosen = job.n;
    sought->is_all = job.n >= sought->n_all;
    sought->is_polished = sought->is_polished || sought->is_all;
    return job.status;
}
