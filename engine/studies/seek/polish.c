/* Steps from the best point: of one key, then of two together, as long as one is better. A key of
 * numbers steps to the next place either way, a key of words to any other. What has been tried
 * whole is told, for then nothing near by is better. */
#include "studies/seek/seek.h"

typedef struct steps {
    int at[GRADIN_MAX_STUDY_VALUE], n; /* other places of one key */
} steps;

static steps steps_of(const seek_job *job, const seek_place *from, int key) {
    const seek_axis *a = &job->axis[key];
    steps s = {.n = 0};
    for (int at = 0; at < a->n && s.n < GRADIN_MAX_STUDY_VALUE; at++) {
        bool is_next = at == from->at[key] - 1 || at == from->at[key] + 1;
        if (at != from->at[key] && (is_next || !a->is_ordered)) s.at[s.n++] = at;
    }
    return s;
}

/* The better of a point and the one of a place. */
static int try_place(seek_job *job, const seek_place *place, int best) {
    int point = seek_try(job, place);
    if (point < 0) return best;
    job->is_base[point] = true;
    return seek_is_better(job, point, best) ? point : best;
}

static int try_one(seek_job *job, int from, int best) {
    for (int k = 0; k < job->n_axis && !seek_is_over(job); k++) {
        steps s = steps_of(job, &job->place[from], k);
        for (int i = 0; i < s.n; i++) {
            seek_place p = job->place[from];
            p.at[k] = s.at[i];
            best = try_place(job, &p, best);
        }
    }
    return best;
}

static int try_two(seek_job *job, int from, int k, int l, int best) {
    steps s = steps_of(job, &job->place[from], k), t = steps_of(job, &job->place[from], l);
    for (int i = 0; i < s.n; i++)
        for (int j = 0; j < t.n && !seek_is_over(job); j++) {
            seek_place p = job->place[from];
            p.at[k] = s.at[i];
            p.at[l] = t.at[j];
            best = try_place(job, &p, best);
        }
    return best;
}

static int try_pairs(seek_job *job, int from, int best) {
    for (int k = 0; k < job->n_axis; k++)
        for (int l = k + 1; l < job->n_axis && best == from; l++)
            best = try_two(job, from, k, l, best);
    return best;
}

int seek_polish(seek_job *job, int from, bool *is_whole) {
    for (int best = from;; from = best) {
        best = try_one(job, from, best);
        if (best == from) best = try_pairs(job, from, best);
        if (best != from && !seek_is_over(job)) continue;
        *is_whole = best == from && !seek_is_over(job);
        return best;
    }
}
