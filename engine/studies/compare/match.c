/* Which seat of one layout is which of another: by name, and by place on plan. Places are matched
 * one to one, the nearest pair first, within GRADIN_SAME_PLACE_M on plan and a storey in height, so
 * that a lift that rises keeps its seats and a balcony does not take those below it. */
#include "studies/compare/compare.h"

#include <stdlib.h>
#include <string.h>

static const double storey_m = 2.0;

typedef struct named {
    const char *id;
    int seat;
} named;

typedef struct candidate {
    double apart_m;
    int from, to;
} candidate;

typedef struct placed {
    double x_m;
    int seat;
} placed;

static int by_id(const void *a, const void *b) {
    return strcmp(((const named *)a)->id, ((const named *)b)->id);
}

static int by_x(const void *a, const void *b) {
    const placed *p = a, *q = b;
    if (p->x_m != q->x_m) return p->x_m < q->x_m ? -1 : 1;
    return p->seat - q->seat;
}

static int by_distance(const void *a, const void *b) {
    const candidate *p = a, *q = b;
    if (p->apart_m != q->apart_m) return p->apart_m < q->apart_m ? -1 : 1;
    return p->from != q->from ? p->from - q->from : p->to - q->to;
}

gradin_vec2 compare_moved(const compare_way *way, gradin_vec3 at_m) {
    if (!way->is_mirrored) return (gradin_vec2){at_m.x, at_m.y};
    gradin_vec2 along = gradin_bearing_unit(way->axis_deg);
    double x = at_m.x - way->from_m.x, y = at_m.y - way->from_m.y;
    double twice = 2.0 * (x * along.x + y * along.y);
    return (gradin_vec2){way->to_m.x + twice * along.x - x, way->to_m.y + twice * along.y - y};
}

gradin_status compare_no_partners(gradin_arena *arena, int n_from, int n_to,
                                  compare_partners *partners) {
    size_t n = (size_t)n_from;
    *partners = (compare_partners){.partner = gradin_arena_alloc(arena, n, sizeof(int)),
                                   .back = gradin_arena_alloc(arena, (size_t)n_to, sizeof(int)),
                                   .matched = gradin_arena_alloc(arena, n, sizeof(gradin_matched)),
                                   .apart_m = gradin_arena_alloc(arena, n, sizeof(double))};
    if (!partners->partner || !partners->back || !partners->matched || !partners->apart_m)
        return GRADIN_NO_MEMORY;
    for (int i = 0; i < n_from; i++) {
        partners->partner[i] = -1;
        partners->apart_m[i] = NAN;
    }
    for (int i = 0; i < n_to; i++) partners->back[i] = -1;
    return GRADIN_OK;
}

static void join(compare_partners *p, int from, int to, gradin_matched how) {
    p->partner[from] = to;
    p->back[to] = from;
    p->matched[from] = how;
    p->n++;
}

gradin_status compare_match_names(gradin_arena *arena, const gradin_seats *from,
                                  const gradin_seats *to, compare_partners *partners) {
    named *sorted = gradin_arena_alloc(arena, (size_t)to->n_seat, sizeof *sorted);
    if (!sorted) return GRADIN_NO_MEMORY;
    for (int i = 0; i < to->n_seat; i++) sorted[i] = (named){to->id[i], i};
    qsort(sorted, (size_t)to->n_seat, sizeof *sorted, by_id);
    for (int i = 0; i < from->n_seat; i++) {
        named key = {from->id[i], i};
        const named *found = bsearch(&key, sorted, (size_t)to->n_seat, sizeof *sorted, by_id);
        if (!found || partners->back[found->seat] >= 0) continue;
        join(partners, i, found->seat, GRADIN_MATCHED_NAME);
        partners->apart_m[i] = hypot(from->floor_m[i].x - to->floor_m[found->seat].x,
                                     from->floor_m[i].y - to->floor_m[found->seat].y);
    }
    return GRADIN_OK;
}

/* The first of sorted[n] that is not left of x_m. */
static int first_from(const placed *sorted, int n, double x_m) {
    int low = 0, high = n;
    while (low < high) {
        int middle = low + (high - low) / 2;
        if (sorted[middle].x_m < x_m)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

typedef struct search {
    const gradin_seats *from, *to;
    placed *free_seat; /* [n_free] of `to`, from the left */
    int n_free;
    candidate *found;
    int n_found, capacity;
} search;

static gradin_status look_near(gradin_arena *arena, search *s, int i, gradin_vec2 at_m) {
    for (int k = first_from(s->free_seat, s->n_free, at_m.x - GRADIN_SAME_PLACE_M);
         k < s->n_free && s->free_seat[k].x_m <= at_m.x + GRADIN_SAME_PLACE_M; k++) {
        gradin_vec3 there_m = s->to->floor_m[s->free_seat[k].seat];
        double apart_m = hypot(there_m.x - at_m.x, there_m.y - at_m.y);
        if (apart_m > GRADIN_SAME_PLACE_M || fabs(there_m.z - s->from->floor_m[i].z) > storey_m)
            continue;
        void *all = s->found;
        gradin_status status =
            gradin_arena_grow(arena, &all, s->n_found, &s->capacity, sizeof *s->found);
        if (status != GRADIN_OK) return status;
        s->found = all;
        s->found[s->n_found++] = (candidate){apart_m, i, s->free_seat[k].seat};
    }
    return GRADIN_OK;
}

static void take_nearest(search *s, gradin_matched how, compare_partners *partners) {
    if (s->n_found == 0) return;
    qsort(s->found, (size_t)s->n_found, sizeof *s->found, by_distance);
    for (int k = 0; k < s->n_found; k++) {
        const candidate *c = &s->found[k];
        if (partners->partner[c->from] >= 0 || partners->back[c->to] >= 0) continue;
        join(partners, c->from, c->to, how);
        partners->apart_m[c->from] = c->apart_m;
    }
}

gradin_status compare_match_places(gradin_arena *arena, const gradin_seats *from,
                                   const gradin_seats *to, const compare_way *way,
                                   compare_partners *partners) {
    search s = {.from = from, .to = to};
    gradin_status status = GRADIN_OK;
    s.free_seat = gradin_arena_alloc(arena, (size_t)to->n_seat, sizeof *s.free_seat);
    if (!s.free_seat) return GRADIN_NO_MEMORY;
    for (int i = 0; i < to->n_seat; i++)
        if (partners->back[i] < 0) s.free_seat[s.n_free++] = (placed){to->floor_m[i].x, i};
    qsort(s.free_seat, (size_t)s.n_free, sizeof *s.free_seat, by_x);
    for (int i = 0; i < from->n_seat && status == GRADIN_OK; i++)
        if (partners->partner[i] < 0)
            status = look_near(arena, &s, i, compare_moved(way, from->floor_m[i]));
    if (status == GRADIN_OK)
        take_nearest(&s, way->is_mirrored ? GRADIN_MATCHED_MIRROR : GRADIN_MATCHED_PLACE, partners);
    return status;
}
