/* Whether anything stands between two points: a binary tree of upright boxes, cut at the middle
 * occluder of the longest side, and for what a ray may meet gradin_shape_hit(). Rays of radiosity
 * go every way from everywhere, a few from each point, so that culling by cones costs more than it
 * saves. */
#include "acoustics/patches/between.h"

#include <stdlib.h>

enum { MOST_DEPTH = 48 };

static const double slack_m = 1e-6, no_slope = 1e300;

typedef struct upright_box {
    double low_m[3], high_m[3];
} upright_box;

/* Children at `first` and `first` + 1, or one occluder: -1 - first. */
typedef struct tree_node {
    upright_box box;
    int first;
} tree_node;

struct gradin_between {
    const gradin_scene *scene;
    tree_node *node; /* [2 n_occluder], the root first */
    int n_node;
};

typedef struct place {
    upright_box box;
    double middle_m[3];
    int occluder;
} place;

static void widen(upright_box *box, gradin_vec3 at_m, double by_m) {
    const double at[3] = {at_m.x, at_m.y, at_m.z};
    for (int a = 0; a < 3; a++) {
        box->low_m[a] = fmin(box->low_m[a], at[a] - by_m);
        box->high_m[a] = fmax(box->high_m[a], at[a] + by_m);
    }
}

static const upright_box nothing = {{INFINITY, INFINITY, INFINITY},
                                    {-INFINITY, -INFINITY, -INFINITY}};

static upright_box box_of(const gradin_shape *shape) {
    upright_box box = nothing;
    if (shape->kind == GRADIN_SHAPE_PRISM) {
        gradin_box2 plan = gradin_polygon_bounds(shape->as.prism.polygon);
        widen(&box, (gradin_vec3){plan.x_min_m, plan.y_min_m, shape->as.prism.bottom_m}, slack_m);
        widen(&box, (gradin_vec3){plan.x_max_m, plan.y_max_m, shape->as.prism.top_m}, slack_m);
    } else if (shape->kind == GRADIN_SHAPE_TRIANGLE) {
        for (int i = 0; i < 3; i++) widen(&box, shape->as.triangle.corner_m[i], slack_m);
    } else {
        widen(&box, shape->bound_centre_m, shape->bound_radius_m + slack_m);
    }
    return box;
}

static upright_box box_round(const place *all, int n) {
    upright_box box = nothing;
    for (int i = 0; i < n; i++)
        for (int a = 0; a < 3; a++) {
            box.low_m[a] = fmin(box.low_m[a], all[i].box.low_m[a]);
            box.high_m[a] = fmax(box.high_m[a], all[i].box.high_m[a]);
        }
    return box;
}

static int compare(const place *p, const place *q, int axis) {
    if (p->middle_m[axis] != q->middle_m[axis])
        return p->middle_m[axis] < q->middle_m[axis] ? -1 : 1;
    return (p->occluder > q->occluder) - (p->occluder < q->occluder);
}

static int by_x(const void *p, const void *q) {
    return compare(p, q, 0);
}
static int by_y(const void *p, const void *q) {
    return compare(p, q, 1);
}
static int by_z(const void *p, const void *q) {
    return compare(p, q, 2);
}

static int longest_axis(const upright_box *box) {
    int axis = 0;
    for (int a = 1; a < 3; a++)
        if (box->high_m[a] - box->low_m[a] > box->high_m[axis] - box->low_m[axis]) axis = a;
    return axis;
}

static void build(gradin_between *tree, int at, place *all, int n) {
    static int (*const by[3])(const void *, const void *) = {by_x, by_y, by_z};
    tree_node *node = &tree->node[at];
    node->box = box_round(all, n);
    if (n == 1) {
        node->first = -1 - all[0].occluder;
        return;
    }
    qsort(all, (size_t)n, sizeof *all, by[longest_axis(&node->box)]);
    node->first = tree->n_node;
    tree->n_node += 2;
    int first = node->first;
    build(tree, first, all, n / 2);
    build(tree, first + 1, all + n / 2, n - n / 2);
}

gradin_between *gradin_between_make(gradin_arena *arena, const gradin_scene *scene) {
    int n = scene->n_occluder;
    gradin_between *tree = gradin_arena_alloc(arena, 1, sizeof *tree);
    place *all = gradin_arena_alloc(arena, (size_t)n + 1, sizeof *all);
    if (!tree || !all) return NULL;
    *tree = (gradin_between){.scene = scene};
    tree->node = gradin_arena_alloc(arena, 2 * (size_t)n + 1, sizeof *tree->node);
    if (!tree->node) return NULL;
    for (int k = 0; k < n; k++) {
        all[k] = (place){.box = box_of(&scene->occluder[k].shape), .occluder = k};
        for (int a = 0; a < 3; a++)
            all[k].middle_m[a] = 0.5 * (all[k].box.low_m[a] + all[k].box.high_m[a]);
    }
    if (n == 0) return tree;
    tree->n_node = 1;
    build(tree, 0, all, n);
    return tree;
}

typedef struct segment {
    double from_m[3], inverse_1m[3];
} segment;

static bool meets(const segment *s, const upright_box *box) {
    double enter = 0.0, leave = 1.0;
    for (int a = 0; a < 3; a++) {
        double p = (box->low_m[a] - s->from_m[a]) * s->inverse_1m[a];
        double q = (box->high_m[a] - s->from_m[a]) * s->inverse_1m[a];
        double near = p < q ? p : q, far = p < q ? q : p;
        enter = near > enter ? near : enter;
        leave = far < leave ? far : leave;
    }
    return enter <= leave;
}

static double inverse(double way_m) {
    return way_m != 0.0 ? 1.0 / way_m : no_slope;
}

bool gradin_between_clear(const gradin_between *tree, gradin_vec3 from_m, gradin_vec3 to_m,
                          int *last) {
    const gradin_occluder *occluder = tree->scene->occluder;
    if (tree->n_node == 0) return true;
    if (*last >= 0 && gradin_shape_hit(&occluder[*last].shape, from_m, to_m, NULL)) return false;
    gradin_vec3 way = gradin_sub(to_m, from_m);
    segment s = {{from_m.x, from_m.y, from_m.z}, {inverse(way.x), inverse(way.y), inverse(way.z)}};
    int stack[MOST_DEPTH], n = 1;
    stack[0] = 0;
    while (n > 0) {
        const tree_node *node = &tree->node[stack[--n]];
        if (!meets(&s, &node->box)) continue;
        if (node->first > 0) {
            stack[n++] = node->first;
            stack[n++] = node->first + 1;
        } else if (gradin_shape_hit(&occluder[-1 - node->first].shape, from_m, to_m, NULL)) {
            *last = -1 - node->first;
            return false;
        }
    }
    return true;
}
