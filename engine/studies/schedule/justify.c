/* Double justification (Valls, Ballestin and Quintanilla, Justification and RCPSP, 2005, from
 * memory): a schedule pushed to the right and back to the left is never longer and often shorter.
 * With trips of a carrier it may come out longer: then the one before is kept. */
#include "studies/schedule/line.h"

#include <string.h>

/* Stable order of `key`, least first. */
static void sort_by(const int *key, int n, int *order) {
    for (int i = 0; i < n; i++) {
        int k = i;
        for (; k > 0 && key[i] < key[order[k - 1]]; k--) order[k] = order[k - 1];
        order[k] = i;
    }
}

void schedule_place(schedule_line *l, int k, bool is_late) {
    const schedule_links *tie = is_late ? &l->later : &l->earlier;
    int t_s = 0;
    for (int at = tie->first[k]; at < tie->first[k + 1]; at++)
        if (l->start_s[tie->list[at]] >= 0 && line_end(l, tie->list[at]) > t_s)
            t_s = line_end(l, tie->list[at]);
    line_put(l, k, line_earliest(l, k, t_s));
}

/* Mirrors the line in time and puts its moves down again by their starts there. */
static int push(schedule_line *l, bool is_late, int *scratch) {
    int n = l->p->n, *key = scratch, *order = scratch + n, total_s = line_total(l);
    for (int i = 0; i < n; i++) key[i] = total_s - line_end(l, i);
    sort_by(key, n, order);
    line_clear(l);
    for (int i = 0; i < n; i++) schedule_place(l, order[i], is_late);
    return line_total(l);
}

void schedule_put_all(schedule_line *l, const int *start_s, const int *trip_start_s) {
    line_clear(l);
    memcpy(l->trip_start_s, trip_start_s, (size_t)l->first_trip[l->p->n] * sizeof(int));
    for (int i = 0; i < l->p->n; i++) line_put(l, i, start_s[i]);
}

int schedule_justify(schedule_line *l, int *scratch) {
    int n = l->p->n, total_s = line_total(l), before_s;
    int *start_s = scratch + 2 * n, *trip_start_s = start_s + n;
    do {
        before_s = total_s;
        memcpy(start_s, l->start_s, (size_t)n * sizeof(int));
        memcpy(trip_start_s, l->trip_start_s, (size_t)l->first_trip[n] * sizeof(int));
        push(l, true, scratch);
        total_s = push(l, false, scratch);
    } while (total_s < before_s);
    if (total_s == before_s) return total_s;
    schedule_put_all(l, start_s, trip_start_s);
    return before_s;
}
