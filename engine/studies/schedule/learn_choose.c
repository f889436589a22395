/* Which atom to decide: the one that has been in most of the latest conflicts (Moskewicz and
 * others, Chaff, 2001, from memory), and as the schedule to stay near has it; without any, the
 * variable that can be least takes its least value. */
#include "studies/schedule/learn.h"

enum { PICK_HASH = 1 << 14, MOST_PICKS = 1 << 17 };
static const double FADE = 0.95, MOST_BUMP = 1e100;

bool learn_open_picks(learn *l) {
    l->pick_first = gradin_arena_alloc(l->arena, PICK_HASH, sizeof(int));
    for (int i = 0; l->pick_first && i < PICK_HASH; i++) l->pick_first[i] = -1;
    return l->pick_first != NULL;
}

static bool comes_before(const learn *l, int a, int b) {
    const learn_pick *x = &l->pick[a], *y = &l->pick[b];
    return x->weight > y->weight || (x->weight == y->weight && a < b);
}

static void place(learn *l, int at, int pick) {
    l->heap[at] = pick;
    l->pick[pick].place = at;
}

static void rise(learn *l, int at) {
    int pick = l->heap[at];
    for (; at > 0 && comes_before(l, pick, l->heap[(at - 1) / 2]); at = (at - 1) / 2)
        place(l, at, l->heap[(at - 1) / 2]);
    place(l, at, pick);
}

static void sink(learn *l, int at) {
    int pick = l->heap[at];
    for (int child; (child = 2 * at + 1) < l->n_heap; at = child) {
        if (child + 1 < l->n_heap && comes_before(l, l->heap[child + 1], l->heap[child])) child++;
        if (!comes_before(l, l->heap[child], pick)) break;
        place(l, at, l->heap[child]);
    }
    place(l, at, pick);
}

static void push(learn *l, int pick) {
    if (l->pick[pick].place >= 0) return;
    place(l, l->n_heap++, pick);
    rise(l, l->n_heap - 1);
}

static int pop(learn *l) {
    int pick = l->heap[0];
    l->pick[pick].place = -1;
    if (--l->n_heap > 0) {
        place(l, 0, l->heap[l->n_heap]);
        sink(l, 0);
    }
    return pick;
}

static int new_pick(learn *l, int bound, int value, unsigned hash) {
    if (l->n_pick >= MOST_PICKS) return -1;
    if (gradin_arena_grow(l->arena, (void **)&l->pick, l->n_pick, &l->pick_capacity,
                          sizeof *l->pick) != GRADIN_OK ||
        gradin_arena_grow(l->arena, (void **)&l->heap, l->n_pick, &l->heap_capacity, sizeof(int)) !=
            GRADIN_OK) {
        l->is_out_of_memory = true;
        return -1;
    }
    l->pick[l->n_pick] = (learn_pick){bound, value, l->pick_first[hash], -1, 0.0};
    l->pick_first[hash] = l->n_pick;
    push(l, l->n_pick);
    return l->n_pick++;
}

void learn_bump(learn *l, learn_atom a, bool is_new) {
    if (a.bound & 1) a = learn_not(a);
    unsigned hash = ((unsigned)a.bound * 2654435761u ^ (unsigned)a.value * 40503u) >> 3;
    hash = (hash ^ hash >> 14) % PICK_HASH;
    int i = l->pick_first[hash];
    while (i >= 0 && (l->pick[i].bound != a.bound || l->pick[i].value != a.value))
        i = l->pick[i].next;
    if (i < 0 && is_new) i = new_pick(l, a.bound, a.value, hash);
    if (i < 0) return;
    l->pick[i].weight += l->bump;
    if (l->pick[i].place >= 0) rise(l, l->pick[i].place);
}

void learn_fade(learn *l) {
    l->bump /= FADE;
    if (l->bump < MOST_BUMP) return;
    for (int i = 0; i < l->n_pick; i++) l->pick[i].weight /= MOST_BUMP;
    l->bump /= MOST_BUMP;
}

/* Those taken out since the trail was as short as it is now may be open again. */
void learn_put_back(learn *l) {
    while (l->n_out > 0 && l->out[l->n_out - 1].n_trail > l->n_trail)
        push(l, l->out[--l->n_out].pick);
}

static bool take_out(learn *l, int pick, int n_trail) {
    if (gradin_arena_grow(l->arena, (void **)&l->out, l->n_out, &l->out_capacity, sizeof *l->out) !=
        GRADIN_OK) {
        l->is_out_of_memory = true;
        return false;
    }
    l->out[l->n_out++] = (learn_out){pick, n_trail};
    return true;
}

static bool choose_first(const learn *l, learn_atom *a) {
    int first = -1;
    for (int v = 0; v < l->n_variable; v++) {
        if (learn_is_fixed(l, v)) continue;
        if (first < 0 || l->value[2 * v] < l->value[2 * first]) first = v;
    }
    if (first >= 0) *a = (learn_atom){2 * first + 1, -l->value[2 * first]};
    return first >= 0;
}

/* Does the schedule to stay near have it otherwise? */
static bool is_away(const learn *l, learn_atom a) {
    if (!l->near) return false;
    int value = l->near[a.bound / 2];
    return (a.bound & 1 ? -value : value) < a.value;
}

bool learn_choose(learn *l, learn_atom *a) {
    l->n_choice++;
    while (l->n_heap > 0) {
        int pick = l->heap[0];
        *a = (learn_atom){l->pick[pick].bound, l->pick[pick].value};
        bool is_open = !learn_holds(l, *a) && !learn_fails(l, *a);
        pop(l);
        if (!take_out(l, pick, l->n_trail + is_open)) return false;
        if (!is_open) continue;
        if (is_away(l, *a)) *a = learn_not(*a);
        return true;
    }
    return choose_first(l, a);
}
