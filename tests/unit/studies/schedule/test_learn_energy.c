/* A limit weighed by the work in stretches of time, against every assignment of starts: what it
 * refuses has none, what it raises holds in all of them, and so it does for all that its reasons
 * allow, not only for the bounds at hand. */
#include "studies/schedule/learn.h"

#include <criterion/criterion.h>

enum { N_TASK = 5, HORIZON = 7, N_DRAWN = 20000 };

static unsigned long state = 4711;

static int draw(int least, int most) {
    state = state * 6364136223846793005UL + 1442695040888963407UL;
    return least + (int)((state >> 40) % (unsigned long)(most - least + 1));
}

typedef struct weighed {
    learn l;
    learn_limit *limit;
} weighed;

/* Starts between 0 and HORIZON less the duration; then narrower, by choice. */
static weighed draw_case(gradin_arena *arena) {
    weighed w = {.l.n_variable = 0};
    cr_assert(learn_open(arena, N_TASK, &w.l));
    w.limit = w.l.limit = gradin_arena_alloc(arena, 1, sizeof *w.limit);
    cr_assert(learn_open_limit(&w.l, w.limit, N_TASK));
    w.limit->capacity = draw(2, 4);
    for (int i = 0; i < N_TASK; i++) {
        learn_task t = {i, draw(1, 5), draw(1, w.limit->capacity)};
        learn_add_task(w.limit, t);
        w.l.base[2 * i] = w.l.value[2 * i] = 0;
        w.l.base[2 * i + 1] = w.l.value[2 * i + 1] = t.duration - HORIZON;
    }
    w.l.n_limit = 1;
    return w;
}

static void narrow(learn *l) {
    learn_deepen(l);
    for (int i = 0; i < N_TASK; i++) {
        int high = -l->value[2 * i + 1];
        cr_assert(learn_raise(l, (learn_atom){2 * i, draw(0, high / 2)}, 0, BY_CHOICE));
        cr_assert(
            learn_raise(l, (learn_atom){2 * i + 1, -draw((high + 1) / 2, high)}, 0, BY_CHOICE));
    }
}

static bool is_within(const learn_limit *limit, const int *start) {
    for (int t = 0; t < HORIZON; t++) {
        int used = 0;
        for (int i = 0; i < N_TASK; i++)
            if (start[i] <= t && t < start[i] + limit->task[i].duration)
                used += limit->task[i].demand;
        if (used > limit->capacity) return false;
    }
    return true;
}

static bool keeps(const int *start, learn_atom a) {
    return (a.bound & 1 ? -start[a.bound / 2] : start[a.bound / 2]) >= a.value;
}

/* Some starts from the base on that keep the limit, all atoms and not the last one? */
static bool is_possible(const weighed *w, const learn_atom *atom, int n, const learn_atom *but) {
    int start[N_TASK] = {0};
    for (int i = 0; i < N_TASK;) {
        bool fits = is_within(w->limit, start) && !(but && keeps(start, *but));
        for (int k = 0; k < n && fits; k++) fits = keeps(start, atom[k]);
        if (fits) return true;
        for (i = 0; i < N_TASK && ++start[i] > -w->l.base[2 * i + 1]; i++) start[i] = 0;
    }
    return false;
}

/* The number of entries that have risen by weighing. */
static int expect_sound(const weighed *w, int from, bool is_well, int number) {
    const learn *l = &w->l;
    for (int i = from; i < l->n_trail; i++) {
        const learn_entry *e = &l->trail[i];
        learn_atom raised = {e->bound, e->value};
        cr_assert(!is_possible(w, &l->pool[e->reason], e->n_reason, &raised),
                  "case %d: bound %d to %d does not follow", number, e->bound, e->value);
    }
    if (!is_well && l->n_conflict > 0)
        cr_assert(!is_possible(w, l->conflict, l->n_conflict, NULL), "case %d refused", number);
    return l->n_trail - from;
}

Test(learn_energy, what_it_tells_follows_from_its_reasons) {
    int n_refused = 0, n_raised = 0;
    for (int number = 0; number < N_DRAWN; number++) {
        gradin_arena *arena = gradin_arena_create();
        weighed w = draw_case(arena);
        narrow(&w.l);
        w.l.n_done = w.l.n_trail;
        if (learn_fill_limit(&w.l, w.limit) && w.l.n_done == w.l.n_trail) {
            int from = w.l.n_trail;
            bool is_well = learn_weigh_limit(&w.l, w.limit);
            n_raised += expect_sound(&w, from, is_well, number);
            n_refused += !is_well;
        }
        gradin_arena_destroy(arena);
    }
    cr_assert(n_refused >= 50 && n_raised >= 100, "%d refused, %d raised", n_refused, n_raised);
}

/* Five tasks of two hours in four hours, two at a time: no part runs in any case, but it is too
 * much. */
Test(learn_energy, sees_too_much_work_where_nothing_is_fixed) {
    gradin_arena *arena = gradin_arena_create();
    learn l;
    cr_assert(learn_open(arena, 5, &l));
    l.limit = gradin_arena_alloc(arena, 1, sizeof *l.limit);
    cr_assert(learn_open_limit(&l, l.limit, 5));
    l.limit->capacity = 2;
    for (int i = 0; i < 5; i++) {
        learn_add_task(l.limit, (learn_task){i, 2, 1});
        l.base[2 * i + 1] = l.value[2 * i + 1] = -2;
    }
    l.n_limit = 1;
    cr_assert(learn_fill_limit(&l, l.limit));
    cr_assert_eq(l.n_trail, 0);
    cr_assert(!learn_weigh_limit(&l, l.limit));
    gradin_arena_destroy(arena);
}
