/* One segment down the tree of boxes. Where samples lie on no level grid this replaces the masks.
 */
#include "geometry/plan/plan.h"
#include "geometry/scene/bvh.h"

typedef struct ray {
    const bvh *tree;
    const gradin_occluder *occluder;
    const int32_t *original;
    gradin_vec3 eye, target;
    double from[3], way[3]; /* in the tree's frame */
    int owner;
    int32_t first;
    double nearest;
} ray;

/* Fraction of the way at which the box is entered, INFINITY when it is missed; conservative. */
static double enter_box(const ray *r, const bvh_node *node, int k) {
    double enter = 0.0, leave = 1.0;
    for (int a = 0; a < 3; a++) {
        double slack = 1e-9 * (1.0 + fabs(r->from[a]));
        double low = node->low[a][k] - slack - r->from[a];
        double high = node->high[a][k] + slack - r->from[a];
        if (r->way[a] == 0.0) {
            if (low > 0.0 || high < 0.0) return INFINITY;
            continue;
        }
        double s = low / r->way[a], t = high / r->way[a];
        enter = fmax(enter, fmin(s, t));
        leave = fmin(leave, fmax(s, t));
    }
    return enter <= leave ? enter : INFINITY;
}

static void meet(ray *r, int k) {
    const gradin_occluder *o = &r->occluder[r->original[k]];
    double t;
    if (o->owner != GRADIN_NO_OWNER && o->owner == r->owner) return;
    if (!gradin_shape_hit(&o->shape, r->eye, r->target, &t)) return;
    if (!(t < r->nearest || (t == r->nearest && r->original[k] < r->first))) return;
    r->nearest = t;
    r->first = r->original[k];
}

static void follow(ray *r, int at) {
    const bvh_node *node = &r->tree->node[at];
    for (int k = 0; k < BVH_WAYS && node->low[0][k] < BVH_EMPTY; k++) {
        if (!(enter_box(r, node, k) <= r->nearest)) continue;
        if (node->child[k] < 0)
            meet(r, -1 - node->child[k]);
        else
            follow(r, node->child[k]);
    }
}

int32_t gradin_bvh_first(const bvh *tree, const gradin_occluder *occluder, const int32_t *original,
                         gradin_vec2 along, gradin_vec3 eye_m, gradin_vec3 target_m, int owner,
                         double *t) {
    gradin_vec3 step = gradin_sub(target_m, eye_m);
    gradin_vec2 from = plan_into((gradin_vec2){eye_m.x, eye_m.y}, along);
    gradin_vec2 way = plan_into((gradin_vec2){step.x, step.y}, along);
    ray r = {.tree = tree,
             .occluder = occluder,
             .original = original,
             .eye = eye_m,
             .target = target_m,
             .from = {from.x, from.y, eye_m.z},
             .way = {way.x, way.y, step.z},
             .owner = owner,
             .first = GRADIN_CLEAR,
             .nearest = 2.0};
    if (tree->n_node > 0) follow(&r, 0);
    *t = r.nearest;
    return r.first;
}
