/* The trail of bounds that have risen, level by level, and the way back. */
#include "studies/schedule/learn.h"

bool learn_open(gradin_arena *arena, int n_variable, learn *l) {
    size_t n = (size_t)(n_variable > 0 ? n_variable : 1);
    *l = (learn){.arena = arena, .n_variable = n_variable, .bump = 1.0, .most_clauses = 4000};
    int **array[] = {&l->base, &l->value, &l->last, &l->need, &l->need_at, &l->touched};
    for (size_t i = 0; i < sizeof array / sizeof *array; i++) {
        *array[i] = gradin_arena_alloc(arena, 2 * n, sizeof(int));
        if (!*array[i]) return false;
    }
    l->arcs_from = gradin_arena_alloc(arena, 2 * n, sizeof *l->arcs_from);
    l->arcs_when = gradin_arena_alloc(arena, 2 * n, sizeof *l->arcs_when);
    l->limits_of = gradin_arena_alloc(arena, n, sizeof *l->limits_of);
    l->watches = gradin_arena_alloc(arena, 2 * n, sizeof *l->watches);
    l->conflict = gradin_arena_alloc(arena, 2 * n, sizeof *l->conflict);
    l->lesson = gradin_arena_alloc(arena, 2 * n, sizeof *l->lesson);
    for (size_t i = 0; i < 2 * n; i++) l->last[i] = l->need_at[i] = -1;
    return l->conflict && l->lesson && l->arcs_from && l->arcs_when && l->limits_of && l->watches &&
           learn_open_picks(l);
}

bool learn_list_add(learn *l, learn_list *list, int item) {
    if (gradin_arena_grow(l->arena, (void **)&list->item, list->n, &list->capacity, sizeof(int)) !=
        GRADIN_OK)
        return false;
    list->item[list->n++] = item;
    return true;
}

bool learn_raise(learn *l, learn_atom a, int reason, int n_reason) {
    if (learn_holds(l, a)) return true;
    if (gradin_arena_grow(l->arena, (void **)&l->trail, l->n_trail, &l->trail_capacity,
                          sizeof *l->trail) != GRADIN_OK) {
        l->is_out_of_memory = true;
        return false;
    }
    l->trail[l->n_trail] = (learn_entry){a.bound, a.value, l->last[a.bound], reason, n_reason};
    l->last[a.bound] = l->n_trail++;
    l->value[a.bound] = a.value;
    if (!learn_fails(l, a)) return true;
    l->n_conflict = 0;
    return false;
}

void learn_deepen(learn *l) {
    if (gradin_arena_grow(l->arena, (void **)&l->level_trail, l->n_level, &l->level_capacity,
                          sizeof(int)) != GRADIN_OK ||
        gradin_arena_grow(l->arena, (void **)&l->level_pool, l->n_level, &l->level_pool_capacity,
                          sizeof(int)) != GRADIN_OK) {
        l->is_out_of_memory = true;
        return;
    }
    l->level_trail[l->n_level] = l->n_trail;
    l->level_pool[l->n_level++] = l->n_pool;
}

void learn_undo(learn *l, int n_level) {
    if (n_level >= l->n_level) return;
    int to = l->level_trail[n_level];
    for (int i = l->n_trail - 1; i >= to; i--) {
        const learn_entry *e = &l->trail[i];
        l->last[e->bound] = e->before;
        l->value[e->bound] = e->before >= 0 ? l->trail[e->before].value : l->base[e->bound];
    }
    l->n_trail = l->n_done = to;
    l->n_pool = l->level_pool[n_level];
    l->n_level = n_level;
    for (int i = 0; i < l->n_limit; i++) l->limit[i].is_stale = l->limit[i].is_unweighed = false;
    learn_put_back(l);
}

void learn_commit(learn *l) {
    for (int i = 0; i < l->n_trail; i++) l->last[l->trail[i].bound] = -1;
    for (int b = 0; b < 2 * l->n_variable; b++) l->base[b] = l->value[b];
    l->n_trail = l->n_done = l->n_pool = 0;
}

int learn_position(const learn *l, learn_atom a) {
    if (l->base[a.bound] >= a.value) return -1;
    int at = l->last[a.bound];
    while (l->trail[at].before >= 0 && l->trail[l->trail[at].before].value >= a.value)
        at = l->trail[at].before;
    return at;
}

int learn_level_of(const learn *l, int position) {
    int low = 0, high = l->n_level;
    while (low < high) {
        int middle = (low + high) / 2;
        if (l->level_trail[middle] <= position)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}
