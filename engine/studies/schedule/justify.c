/* Double justification (Valls, Ballestin and Quintanilla, Justification and RCPSP, 2005, from
 * memory): a schedule pushed to the right and back to the left is never longer and often shorter.
 */
#include "studies/schedule/schedule.h"

#include <stdlib.h>
#include <string.h>

/* Time runs backwards when is_late. */
typedef struct pass {
    const schedule_problem *p;
    int *start_s; /* [n] in this pass's time; -1 not placed */
    bool is_late;
} pass;

static int end_of(const pass *w, int i) {
    return w->start_s[i] + w->p->duration_s[i];
}

static bool runs_at(const pass *w, int i, int t_s) {
    return w->start_s[i] >= 0 && w->start_s[i] <= t_s && end_of(w, i) > t_s;
}

static bool fits_at(const pass *w, int k, int t_s) {
    int used[SCHEDULE_N_LIMIT] = {0};
    for (int i = 0; i < w->p->n; i++)
        for (int r = 0; r < SCHEDULE_N_LIMIT && runs_at(w, i, t_s); r++)
            used[r] += w->p->demand[i][r];
    for (int r = 0; r < SCHEDULE_N_LIMIT; r++)
        if (used[r] + w->p->demand[k][r] > w->p->capacity[r]) return false;
    return true;
}

/* Beside all that is placed: limits change only where a move starts. */
static bool fits_from(const pass *w, int k, int t_s) {
    int until_s = t_s + w->p->duration_s[k];
    for (int i = 0; i < w->p->n; i++)
        if (w->start_s[i] >= 0 && w->p->apart[i * w->p->n + k] && w->start_s[i] < until_s &&
            end_of(w, i) > t_s)
            return false;
    if (until_s > t_s && !fits_at(w, k, t_s)) return false;
    for (int i = 0; i < w->p->n; i++)
        if (w->start_s[i] > t_s && w->start_s[i] < until_s && !fits_at(w, k, w->start_s[i]))
            return false;
    return true;
}

static void place(pass *w, int k) {
    int n = w->p->n, t_s = 0;
    for (int i = 0; i < n; i++)
        if (w->start_s[i] >= 0 && w->p->before[w->is_late ? k * n + i : i * n + k] &&
            end_of(w, i) > t_s)
            t_s = end_of(w, i);
    while (!fits_from(w, k, t_s)) {
        int next_s = INT32_MAX;
        for (int i = 0; i < n; i++)
            if (w->start_s[i] >= 0 && end_of(w, i) > t_s && end_of(w, i) < next_s)
                next_s = end_of(w, i);
        t_s = next_s;
    }
    w->start_s[k] = t_s;
}

/* Stable order of `key`, least first. */
static void sort_by(const int *key, int n, int *order) {
    for (int i = 0; i < n; i++) {
        int k = i;
        for (; k > 0 && key[i] < key[order[k - 1]]; k--) order[k] = order[k - 1];
        order[k] = i;
    }
}

static int total_of(const pass *w) {
    int total_s = 0;
    for (int i = 0; i < w->p->n; i++)
        if (end_of(w, i) > total_s) total_s = end_of(w, i);
    return total_s;
}

/* Mirrors a schedule in time. */
static void mirror(const schedule_problem *p, const int *start_s, int total_s, int *out) {
    for (int i = 0; i < p->n; i++) out[i] = total_s - start_s[i] - p->duration_s[i];
}

static int push(const schedule_problem *p, bool is_late, const int *key, int *order, int *start_s) {
    pass w = {.p = p, .start_s = start_s, .is_late = is_late};
    sort_by(key, p->n, order);
    for (int i = 0; i < p->n; i++) start_s[i] = -1;
    for (int i = 0; i < p->n; i++) place(&w, order[i]);
    return total_of(&w);
}

int schedule_justify(const schedule_problem *p, int *start_s, int *scratch) {
    int *key = scratch, *order = scratch + p->n;
    pass now = {.p = p, .start_s = start_s};
    int total_s = total_of(&now), before_s;
    do {
        before_s = total_s;
        mirror(p, start_s, total_s, key);
        total_s = push(p, true, key, order, start_s);
        mirror(p, start_s, total_s, key);
        total_s = push(p, false, key, order, start_s);
    } while (total_s < before_s);
    return total_s;
}
