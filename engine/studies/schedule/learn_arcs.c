/* Differences between variables, some under a condition: followed forwards, and turned against the
 * condition when they cannot hold. */
#include "studies/schedule/learn.h"

static bool add(learn *l, learn_arc arc) {
    if (gradin_arena_grow(l->arena, (void **)&l->arc, l->n_arc, &l->arc_capacity, sizeof arc) !=
        GRADIN_OK)
        return false;
    l->arc[l->n_arc] = arc;
    return learn_list_add(l, &l->arcs_from[arc.from], l->n_arc) &&
           (arc.when.bound < 0 || learn_list_add(l, &l->arcs_when[arc.when.bound], l->n_arc)) &&
           ++l->n_arc;
}

/* Also backwards, for the upper bounds. */
bool learn_add_arc(learn *l, int from, int to, int weight, learn_atom when) {
    return add(l, (learn_arc){2 * from, 2 * to, weight, when}) &&
           add(l, (learn_arc){2 * to + 1, 2 * from + 1, weight, when});
}

static bool follow(learn *l, int i) {
    const learn_arc *arc = &l->arc[i];
    learn_atom reached = {arc->to, l->value[arc->from] + arc->weight};
    if (arc->when.bound < 0 || learn_holds(l, arc->when)) return learn_raise(l, reached, i, BY_ARC);
    if (!learn_fails(l, reached)) return true;
    return learn_raise(l, learn_not(arc->when), i, BY_ARC_TURNED);
}

bool learn_follow_arcs(learn *l, int bound) {
    const learn_list *from = &l->arcs_from[bound], *when = &l->arcs_when[bound];
    l->n_work += from->n;
    for (int i = 0; i < from->n; i++)
        if (!follow(l, from->item[i])) return false;
    for (int i = 0; i < when->n; i++)
        if (learn_holds(l, l->arc[when->item[i]].when) && !follow(l, when->item[i])) return false;
    return true;
}

static int value_before(const learn *l, int bound, int place) {
    int at = l->last[bound];
    while (at >= place) at = l->trail[at].before;
    return at >= 0 ? l->trail[at].value : l->base[bound];
}

int learn_arc_reason(const learn *l, int place, int value, learn_atom why[2]) {
    const learn_entry *e = &l->trail[place];
    const learn_arc *arc = &l->arc[e->reason];
    if (e->n_reason == BY_ARC) {
        why[0] = (learn_atom){arc->from, value - arc->weight};
        why[1] = arc->when;
        return arc->when.bound < 0 ? 1 : 2;
    }
    int from = value_before(l, arc->from, place);
    why[0] = (learn_atom){arc->from, from};
    why[1] = learn_not((learn_atom){arc->to, from + arc->weight});
    return 2;
}
