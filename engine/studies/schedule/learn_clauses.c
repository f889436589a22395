/* Learnt clauses: one of their atoms must hold. Two atoms of each are watched; a clause is looked
 * at when one of them fails. */
#include "studies/schedule/learn.h"

#include <string.h>

enum { KEPT_LEVELS = 2 };

static bool watch(learn *l, int clause, learn_atom a) {
    learn_atom contrary = learn_not(a);
    learn_watches *w = &l->watches[contrary.bound];
    if (gradin_arena_grow(l->arena, (void **)&w->item, w->n, &w->capacity, sizeof *w->item) !=
        GRADIN_OK) {
        l->is_out_of_memory = true;
        return false;
    }
    w->item[w->n++] = (learn_watch){clause, contrary.value};
    return true;
}

bool learn_add_clause(learn *l, const learn_atom *atom, int n_atom, int n_level) {
    for (int i = 0; i < n_atom; i++) {
        if (gradin_arena_grow(l->arena, (void **)&l->atom, l->n_atom, &l->atom_capacity,
                              sizeof *l->atom) != GRADIN_OK)
            return false;
        l->atom[l->n_atom++] = atom[i];
    }
    if (gradin_arena_grow(l->arena, (void **)&l->clause, l->n_clause, &l->clause_capacity,
                          sizeof *l->clause) != GRADIN_OK)
        return false;
    l->clause[l->n_clause] = (learn_clause){l->n_atom - n_atom, n_atom, n_level};
    return watch(l, l->n_clause, atom[0]) && watch(l, l->n_clause, atom[1]) && ++l->n_clause;
}

static void swap(learn_atom *a, learn_atom *b) {
    learn_atom held = *a;
    *a = *b;
    *b = held;
}

static bool refuse(learn *l, const learn_clause *c) {
    for (l->n_conflict = 0; l->n_conflict < c->n_atom; l->n_conflict++)
        l->conflict[l->n_conflict] = learn_not(l->atom[c->first + l->n_conflict]);
    return false;
}

/* The watched atom whose contrary is `fallen` has failed; *stays: it is still watched. */
static bool visit(learn *l, int clause, learn_atom fallen, bool *stays) {
    const learn_clause *c = &l->clause[clause];
    learn_atom *a = &l->atom[c->first], failed = learn_not(fallen);
    if (a[0].bound == failed.bound && a[0].value == failed.value) swap(&a[0], &a[1]);
    *stays = true;
    if (learn_holds(l, a[0])) return true;
    for (int i = 2; i < c->n_atom; i++) {
        if (learn_fails(l, a[i])) continue;
        swap(&a[1], &a[i]);
        *stays = false;
        return watch(l, clause, a[1]);
    }
    return learn_fails(l, a[0]) ? refuse(l, c) : learn_raise(l, a[0], clause, BY_CLAUSE);
}

bool learn_visit_clauses(learn *l, int bound) {
    learn_watches *w = &l->watches[bound];
    bool is_well = true;
    int n_kept = 0;
    l->n_work += w->n / 8;
    for (int i = 0; i < w->n; i++) {
        learn_watch one = w->item[i];
        bool stays = true;
        if (is_well && one.value <= l->value[bound])
            is_well = visit(l, one.clause, (learn_atom){bound, one.value}, &stays);
        if (stays) w->item[n_kept++] = one;
    }
    w->n = n_kept;
    return is_well;
}

/* Without atoms that fail for good; 0 when one holds for good. */
static int shorten(const learn *l, const learn_clause *c) {
    int n = 0;
    for (int i = 0; i < c->n_atom; i++) {
        learn_atom a = l->atom[c->first + i];
        if (learn_holds(l, a)) return 0;
        if (!learn_fails(l, a)) l->atom[c->first + n++] = a;
    }
    return n;
}

/* The levels below which a clause is kept, so that half of them go. */
static int most_levels(const learn *l) {
    int n_of[64] = {0}, n = 0, most = KEPT_LEVELS;
    for (int i = 0; i < l->n_clause; i++)
        n_of[l->clause[i].n_level < 63 ? l->clause[i].n_level : 63]++;
    for (int i = 0; i < 64; i++) {
        n += n_of[i];
        if (n > l->n_clause / 2) break;
        if (i > most) most = i;
    }
    return most;
}

void learn_forget(learn *l) {
    int n_clause = l->n_clause, n_atom = 0, most = most_levels(l), n_young = n_clause / 8;
    for (int b = 0; b < 2 * l->n_variable; b++) l->watches[b].n = 0;
    l->n_clause = 0;
    for (int i = 0; i < n_clause; i++) {
        learn_clause c = l->clause[i];
        if (c.n_level > most && i < n_clause - n_young) continue;
        c.n_atom = shorten(l, &c);
        if (c.n_atom < 2) continue;
        memmove(&l->atom[n_atom], &l->atom[c.first], (size_t)c.n_atom * sizeof *l->atom);
        c.first = n_atom;
        n_atom += c.n_atom;
        l->clause[l->n_clause] = c;
        if (!watch(l, l->n_clause, l->atom[c.first]) ||
            !watch(l, l->n_clause, l->atom[c.first + 1]))
            return;
        l->n_clause++;
    }
    l->n_atom = n_atom;
    l->most_clauses += l->most_clauses / 20;
}
