/* A tree of boxes: occluders are split at medians, along the axis that leaves the boxes of both
 * halves the least surface (J. D. MacDonald, K. S. Booth, Heuristics for ray tracing using space
 * subdivision, Visual Computer 6, 1990; from memory), until sixteen leaves are left; every node and
 * leaf but the last of a level is full. The same scene gives the same tree.
 */
#include "geometry/scene/bvh.h"

#include <float.h>

typedef struct item {
    float low[3], high[3];
    int32_t index;
} item;

/* Not kept: five million items are 60 MB smaller without. */
static float middle(const item *it, int axis) {
    return 0.5f * it->low[axis] + 0.5f * it->high[axis];
}

/* More are halved along the widest axis without trying the others. */
enum { MANY = 1 << 16 };

typedef struct bvh_builder {
    bvh *tree;
    item *item;
    int leaf; /* occluders per leaf */
} bvh_builder;

static float below(double x) {
    return nextafterf((float)x, -FLT_MAX);
}
static float above(double x) {
    return nextafterf((float)x, FLT_MAX);
}

static item make_item(const gradin_shape *shape, int index) {
    cull_box box = gradin_cull_shape_box(shape);
    double low[3] = {box.low.x, box.low.y, box.low.z};
    double high[3] = {box.high.x, box.high.y, box.high.z};
    item it = {.index = index};
    for (int a = 0; a < 3; a++) {
        it.low[a] = below(low[a]);
        it.high[a] = above(high[a]);
    }
    return it;
}

static int widest_axis(const item *it, int n) {
    float low[3] = {FLT_MAX, FLT_MAX, FLT_MAX}, high[3] = {-FLT_MAX, -FLT_MAX, -FLT_MAX};
    for (int i = 0; i < n; i++)
        for (int a = 0; a < 3; a++) {
            low[a] = fminf(low[a], middle(&it[i], a));
            high[a] = fmaxf(high[a], middle(&it[i], a));
        }
    int axis = 0;
    for (int a = 1; a < 3; a++)
        if (high[a] - low[a] > high[axis] - low[axis]) axis = a;
    return axis;
}

static bool comes_first(const item *a, const item *b, int axis) {
    float one = middle(a, axis), other = middle(b, axis);
    if (one != other) return one < other;
    return a->index < b->index;
}

static void swap_items(item *a, item *b) {
    item keep = *a;
    *a = *b;
    *b = keep;
}

/* Quickselect (Hoare 1961): the first k of it[n] come before the others along the axis. */
static void select_first(item *it, int n, int k, int axis) {
    int from = 0, to = n - 1;
    while (from < to) {
        item pivot = it[from + (to - from) / 2];
        int i = from, j = to;
        while (i <= j) {
            while (comes_first(&it[i], &pivot, axis)) i++;
            while (comes_first(&pivot, &it[j], axis)) j--;
            if (i <= j) swap_items(&it[i++], &it[j--]);
        }
        if (k <= j)
            to = j;
        else if (k >= i)
            from = i;
        else
            return;
    }
}

static void hold(bvh_node *node, int place, const item *it, int n) {
    for (int a = 0; a < 3; a++) {
        float low = it[0].low[a], high = it[0].high[a];
        for (int i = 1; i < n; i++) {
            low = fminf(low, it[i].low[a]);
            high = fmaxf(high, it[i].high[a]);
        }
        node->low[a][place] = low;
        node->high[a][place] = high;
    }
}

static int new_node(bvh *tree) {
    bvh_node *node = &tree->node[tree->n_node];
    for (int k = 0; k < BVH_WAYS; k++)
        for (int a = 0; a < 3; a++) {
            node->low[a][k] = BVH_EMPTY;
            node->high[a][k] = BVH_EMPTY;
        }
    return tree->n_node++;
}

static void grow(bvh_builder *p, int from, int n, int capacity, int node);

/* Half the surface of the box round the items. */
static float surface(const item *it, int n) {
    float low[3], high[3], side[3];
    for (int a = 0; a < 3; a++) {
        low[a] = it[0].low[a];
        high[a] = it[0].high[a];
    }
    for (int i = 1; i < n; i++)
        for (int a = 0; a < 3; a++) {
            low[a] = it[i].low[a] < low[a] ? it[i].low[a] : low[a];
            high[a] = it[i].high[a] > high[a] ? it[i].high[a] : high[a];
        }
    for (int a = 0; a < 3; a++) side[a] = high[a] - low[a];
    return side[0] * side[1] + side[1] * side[2] + side[2] * side[0];
}

/* Parts the items so that the boxes of both sides have the least surface, each counted by what it
 * holds. */
static void part(item *it, int n, int n_left) {
    int best = widest_axis(it, n), last = best;
    float least = FLT_MAX;
    if (n <= MANY) {
        for (int axis = 0; axis < 3; axis++) {
            select_first(it, n, n_left, axis);
            float cost = surface(it, n_left) * (float)n_left +
                         surface(it + n_left, n - n_left) * (float)(n - n_left);
            if (cost < least) {
                least = cost;
                best = axis;
            }
        }
        last = 2;
        if (best == last) return;
    }
    select_first(it, n, n_left, best);
}

/* Fills n_group places of the node from `place` on, `capacity` items each (the last may hold less).
 */
static void split(bvh_builder *p, int from, int n, int capacity, int n_group, int node, int place) {
    item *it = p->item + from;
    if (n_group > 1) {
        int left = n_group / 2, n_left = left * capacity;
        part(it, n, n_left);
        split(p, from, n_left, capacity, left, node, place);
        split(p, from + n_left, n - n_left, capacity, n_group - left, node, place + left);
        return;
    }
    hold(&p->tree->node[node], place, it, n);
    if (capacity == p->leaf) {
        p->tree->node[node].child[place] = -1 - from / p->leaf;
        return;
    }
    int child = new_node(p->tree);
    p->tree->node[node].child[place] = child;
    grow(p, from, n, capacity / BVH_WAYS, child);
}

static void grow(bvh_builder *p, int from, int n, int capacity, int node) {
    split(p, from, n, capacity, (n + capacity - 1) / capacity, node, 0);
}

static int count_nodes(int n, int leaf, int *capacity) {
    int n_node = 1;
    *capacity = leaf;
    while ((n - 1) / *capacity >= BVH_WAYS) {
        *capacity *= BVH_WAYS;
        n_node += (n + *capacity - 1) / *capacity;
    }
    return n_node;
}

static void make_items(const gradin_scene *scene, const int32_t *index, int n, bvh_builder *p) {
    for (int k = 0; k < n; k++) {
        item it = make_item(&scene->occluder[index[k]].shape, index[k]);
        for (int a = 0; a < 3; a++)
            p->tree->reach_m = fmaxf(p->tree->reach_m, fmaxf(fabsf(it.low[a]), fabsf(it.high[a])));
        p->item[k] = it;
    }
}

gradin_status gradin_bvh_build(gradin_arena *arena, const gradin_scene *scene, int32_t *index,
                               int n, int leaf, bvh *tree) {
    int capacity;
    *tree = (bvh){0};
    if (n == 0) return GRADIN_OK;
    gradin_arena *brief = gradin_arena_create();
    bvh_builder p = {tree, brief ? gradin_arena_alloc(brief, (size_t)n, sizeof(item)) : NULL, leaf};
    tree->node =
        gradin_arena_alloc(arena, (size_t)count_nodes(n, leaf, &capacity), sizeof(bvh_node));
    if (!p.item || !tree->node) {
        gradin_arena_destroy(brief);
        return GRADIN_NO_MEMORY;
    }
    make_items(scene, index, n, &p);
    grow(&p, 0, n, capacity, new_node(tree));
    for (int k = 0; k < n; k++) index[k] = p.item[k].index;
    gradin_arena_destroy(brief);
    return GRADIN_OK;
}
