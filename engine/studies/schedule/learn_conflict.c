/* From a conflict to a clause: atoms of the level now open are replaced by what raised them until
 * one is left (first unique implication point: Marques-Silva and Sakallah, GRASP, 1999; with bounds
 * as atoms, made when they are needed: Ohrimenko, Stuckey and Codish, Propagation via lazy clause
 * generation, 2009; both from memory). Of a chain of differences no more is asked than is needed.
 */
#include "studies/schedule/learn.h"

typedef struct analysis {
    learn *l;
    int level_from; /* entries from here on are of the level now open */
    int n_open;     /* needed atoms among them */
} analysis;

static void need(analysis *x, learn_atom a) {
    learn *l = x->l;
    int at = learn_position(l, a);
    if (at < 0) return;
    if (l->need_at[a.bound] >= 0) {
        if (a.value <= l->need[a.bound]) return;
        x->n_open -= l->need_at[a.bound] >= x->level_from;
    } else {
        l->touched[l->n_touched++] = a.bound;
    }
    learn_bump(l, a, false);
    l->need[a.bound] = a.value;
    l->need_at[a.bound] = at;
    x->n_open += at >= x->level_from;
}

typedef bool (*told)(analysis *x, learn_atom why);

/* Tells each atom because of which the entry reached the value, until one is refused. */
static bool tell_reason(analysis *x, int place, int value, told tell) {
    const learn *l = x->l;
    const learn_entry *e = &l->trail[place];
    learn_atom why[2];
    if (e->n_reason == BY_ARC || e->n_reason == BY_ARC_TURNED) {
        int n = learn_arc_reason(l, place, value, why);
        for (int i = 0; i < n; i++)
            if (!tell(x, why[i])) return false;
    } else if (e->n_reason == BY_CLAUSE) {
        const learn_clause *c = &l->clause[e->reason];
        for (int i = 1; i < c->n_atom; i++)
            if (!tell(x, learn_not(l->atom[c->first + i]))) return false;
    } else {
        for (int i = 0; i < e->n_reason; i++)
            if (!tell(x, l->pool[e->reason + i])) return false;
    }
    return true;
}

static bool tell_need(analysis *x, learn_atom why) {
    need(x, why);
    return true;
}

/* Replaces until one atom of the level is left; its bound. */
static int resolve(analysis *x) {
    learn *l = x->l;
    for (int i = l->n_trail - 1;; i--) {
        int bound = l->trail[i].bound;
        if (l->need_at[bound] != i) continue;
        if (x->n_open == 1) return bound;
        l->need_at[bound] = -1;
        x->n_open--;
        /* It stays touched: the atoms below may need the same bound again. */
        int n_touched = l->n_touched;
        for (int k = 0; k < n_touched; k++)
            if (l->touched[k] == bound) {
                l->touched[k] = l->touched[--l->n_touched];
                break;
            }
        tell_reason(x, i, l->need[bound], tell_need);
    }
}

static bool tell_if_covered(analysis *x, learn_atom why) {
    const learn *l = x->l;
    if (l->base[why.bound] >= why.value) return true;
    return l->need_at[why.bound] >= 0 && l->need[why.bound] >= why.value;
}

/* Drops atoms that those which stay bring about. */
static void thin_out(analysis *x, int kept_bound) {
    learn *l = x->l;
    for (int i = 0; i < l->n_touched; i++) {
        int bound = l->touched[i], at = l->need_at[bound], value = l->need[bound];
        if (at < 0 || bound == kept_bound || l->trail[at].n_reason == BY_CHOICE) continue;
        l->need_at[bound] = -1;
        if (!tell_reason(x, at, value, tell_if_covered)) l->need_at[bound] = at;
    }
}

/* The clause, the last atom that held first, the one of the next level second; the level of that
 * one. */
static int write_lesson(learn *l, int kept_bound, int *n_level) {
    int second_at = -1;
    l->n_lesson = 0;
    l->lesson[l->n_lesson++] = learn_not((learn_atom){kept_bound, l->need[kept_bound]});
    for (int i = 0; i < l->n_touched; i++) {
        int bound = l->touched[i];
        if (bound == kept_bound || l->need_at[bound] < 0) continue;
        l->lesson[l->n_lesson++] = learn_not((learn_atom){bound, l->need[bound]});
        if (l->need_at[bound] <= second_at) continue;
        second_at = l->need_at[bound];
        learn_atom held = l->lesson[1];
        l->lesson[1] = l->lesson[l->n_lesson - 1];
        l->lesson[l->n_lesson - 1] = held;
    }
    *n_level = 0;
    for (int i = 0; i < l->n_lesson; i++) {
        int own = learn_level_of(l, learn_position(l, learn_not(l->lesson[i]))), k = 0;
        while (k < i && learn_level_of(l, learn_position(l, learn_not(l->lesson[k]))) != own) k++;
        *n_level += k == i;
    }
    return second_at < 0 ? 0 : learn_level_of(l, second_at);
}

static void clear_needs(learn *l) {
    for (int i = 0; i < l->n_touched; i++) l->need_at[l->touched[i]] = -1;
    l->n_touched = 0;
}

static bool tell_conflict(analysis *x, learn_atom why) {
    x->l->conflict[x->l->n_conflict++] = why;
    return true;
}

/* A bound that has passed its opposite: the opposite, and why the bound went so far. */
static void tell_clash(analysis *x) {
    learn *l = x->l;
    int bound = l->trail[l->n_trail - 1].bound, opposite = l->value[bound ^ 1];
    l->n_conflict = 0;
    tell_conflict(x, (learn_atom){bound ^ 1, opposite});
    tell_reason(x, l->n_trail - 1, 1 - opposite, tell_conflict);
}

/* Back to the level at which the conflict came about. */
static void go_back(learn *l) {
    int latest = -1;
    for (int i = 0; i < l->n_conflict; i++) {
        int at = learn_position(l, l->conflict[i]);
        if (at > latest) latest = at;
    }
    learn_undo(l, latest < 0 ? 0 : learn_level_of(l, latest));
}

bool learn_from_conflict(learn *l) {
    int n_level;
    analysis x = {.l = l};
    if (l->n_level == 0) return false;
    if (l->n_conflict == 0) tell_clash(&x);
    go_back(l);
    if (l->n_level == 0) return false;
    x.level_from = l->level_trail[l->n_level - 1];
    for (int i = 0; i < l->n_conflict; i++) need(&x, l->conflict[i]);
    int kept = resolve(&x);
    thin_out(&x, kept);
    int level = write_lesson(l, kept, &n_level);
    clear_needs(l);
    for (int i = 0; i < l->n_lesson; i++) learn_bump(l, l->lesson[i], true);
    learn_undo(l, level);
    learn_fade(l);
    if (l->is_out_of_memory) return true;
    if (l->n_lesson > 1 && !learn_add_clause(l, l->lesson, l->n_lesson, n_level))
        l->is_out_of_memory = true;
    else
        learn_raise(l, l->lesson[0], l->n_clause - 1, l->n_lesson > 1 ? BY_CLAUSE : BY_CHOICE);
    return true;
}
