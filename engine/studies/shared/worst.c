/* The worst seats of a layout by rating, visible fraction and index. */
#include "studies/shared/worst.h"

bool studies_is_worse(const gradin_sight *sight, int a, int b) {
    if (sight->rating[a] != sight->rating[b]) return sight->rating[a] > sight->rating[b];
    if (sight->visible[a] != sight->visible[b]) return sight->visible[a] < sight->visible[b];
    return a < b;
}

/* Puts seat i into the sorted list of n; the last one falls out of a full list. */
static int insert(const gradin_sight *sight, int *seat, int n, int i) {
    if (n == GRADIN_N_WORST && !studies_is_worse(sight, i, seat[n - 1])) return n;
    int at = n < GRADIN_N_WORST ? n++ : n - 1;
    for (; at > 0 && studies_is_worse(sight, i, seat[at - 1]); at--) seat[at] = seat[at - 1];
    seat[at] = i;
    return n;
}

int studies_worst(const gradin_sight *sight, int seat[GRADIN_N_WORST]) {
    int n = 0;
    for (int i = 0; i < sight->n_seat; i++) n = insert(sight, seat, n, i);
    return n;
}
