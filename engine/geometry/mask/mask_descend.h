/* geometry/mask/mask_descend.h: the way down the tree of boxes, for seen or not: it is searched
 * from the top, nearest box first, cut to what is still open; what an occluder hides is taken from
 * the mask. Included by mask_loops.h, once for each instruction set: the calls are short and many.
 */
#ifndef GRADIN_GEOMETRY_MASK_DESCEND_H
#define GRADIN_GEOMETRY_MASK_DESCEND_H

#include "geometry/mask/mask_scene.h"
#include "geometry/mask/mask_streak.h"

static int order_children(const mask_look *out, int order[BVH_WAYS]) {
    int n = 0;
    for (uint32_t left = out->alive; left; left &= left - 1) {
        int k = __builtin_ctz(left), i = n++;
        for (; i > 0 && out->near2[order[i - 1]] > out->near2[k]; i--) order[i] = order[i - 1];
        order[i] = k;
    }
    return n;
}

static int list_children(uint32_t alive, int order[BVH_WAYS]) {
    int n = 0;
    for (; alive; alive &= alive - 1) order[n++] = __builtin_ctz(alive);
    return n;
}

/* The box of what is live along the edges. */
static void box_live(const mask_view *v, mask_live *live) {
    const struct gradin_mask_grid *g = v->grid;
    float column[2] = {live->column + v->column_at, live->column_end + v->column_at};
    float row[2] = {live->row + v->row_at, live->row_end + v->row_at};
    for (int a = 0; a < 2; a++) {
        float c = g->from_column[a], r = g->from_row[a];
        float low = c * column[c < 0.0f] + r * row[r < 0.0f] - v->slack;
        float high = c * column[c >= 0.0f] + r * row[r >= 0.0f] + v->slack;
        live->from[a] = low > v->from[a] ? low : v->from[a];
        live->to[a] = high < v->to[a] ? high : v->to[a];
    }
}

/* Children that may hide: nearest first, with their distances; as they come where only seen or not
 * is asked and they are leaves, for then their order costs more than it saves. */
static inline int children(const mask_job *job, const bvh *tree, int at, mask_look *out,
                           int order[BVH_WAYS]) {
    gradin_mask_scratch *s = job->scratch;
    const bvh_node *node = &tree->node[at];
    if (s->is_stale) {
        extent(job->view.grid, s->clear, &s->live);
        box_live(&job->view, &s->live);
    }
    s->is_stale = false;
    look(&job->view, &s->live, node, out);
    if (out->alive == 0) return 0;
    bool is_one = (out->alive & (out->alive - 1)) == 0;
    if (!job->first && (is_one || node->child[0] < 0)) return list_children(out->alive, order);
    distances(&job->view, node, out);
    return order_children(out, order);
}

static int children_of(const mask_job *job, const bvh *tree, int at, mask_look *out,
                       int order[BVH_WAYS]) {
    return children(job, tree, at, out, order);
}

static void see_leaf(const mask_job *job, const bvh_node *node, int place, mask_rect rect) {
    int k = -1 - node->child[place];
    mask_body body = gradin_mask_body(job->scene, k);
    if (job->scene->kind[k] == GRADIN_SHAPE_PRISM &&
        gradin_mask_ends_before(&job->view, &body.occluder->shape))
        return;
    mask_streak streak;
    gradin_mask_streak(&job->view, node, place, &streak);
    if (any_along(&job->view, job->scratch->clear, rect, &streak))
        gradin_mask_take(job, &body, rect);
}

static void descend(const mask_job *job, int at) {
    const bvh *tree = &job->scene->tree;
    mask_look out;
    int order[BVH_WAYS], n = children(job, tree, at, &out, order);
    for (int i = 0; i < n; i++) {
        int child = tree->node[at].child[order[i]];
        if (child >= 0)
            descend(job, child);
        else
            see_leaf(job, &tree->node[at], order[i], gradin_mask_rect(&out, order[i]));
    }
}

#endif
