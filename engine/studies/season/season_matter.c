/* What of a season matters most: seats, bays, words lost. */
#include "studies/season/season.h"

#include <string.h>

/* The class on its track that costs a seat most seconds of speech; a seat that lacks the index
 * without traffic has no words to lose. */
void season_worst_words(gradin_season *s) {
    for (int seat = 0; seat < s->model->seats.n_seat; seat++) {
        s->lost_s[seat] = s->voice.sii[seat] < s->traffic->sii_least ? NAN : 0.0;
        s->lost_flight[seat] = -1;
        for (int k = 0; k < s->n_flight; k++) {
            if (!(s->flight[k].lost_s[seat] > s->lost_s[seat])) continue;
            s->lost_s[seat] = s->flight[k].lost_s[seat];
            s->lost_flight[seat] = k;
        }
    }
}

/* More events over the limit a performance, then the louder loudest event, then the lower index. */
static bool matters_more(const gradin_season *s, int a, int b) {
    if (s->over_show[a] != s->over_show[b]) return s->over_show[a] > s->over_show[b];
    if (s->lamax_db[a] != s->lamax_db[b]) return s->lamax_db[a] > s->lamax_db[b];
    return a < b;
}

void season_rank_seats(gradin_season *s) {
    int n = 0, *seat = s->worst_seat;
    for (int i = 0; i < s->model->seats.n_seat; i++) {
        if (n == GRADIN_N_WORST && !matters_more(s, i, seat[n - 1])) continue;
        int at = n < GRADIN_N_WORST ? n++ : n - 1;
        for (; at > 0 && matters_more(s, i, seat[at - 1]); at--) seat[at] = seat[at - 1];
        seat[at] = i;
    }
    s->n_worst_seat = n;
}

static gradin_bays *bays_of(gradin_season *s, const gradin_element *element) {
    const char *entry = element->entry ? element->entry : element->name;
    for (int i = 0; i < s->n_bays; i++)
        if (strcmp(s->bays[i].entry, entry) == 0) return &s->bays[i];
    s->bays[s->n_bays] = (gradin_bays){.entry = entry, .loudest_element = -1};
    return &s->bays[s->n_bays++];
}

/* Largest share first; equal ones keep the order of the facade. */
static void sort_bays(gradin_season *s) {
    for (int i = 1; i < s->n_bays; i++) {
        gradin_bays moved = s->bays[i];
        int at = i;
        for (; at > 0 && s->bays[at - 1].share < moved.share; at--) s->bays[at] = s->bays[at - 1];
        s->bays[at] = moved;
    }
}

gradin_status season_rank_bays(gradin_arena *arena, gradin_season *s) {
    s->bays = gradin_arena_alloc(arena, (size_t)s->model->n_element, sizeof *s->bays);
    if (!s->bays) return GRADIN_NO_MEMORY;
    for (int e = 0; e < s->model->n_element; e++) {
        gradin_bays *bays = bays_of(s, &s->model->element[e]);
        bays->n_element++;
        bays->share += s->share[e];
        if (bays->loudest_element < 0 || s->share[e] > s->share[bays->loudest_element])
            bays->loudest_element = e;
    }
    for (int i = 0; i < s->n_bays; i++)
        s->bays[i].without_db =
            s->n_bays > 1 ? 10.0 * log10(fmax(1.0 - s->bays[i].share, 0.0)) : -INFINITY;
    sort_bays(s);
    return GRADIN_OK;
}
