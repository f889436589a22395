/* The best layouts for a run of shows: dynamic programming.
 *
 * Bellman's recursion over stages: (1) F_k(b) = own_k(b) + min over a of F_{k-1}(a) + way_k(a, b),
 * where a price has five parts that are compared one after the other. Each part adds up along the
 * way, so the order of sums is that of their terms and the recursion is exact. With the same
 * backwards, B_k(a), one day more before show k costs (2) min over a, b of F_{k-1}(a) +
 * day_later_k(a, b) + own_k(b) + B_k(b). */
#include "studies/programme/programme.h"

#include <math.h>

static const programme_price never = {.n_clash = 1 << 20};
static const double same_cost = 1e-9;

programme_price programme_price_of(const gradin_staging *s) {
    return (programme_price){.n_clash = s->no_way || s->short_s > 0,
                             .n_no_way = s->no_way != NULL,
                             .short_s = s->short_s,
                             .cost = s->cost,
                             .n_changeover = s->from_layout != s->layout};
}

programme_price programme_sum(programme_price a, programme_price b) {
    return (programme_price){a.n_clash + b.n_clash, a.n_no_way + b.n_no_way, a.short_s + b.short_s,
                             a.cost + b.cost, a.n_changeover + b.n_changeover};
}

int programme_compare(const programme_price *a, const programme_price *b) {
    if (a->n_clash != b->n_clash) return a->n_clash - b->n_clash;
    if (a->n_no_way != b->n_no_way) return a->n_no_way - b->n_no_way;
    if (a->short_s != b->short_s) return a->short_s < b->short_s ? -1 : 1;
    /* Sums in another order differ by rounding. */
    if (fabs(a->cost - b->cost) > same_cost * (1.0 + fabs(a->cost)))
        return a->cost < b->cost ? -1 : 1;
    return a->n_changeover - b->n_changeover;
}

typedef struct tables {
    const programme_step *step;
    int n_step, n_layout, first_layout;
    programme_price *forth, *back; /* [n_step][n_layout] */
    int *from, *to;                /* [n_step][n_layout] the layout before and after on that way */
} tables;

static const programme_price *way_of(const tables *t, int k, int a, int b) {
    return &t->step[k].way[a * t->n_layout + b];
}

/* Layouts that may stand before show k: its own choices of the show before. */
static int before(const tables *t, int k, const int **choice, const int *own) {
    *choice = k > 0 ? t->step[k - 1].choice : own;
    return k > 0 ? t->step[k - 1].n_choice : 1;
}

/* The price of show k in its choice i, after all before it. */
static void reach(const tables *t, int k, int i) {
    const programme_step *s = &t->step[k];
    int b = s->choice[i], own = t->first_layout >= 0 ? t->first_layout : b;
    const int *choice;
    int n = before(t, k, &choice, &own), at = k * t->n_layout + b;
    t->forth[at] = never;
    for (int j = 0; j < n; j++) {
        int a = choice[j];
        programme_price so_far =
            k > 0 ? t->forth[(k - 1) * t->n_layout + a] : (programme_price){.n_clash = 0};
        programme_price sum = programme_sum(so_far, programme_sum(*way_of(t, k, a, b), s->own[i]));
        if (programme_compare(&sum, &t->forth[at]) >= 0) continue;
        t->forth[at] = sum;
        t->from[at] = a;
    }
}

/* What comes after show k in its choice i. */
static void look_ahead(const tables *t, int k, int i) {
    int a = t->step[k].choice[i];
    programme_price *best = &t->back[k * t->n_layout + a];
    *best = k + 1 < t->n_step ? never : (programme_price){.n_clash = 0};
    for (int j = 0; k + 1 < t->n_step && j < t->step[k + 1].n_choice; j++) {
        const programme_step *next = &t->step[k + 1];
        int b = next->choice[j];
        programme_price sum = programme_sum(programme_sum(*way_of(t, k + 1, a, b), next->own[j]),
                                            t->back[(k + 1) * t->n_layout + b]);
        if (programme_compare(&sum, best) >= 0) continue;
        *best = sum;
        t->to[k * t->n_layout + a] = b;
    }
}

static void follow_back(const tables *t, int k, int at, int *layout) {
    for (; k >= 0; k--) {
        layout[k] = at;
        at = t->from[k * t->n_layout + at];
    }
}

static void follow_on(const tables *t, int k, int at, int *layout) {
    for (; k < t->n_step; k++) {
        layout[k] = at;
        at = t->to[k * t->n_layout + at];
    }
}

/* (2) and the layouts on both sides of the day. */
static programme_price with_day(const tables *t, int k, int *from, int *to) {
    programme_price best = never;
    const programme_step *s = &t->step[k];
    for (int i = 0; i < t->step[k - 1].n_choice; i++)
        for (int j = 0; j < s->n_choice; j++) {
            int a = t->step[k - 1].choice[i], b = s->choice[j];
            programme_price sum =
                programme_sum(programme_sum(t->forth[(k - 1) * t->n_layout + a],
                                            s->day_later[a * t->n_layout + b]),
                              programme_sum(s->own[j], t->back[k * t->n_layout + b]));
            if (programme_compare(&sum, &best) >= 0) continue;
            best = sum;
            *from = a;
            *to = b;
        }
    return best;
}

static void find_day(const tables *t, programme_run *run) {
    programme_price best = run->price, price = run->price;
    int from = 0, to = 0;
    run->day = (gradin_free_day){.before = -1};
    for (int k = 0; k < t->n_step; k++) run->day_layout[k] = run->layout[k];
    for (int k = 1; k < t->n_step; k++) {
        programme_price sum = with_day(t, k, &from, &to);
        if (programme_compare(&sum, &best) >= 0) continue;
        best = sum;
        run->day = (gradin_free_day){k, price.cost - sum.cost, price.n_clash - sum.n_clash,
                                     price.short_s - sum.short_s, price.n_no_way - sum.n_no_way};
        follow_back(t, k - 1, from, run->day_layout);
        follow_on(t, k, to, run->day_layout);
    }
}

static void go_back(const tables *t, programme_run *run) {
    int last = t->n_step - 1, at = t->step[last].choice[0];
    for (int i = 1; i < t->step[last].n_choice; i++) {
        int b = t->step[last].choice[i];
        if (programme_compare(&t->forth[last * t->n_layout + b],
                              &t->forth[last * t->n_layout + at]) < 0)
            at = b;
    }
    run->price = t->forth[last * t->n_layout + at];
    follow_back(t, last, at, run->layout);
}

gradin_status programme_path(gradin_arena *arena, const programme_step *step, int n_step,
                             int n_layout, int first_layout, programme_run *run) {
    size_t n = (size_t)n_step * (size_t)n_layout;
    tables t = {.step = step,
                .n_step = n_step,
                .n_layout = n_layout,
                .first_layout = first_layout,
                .forth = gradin_arena_alloc(arena, n, sizeof *t.forth),
                .back = gradin_arena_alloc(arena, n, sizeof *t.back),
                .from = gradin_arena_alloc(arena, n, sizeof *t.from),
                .to = gradin_arena_alloc(arena, n, sizeof *t.to)};
    if (!t.forth || !t.back || !t.from || !t.to) return GRADIN_NO_MEMORY;
    for (int k = 0; k < n_step; k++)
        for (int i = 0; i < step[k].n_choice; i++) reach(&t, k, i);
    for (int k = n_step - 1; k >= 0; k--)
        for (int i = 0; i < step[k].n_choice; i++) look_ahead(&t, k, i);
    go_back(&t, run);
    find_day(&t, run);
    return GRADIN_OK;
}
