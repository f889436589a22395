/* Events of one flight with one offset are one group: what is asked of an event is asked once for
 * all of them. Offsets count to 0.01 dB. */
#include "studies/season/season.h"

#include <stdlib.h>

static const double offsets_per_db = 100.0;

typedef struct placed {
    int flight, event;
    double offset; /* whole, in 0.01 dB */
} placed;

static int by_group(const void *a, const void *b) {
    const placed *p = a, *q = b;
    if (p->flight != q->flight) return p->flight < q->flight ? -1 : 1;
    if (p->offset != q->offset) return p->offset < q->offset ? -1 : 1;
    return (p->event > q->event) - (p->event < q->event);
}

int64_t season_after_start_s(int64_t time_s, int start_s) {
    return ((time_s - start_s) % SEASON_DAY_S + SEASON_DAY_S) % SEASON_DAY_S;
}

static void place_events(const gradin_season *s, const int *index, placed *at) {
    const gradin_traffic *t = s->traffic;
    for (int i = 0; i < t->n_event; i++) {
        const gradin_event *e = &t->event[i];
        at[i] = (placed){index[e->class_index * t->n_track + e->track], i,
                         nearbyint(offsets_per_db * e->offset_db)};
    }
    qsort(at, (size_t)t->n_event, sizeof *at, by_group);
}

/* Standard deviation of a class's offsets about their mean. */
static double offsets_scatter_db(const gradin_traffic *t, int class_index) {
    double sum = 0.0, square = 0.0;
    int n = 0;
    for (int i = 0; i < t->n_event; i++)
        if (t->event[i].class_index == class_index) {
            sum += t->event[i].offset_db;
            n++;
        }
    for (int i = 0; i < t->n_event; i++)
        if (t->event[i].class_index == class_index) {
            double off_db = t->event[i].offset_db - sum / n;
            square += off_db * off_db;
        }
    return n > 0 ? sqrt(square / n) : 0.0;
}

/* What the offsets state of the scatter is not counted again. */
static bool leave_scatter(gradin_arena *arena, gradin_season *s) {
    int n_class = s->traffic->n_class;
    s->class_scatter_db = gradin_arena_alloc(arena, (size_t)n_class, sizeof(double));
    s->uncertainty.scatter_db = 0.0;
    for (int k = 0; s->class_scatter_db && k < n_class; k++) {
        double all_db = s->traffic->class_of[k].scatter_db;
        double stated_db = offsets_scatter_db(s->traffic, k);
        s->class_scatter_db[k] = sqrt(fmax(all_db * all_db - stated_db * stated_db, 0.0));
        s->uncertainty.scatter_db = fmax(s->uncertainty.scatter_db, s->class_scatter_db[k]);
    }
    return s->class_scatter_db != NULL;
}

bool season_group(gradin_arena *arena, gradin_season *s, const int *index, season_groups *groups) {
    size_t n = (size_t)s->traffic->n_event;
    placed *at = gradin_arena_alloc(arena, n, sizeof *at);
    *groups = (season_groups){.same = gradin_arena_alloc(arena, n, sizeof *groups->same),
                              .of_event = gradin_arena_alloc(arena, n, sizeof *groups->of_event)};
    if (!at || !groups->same || !groups->of_event || !leave_scatter(arena, s)) return false;
    place_events(s, index, at);
    for (size_t i = 0; i < n; i++) {
        const gradin_event *e = &s->traffic->event[at[i].event];
        if (i == 0 || at[i].flight != at[i - 1].flight || at[i].offset != at[i - 1].offset)
            groups->same[groups->n_same++] =
                (season_same){.flight = at[i].flight, .offset_db = at[i].offset / offsets_per_db};
        season_same *same = &groups->same[groups->n_same - 1];
        same->n++;
        same->n_show += season_after_start_s(e->time_s, s->traffic->start_s) < s->traffic->length_s;
        groups->of_event[at[i].event] = groups->n_same - 1;
    }
    return true;
}
