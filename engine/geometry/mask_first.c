/* Which occluder each sample is hidden by first. Occluders come roughly nearest first; each hidden
 * sample keeps bounds of the distance at which its occluder is entered. A later occluder that lies
 * beyond, or before, is settled by the bounds; where they overlap the entry fractions are compared
 * as gradin_visibility_reference() does, ties to the lower index. */
#include "geometry/mask_scene.h"

#include <string.h>

typedef struct blame {
    const mask_job *job;
    int k;               /* occluder */
    float near_m, far_m; /* bounds of its distance from the eye */
} blame;

static float less(double x) {
    return (float)(x * (1.0 - 1e-6));
}
static float more(double x) {
    return (float)(x * (1.0 + 1e-6));
}

static void write_place(const blame *b, int place, int sample, double t) {
    gradin_mask_scratch *s = b->job->scratch;
    b->job->first[sample] = b->job->scene->original[b->k];
    s->holder[place] = b->k;
    s->entry[place] = t;
    s->near_m[place] = b->near_m;
    s->far_m[place] = b->far_m;
    if (isnan(t)) return;
    const mask_view *v = &b->job->view;
    double length = gradin_norm(gradin_sub(v->grid->sample_m[sample], v->eye_m));
    s->near_m[place] = less(t * length);
    s->far_m[place] = more(t * length);
}

static double entry_of(const blame *b, int k, int sample) {
    const mask_view *v = &b->job->view;
    double t;
    const gradin_shape *shape = &b->job->scene->scene.occluder[k].shape;
    return gradin_shape_hit(shape, v->eye_m, v->grid->sample_m[sample], &t) ? t : INFINITY;
}

/* The sample is hidden already: does occluder k hide it first? t is its entry or NAN. */
static void contest(const blame *b, int place, int sample, double t) {
    gradin_mask_scratch *s = b->job->scratch;
    int holder = s->holder[place];
    if (s->far_m[place] < b->near_m) return;
    if (b->far_m < s->near_m[place]) {
        write_place(b, place, sample, t);
        return;
    }
    if (isnan(t)) t = entry_of(b, b->k, sample);
    blame old = *b;
    old.k = holder;
    if (isnan(s->entry[place])) write_place(&old, place, sample, entry_of(b, holder, sample));
    const int32_t *original = b->job->scene->original;
    if (t < s->entry[place] || (t == s->entry[place] && original[b->k] < original[holder]))
        write_place(b, place, sample, t);
}

static void claim(const blame *b, int at, int bit, int sample, bool is_sure) {
    gradin_mask_scratch *s = b->job->scratch;
    double t = is_sure ? NAN : entry_of(b, b->k, sample);
    if (t == INFINITY) return;
    if (s->clear[at] >> bit & 1)
        write_place(b, 32 * at + bit, sample, t);
    else
        contest(b, 32 * at + bit, sample, t);
    s->clear[at] &= ~(1u << bit);
}

/* Claims the open samples of the rectangle within `bits` (all when NULL). */
static void claim_all(const blame *b, mask_rect rect, const uint32_t *bits, bool is_sure) {
    const gradin_mask_grid *g = b->job->view.grid;
    for (int strip = rect.column_low >> 5; strip <= rect.column_high >> 5; strip++)
        for (int row = rect.row_low; row <= rect.row_high; row++) {
            int at = strip * g->n_stride + row;
            uint32_t left = b->job->scratch->open[at] & (bits ? bits[at] : UINT32_MAX);
            for (; left; left &= left - 1) {
                int bit = __builtin_ctz(left);
                claim(b, at, bit, g->index[row * g->n_column + 32 * strip + bit], is_sure);
            }
        }
}

static void blame_one(const blame *b, mask_rect rect) {
    gradin_mask_scratch *s = b->job->scratch;
    const gradin_occluder *o = &b->job->scene->scene.occluder[b->k];
    if (o->owner != GRADIN_NO_OWNER && o->owner == b->job->owner) return;
    mask_form form = gradin_mask_shade(b->job, b->k, rect, &s->shadow);
    if (form == MASK_BY_SAMPLE) claim_all(b, rect, NULL, false);
    if (form != MASK_PIECES) return;
    int found = gradin_mask_cast(b->job, &s->shadow, rect, s->open);
    if (found & 1) claim_all(b, rect, s->bits.sure, true);
    if (found & 2) claim_all(b, rect, s->bits.doubt, false);
}

/* Bounds of the child's distance: of its box, and of an occluder's bounding sphere. */
static blame bounds(const mask_job *job, const bvh_node *node, int place, double near2) {
    double at[3] = {job->view.eye_m.x, job->view.eye_m.y, job->view.eye_m.z};
    double far2 = 0.0, near = sqrt(near2), far;
    for (int a = 0; a < 3; a++) {
        double reach = fmax(fabs(node->low[a][place] - at[a]), fabs(node->high[a][place] - at[a]));
        far2 += reach * reach;
    }
    far = sqrt(far2);
    blame b = {.job = job, .k = -1 - node->child[place]};
    if (b.k >= 0) {
        const gradin_shape *shape = &job->scene->scene.occluder[b.k].shape;
        double middle = gradin_norm(gradin_sub(shape->bound_centre_m, job->view.eye_m));
        near = fmax(near, middle - shape->bound_radius_m);
        far = fmin(far, middle + shape->bound_radius_m);
    }
    b.near_m = less(near);
    b.far_m = more(far);
    return b;
}

static void descend(const mask_job *job, int at) {
    const bvh_node *node = &job->scene->tree.node[at];
    mask_look look;
    int order[BVH_WAYS];
    job->table->look(&job->view, node, &look);
    gradin_mask_fetch(job->scene, node, look.alive);
    int n = gradin_mask_order(&look, order);
    for (int i = 0; i < n; i++) {
        mask_rect rect = gradin_mask_rect(&look, order[i]);
        blame b = bounds(job, node, order[i], (double)look.near2[order[i]]);
        if (!job->table->open(job->view.grid, job->scratch->far_m, b.near_m, rect,
                              job->scratch->open))
            continue;
        if (b.k >= 0)
            blame_one(&b, rect);
        else
            descend(job, node->child[order[i]]);
    }
}

static void prepare(const mask_job *job, const gradin_mask_grid *g) {
    gradin_mask_scratch *s = job->scratch;
    memcpy(s->clear, g->valid, (size_t)g->n_strip * (size_t)g->n_stride * sizeof *s->clear);
    for (int i = 0; i < 32 * g->n_strip * g->n_stride; i++) s->far_m[i] = INFINITY;
    for (int i = 0; i < g->n_sample; i++) job->first[i] = GRADIN_CLEAR;
}

void gradin_mask_first(const gradin_mask_scene *scene, const gradin_mask_grid *g, gradin_vec3 eye_m,
                       int owner, int32_t *first, gradin_mask_scratch *scratch) {
    if (!gradin_mask_fits(g, eye_m)) {
        for (int i = 0; i < g->n_sample; i++)
            first[i] = gradin_bvh_first(&scene->tree, &scene->scene, scene->original, eye_m,
                                        g->sample_m[i], owner);
        return;
    }
    mask_job job = {.scene = scene,
                    .table = gradin_mask_table(),
                    .scratch = scratch,
                    .owner = owner,
                    .first = first,
                    .view = gradin_mask_view(scene, g, eye_m)};
    prepare(&job, g);
    if (scene->tree.n_node > 0) descend(&job, 0);
}
