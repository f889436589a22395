/* The widest way out of each cell: the least breadth along it is as great as on any way. For each
 * width, from the greatest down, the cells as wide as that which hang together with an exit that
 * lets it through, or with cells that have a way already: a flood per width, as in any text on
 * bottlenecks in graphs. */
#include "studies/fit/ways.h"

static bool may_enter(const ways *w, const bool *left_out, int cell, int width_cm) {
    return w->out_cm[cell] == 0 && w->wide_cm[cell] >= width_cm && !(left_out && left_out[cell]);
}

static bool is_by_way(const ways *w, int cell, int width_cm) {
    if (w->exit[cell] && w->door_cm[cell] >= width_cm) return true;
    for (int k = 0; k < 8; k++) {
        int beside = ways_beside(w, cell, k);
        if (beside >= 0 && w->out_cm[beside] > 0) return true;
    }
    return false;
}

static void enter(ways *w, int cell, int width_cm, int *n_queue) {
    w->out_cm[cell] = width_cm;
    w->heap[(*n_queue)++] = cell;
}

static void flood(ways *w, const bool *left_out, int width_cm) {
    int n = 0;
    for (int i = 0; i < w->n_cell; i++)
        if (may_enter(w, left_out, i, width_cm) && is_by_way(w, i, width_cm))
            enter(w, i, width_cm, &n);
    for (int i = 0; i < n; i++)
        for (int k = 0; k < 8; k++) {
            int beside = ways_beside(w, w->heap[i], k);
            if (beside >= 0 && may_enter(w, left_out, beside, width_cm))
                enter(w, beside, width_cm, &n);
        }
}

void ways_widest(ways *w, const bool *left_out, int from_cm) {
    for (int i = 0; i < w->n_cell; i++) w->out_cm[i] = 0;
    for (int width_cm = from_cm; width_cm >= WAYS_BODY_CM; width_cm--) flood(w, left_out, width_cm);
}
