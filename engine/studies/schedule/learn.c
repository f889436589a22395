/* The search: chooses, follows what comes of it, learns from conflicts and begins anew now and then
 * (Luby, Sinclair and Zuckerman, Optimal speedup of Las Vegas algorithms, 1993, from memory). */
#include "studies/schedule/learn.h"

enum { A_RESTART = 250, WORK_PER_ENTRY = 4 };

static bool fill_limits(learn *l) {
    for (int i = 0; i < l->n_limit && l->n_done == l->n_trail; i++) {
        if (!l->limit[i].is_stale) continue;
        l->limit[i].is_stale = false;
        if (!learn_fill_limit(l, &l->limit[i])) return false;
    }
    return true;
}

static bool weigh_limits(learn *l) {
    for (int i = 0; i < l->n_limit && l->n_done == l->n_trail; i++) {
        if (!l->limit[i].is_unweighed) continue;
        l->limit[i].is_unweighed = false;
        if (!learn_weigh_limit(l, &l->limit[i])) return false;
    }
    return true;
}

static bool is_any_stale(const learn *l) {
    for (int i = 0; i < l->n_limit; i++)
        if (l->limit[i].is_stale || l->limit[i].is_unweighed) return true;
    return false;
}

static bool propagate(learn *l) {
    while (l->n_done < l->n_trail || is_any_stale(l)) {
        while (l->n_done < l->n_trail) {
            int bound = l->trail[l->n_done++].bound;
            const learn_list *limits = &l->limits_of[bound / 2];
            l->n_work += WORK_PER_ENTRY;
            for (int i = 0; i < limits->n; i++) l->limit[limits->item[i]].is_stale = true;
            if (!learn_visit_clauses(l, bound) || !learn_follow_arcs(l, bound)) return false;
        }
        if (!fill_limits(l)) return false;
        if (l->n_done == l->n_trail && !weigh_limits(l)) return false;
    }
    return true;
}

/* 1, 1, 2, 1, 1, 2, 4, .. */
static int luby(int i) {
    int k = 1;
    while ((1 << k) - 1 < i + 1) k++;
    return (1 << k) - 1 == i + 1 ? 1 << (k - 1) : luby(i - (1 << (k - 1)) + 1);
}

static void begin_anew(learn *l) {
    learn_undo(l, 0);
    if (l->n_clause <= l->most_clauses || l->n_trail > 0) return;
    learn_forget(l);
}

/* At the root: is there still something to search for? */
static bool assume(learn *l, learn_atom assumed) {
    learn_commit(l);
    if (learn_fails(l, assumed)) return false;
    learn_deepen(l);
    if (!l->is_out_of_memory) learn_raise(l, assumed, 0, BY_CHOICE);
    return true;
}

learn_answer learn_search(learn *l, learn_atom assumed, long n_work) {
    long most_work = l->n_work + n_work, next = l->n_conflicts + A_RESTART * luby(l->n_restart);
    learn_atom a;
    while (!l->is_closed && !l->is_out_of_memory) {
        if (!propagate(l)) {
            if (l->is_out_of_memory) break;
            l->n_conflicts++;
            l->is_closed = !learn_from_conflict(l);
        } else if (l->n_work >= most_work) {
            learn_undo(l, 0);
            return LEARN_STOPPED;
        } else if (l->n_conflicts >= next) {
            next = l->n_conflicts + A_RESTART * luby(++l->n_restart);
            begin_anew(l);
        } else if (l->n_level == 0) {
            if (!assume(l, assumed)) return LEARN_REFUTED;
        } else if (learn_choose(l, &a)) {
            learn_deepen(l);
            if (!l->is_out_of_memory) learn_raise(l, a, 0, BY_CHOICE);
        } else if (!l->is_out_of_memory) {
            return LEARN_SOLVED;
        }
    }
    learn_undo(l, 0);
    return l->is_closed ? LEARN_REFUTED : LEARN_STOPPED;
}
