/* What the points of a study say together. */
#include "base/use.h"
#include "studies/sweep/sweep.h"

static int better(const gradin_sweep_result *r, int best, int row) {
    if (best < 0) return row;
    return sweep_compare(r->study, &r->row[row], &r->row[best]) < 0 ? row : best;
}

static void judge(gradin_sweep_result *r) {
    r->best_sure = r->best_stated = -1;
    for (int i = 0; i < r->n_row; i++) {
        r->verdict[i] = sweep_judge(r->study, &r->row[i]);
        r->n_verdict[r->verdict[i]]++;
        r->n_refused += r->row[i].refused != NULL;
        if (r->verdict[i] == GRADIN_VERDICT_WITHIN) r->best_sure = better(r, r->best_sure, i);
        if (sweep_keeps_as_stated(r->study, &r->row[i]))
            r->best_stated = better(r, r->best_stated, i);
    }
}

static void find_nearest(gradin_sweep_result *r) {
    double least = INFINITY;
    r->nearest = -1;
    for (int i = 0; i < r->n_row && r->best_stated < 0; i++) {
        double miss = sweep_miss(r->study, &r->row[i]);
        if (miss < least) r->nearest = i;
        least = fmin(least, miss);
    }
}

/* Values of a list are the study's own texts; of a range each point has one of its own. */
static gradin_status tell_values(gradin_arena *arena, gradin_sweep_result *r) {
    const gradin_study *s = r->study;
    size_t n = (size_t)s->n_varied;
    r->value = gradin_arena_alloc(arena, (size_t)r->n_row * n, sizeof *r->value);
    for (size_t at = 0; r->value && at < (size_t)r->n_row * n; at++) {
        char text[GRADIN_VALUE_CHARS];
        int point = (int)(at / n), key = (int)(at % n);
        if (s->varied[key].n_value > 0) {
            r->value[at] = s->varied[key].value[gradin_study_index(s, point, key)];
            continue;
        }
        if (!gradin_study_value(s, point, key, text)) return GRADIN_BAD_USE;
        r->value[at] = gradin_arena_copy_text(arena, text);
        if (!r->value[at]) return GRADIN_NO_MEMORY;
    }
    return r->value ? GRADIN_OK : GRADIN_NO_MEMORY;
}

bool sweep_has_columns(const gradin_study *s) {
    bool good = s->figure && s->n_figure > 0;
    for (int i = 0; good && i < s->n_bound; i++)
        good = s->bound && sweep_column(s, s->bound[i].figure) >= 0;
    for (int i = 0; good && i < s->n_aim; i++)
        good = s->aim && sweep_column(s, s->aim[i].figure) >= 0;
    return good;
}

gradin_status gradin_sweep_sum(gradin_arena *arena, const gradin_study *study,
                               const gradin_sweep_row *row, int n_row, gradin_sweep_result *result,
                               gradin_error *error) {
    if (NEEDS(error, arena, study, row, result) != GRADIN_OK) return GRADIN_BAD_USE;
    if (n_row < 1 || n_row != gradin_study_points(study) || !sweep_has_columns(study))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "a row for each point of the study, and a column for each figure");
    for (int i = 0; i < n_row; i++)
        if (row[i].point != i || (!row[i].refused && !row[i].figure))
            return gradin_error_add(error, GRADIN_BAD_USE, NULL, "row %d is not of its point", i);
    *result = (gradin_sweep_result){.study = study, .row = row, .n_row = n_row};
    result->verdict = gradin_arena_alloc(arena, (size_t)n_row, sizeof *result->verdict);
    gradin_status status = result->verdict ? GRADIN_OK : GRADIN_NO_MEMORY;
    if (status == GRADIN_OK) judge(result);
    if (status == GRADIN_OK) find_nearest(result);
    if (status == GRADIN_OK) status = tell_values(arena, result);
    if (status == GRADIN_OK) status = sweep_front(arena, result);
    if (status == GRADIN_OK) status = sweep_effects(arena, result);
    return status == GRADIN_OK ? status : gradin_error_add(error, status, NULL, "out of memory");
}
