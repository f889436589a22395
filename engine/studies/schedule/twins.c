/* Equal moves may change places: only one order of them is searched, and people expect the first
 * one first. */
#include "studies/schedule/line.h"

static bool are_equal(const schedule_problem *p, int a, int b) {
    int n = p->n;
    if (p->duration_s[a] != p->duration_s[b]) return false;
    if (schedule_trips(p, a) != schedule_trips(p, b)) return false;
    for (int r = 0; r < p->n_limit; r++)
        if (p->demand[a * p->n_limit + r] != p->demand[b * p->n_limit + r]) return false;
    if (p->before[a * n + b] || p->before[b * n + a]) return false;
    for (int i = 0; i < n; i++) {
        if (i == a || i == b) continue;
        if (p->before[i * n + a] != p->before[i * n + b] ||
            p->before[a * n + i] != p->before[b * n + i] ||
            p->apart[i * n + a] != p->apart[i * n + b])
            return false;
    }
    return true;
}

void schedule_find_twins(const schedule_problem *p, int *twin) {
    for (int k = 0; k < p->n; k++) {
        twin[k] = -1;
        for (int i = 0; i < k; i++)
            if (are_equal(p, i, k)) twin[k] = i;
    }
}

static void swap(int *a, int *b) {
    int held = *a;
    *a = *b;
    *b = held;
}

void schedule_sort_twins(const schedule_line *l, int *start_s, int *trip_start_s) {
    const int *first = l->first_trip;
    for (int k = 0; k < l->p->n; k++)
        for (int i = 0; i < k; i++) {
            if (start_s[i] <= start_s[k] || !are_equal(l->p, i, k)) continue;
            swap(&start_s[i], &start_s[k]);
            for (int trip = 0; trip < first[k + 1] - first[k]; trip++)
                swap(&trip_start_s[first[i] + trip], &trip_start_s[first[k] + trip]);
        }
}
