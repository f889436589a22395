/* A pyramid of segments from one eye: children of the tree whose boxes lie beyond one of its four
 * sides are passed over. The leaves that are left, nearest first, are all that a segment of the
 * pyramid can meet; they are asked sixteen at a time, so the answer is that of single rays. */
#include "geometry/mask/mask_ray.h"
#include "geometry/plan/plan.h"

enum { MOST_NODES = 24, MOST_LEAVES = MOST_NODES * BVH_WAYS };

struct gradin_beam {
    ray_job job;
    bool is_open; /* too many to list: each segment goes down the tree by itself */
    int n_leaf, n_node;
    bvh_node node[MOST_NODES]; /* leaves of the tree, the nearest to the eye first */
    float near_m[MOST_NODES];  /* no leaf of this node or of a later one is nearer to the eye */
};

typedef struct beam_leaf {
    float near_m;
    int32_t node, child; /* place in the tree */
} beam_leaf;

typedef struct gathering {
    const ray_job *job;
    beam_pyramid p;
    int n_leaf, n_left;
    beam_leaf leaf[MOST_LEAVES];
    int32_t left[SOUP_STACK];
} gathering;

static const float slack = 1e-5f; /* of distances */

gradin_beam *gradin_beam_create(gradin_arena *arena, const gradin_mask_scene *scene,
                                gradin_vec3 eye_m, int owner) {
    if (!arena || !scene) return NULL;
    gradin_beam *beam = gradin_arena_alloc(arena, 1, sizeof *beam);
    if (!beam) return NULL;
    beam->job = gradin_ray_job(scene, eye_m, owner, false);
    beam->is_open = true;
    return beam;
}

bool gradin_beam_is_listed(const gradin_beam *beam) {
    return beam && !beam->is_open && beam->job.scene->soup.n_group == 0;
}

static beam_pyramid sides_of(const gradin_vec3 way[4], gradin_vec2 edge) {
    beam_pyramid p;
    gradin_vec3 turned[4], middle = {0.0, 0.0, 0.0};
    for (int k = 0; k < 4; k++) {
        gradin_vec2 q = plan_into((gradin_vec2){way[k].x, way[k].y}, edge);
        turned[k] = (gradin_vec3){q.x, q.y, way[k].z};
        middle = gradin_add(middle, turned[k]);
    }
    for (int k = 0; k < 4; k++) {
        gradin_vec3 n = gradin_cross(turned[k], turned[(k + 1) % 4]);
        n = gradin_scale(n, (gradin_dot(n, middle) < 0.0 ? -1.0 : 1.0) / gradin_norm(n));
        p.side[k][0] = (float)n.x;
        p.side[k][1] = (float)n.y;
        p.side[k][2] = (float)n.z;
    }
    return p;
}

/* The nearest first; false when there are too many. */
static bool add_leaf(gathering *g, beam_leaf leaf) {
    if (g->n_leaf == MOST_LEAVES) return false;
    int i = g->n_leaf++;
    for (; i > 0 && g->leaf[i - 1].near_m > leaf.near_m; i--) g->leaf[i] = g->leaf[i - 1];
    g->leaf[i] = leaf;
    return true;
}

static bool open_node(gathering *g, int at) {
    const bvh_node *node = &g->job->scene->tree.node[at];
    float near_m[BVH_WAYS];
    uint32_t alive = g->job->table->pyramid(&g->job->eye, &g->p, node, near_m);
    for (; alive; alive &= alive - 1) {
        int k = __builtin_ctz(alive);
        if (node->child[k] >= 0)
            g->left[g->n_left++] = node->child[k];
        else if (!add_leaf(g, (beam_leaf){near_m[k], at, k}))
            return false;
    }
    return true;
}

static bool gather(gathering *g) {
    bool is_listed = true;
    g->n_left = g->job->scene->tree.n_node > 0;
    g->left[0] = 0;
    while (g->n_left > 0 && is_listed) is_listed = open_node(g, g->left[--g->n_left]);
    return is_listed;
}

static void put_leaf(gradin_beam *beam, int i, const bvh_node *from, int k) {
    bvh_node *to = &beam->node[i / BVH_WAYS];
    for (int a = 0; a < 3; a++) {
        to->low[a][i % BVH_WAYS] = from->low[a][k];
        to->high[a][i % BVH_WAYS] = from->high[a][k];
    }
    to->child[i % BVH_WAYS] = from->child[k];
}

static const bvh_node nothing = {.low = {{BVH_EMPTY}, {BVH_EMPTY}, {BVH_EMPTY}},
                                 .high = {{BVH_EMPTY}, {BVH_EMPTY}, {BVH_EMPTY}}};

static void list_leaves(gradin_beam *beam, const gathering *g) {
    beam->n_leaf = g->n_leaf;
    beam->n_node = (g->n_leaf + BVH_WAYS - 1) / BVH_WAYS;
    for (int i = 0; i < beam->n_node * BVH_WAYS; i++) {
        bool is_leaf = i < g->n_leaf;
        put_leaf(beam, i, is_leaf ? &g->job->scene->tree.node[g->leaf[i].node] : &nothing,
                 is_leaf ? g->leaf[i].child : 0);
        if (i % BVH_WAYS == 0) beam->near_m[i / BVH_WAYS] = g->leaf[i].near_m;
    }
}

void gradin_beam_aim(gradin_beam *beam, const gradin_vec3 way[4]) {
    gathering g;
    if (!beam || !way) return;
    g.job = &beam->job;
    g.p = sides_of(way, beam->job.scene->lie.edge);
    g.n_leaf = 0;
    beam->is_open = !gather(&g);
    if (!beam->is_open) list_leaves(beam, &g);
}

static float length_m(const gradin_beam *beam, gradin_vec3 target_m) {
    return (float)gradin_norm(gradin_sub(target_m, beam->job.eye_m)) * (1.0f + slack);
}

/* Asks the listed leaves of a node that may be met before what is held. */
static void ask_node(ray_search *s, const bvh_node *node) {
    float enter[BVH_WAYS];
    uint32_t alive = s->job->table->boxes(&s->job->eye, &s->ray, node, enter);
    for (; alive; alive &= alive - 1) {
        int k = __builtin_ctz(alive);
        if (enter[k] <= s->ray.limit) gradin_ray_meet(s, -1 - node->child[k]);
    }
}

int32_t gradin_beam_first(gradin_beam *beam, gradin_vec3 target_m, double *entry) {
    ray_search s;
    float far_m = length_m(beam, target_m);
    gradin_ray_start(&s, &beam->job, target_m);
    if (beam->is_open) gradin_ray_search_tree(&s);
    for (int i = 0; !beam->is_open && i < beam->n_node; i++) {
        if (beam->near_m[i] > s.ray.limit * far_m) break;
        ask_node(&s, &beam->node[i]);
    }
    return gradin_ray_end(&s, entry);
}

/* Occluder k of the tree is one of those that are asked for and lies on the segment. */
static bool is_in_the_way(const gradin_beam *beam, int k, gradin_vec3 target_m, int end) {
    const gradin_mask_scene *scene = beam->job.scene;
    const gradin_occluder *o = &scene->exact[scene->original[k]];
    if (scene->original[k] >= end) return false;
    if (o->owner != GRADIN_NO_OWNER && o->owner == beam->job.owner) return false;
    return gradin_shape_hit(&o->shape, beam->job.eye_m, target_m, NULL);
}

static bool is_clear_of(gradin_beam *beam, const ray_search *s, const bvh_node *node, int end) {
    float enter[BVH_WAYS];
    uint32_t alive = beam->job.table->boxes(&beam->job.eye, &s->ray, node, enter);
    for (; alive; alive &= alive - 1) {
        int k = -1 - node->child[__builtin_ctz(alive)];
        if (!is_in_the_way(beam, k, s->target_m, end)) continue;
        beam->job.last = k;
        return false;
    }
    return true;
}

bool gradin_beam_is_clear(gradin_beam *beam, gradin_vec3 target_m, int end) {
    ray_search s;
    float far_m = length_m(beam, target_m);
    if (beam->job.last >= 0 && is_in_the_way(beam, beam->job.last, target_m, end)) return false;
    gradin_ray_start(&s, &beam->job, target_m);
    for (int i = 0; i < beam->n_node && beam->near_m[i] <= far_m; i++)
        if (!is_clear_of(beam, &s, &beam->node[i], end)) return false;
    return true;
}
