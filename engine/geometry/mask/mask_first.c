/* Which occluder each sample is hidden by first. Occluders come roughly nearest first; each hidden
 * sample keeps bounds of the distance at which its occluder is entered. A later occluder that lies
 * beyond, or before, is settled by the bounds; where they overlap the entry fractions are compared
 * as gradin_visibility_reference() does, ties to the lower index. */
#include "geometry/mask/mask_ray.h"
#include "geometry/mask/mask_streak.h"

#include <string.h>

typedef struct blame {
    const mask_job *job;
    int k; /* occluder of the scene's copy; of the soup: their count + index in the caller's scene
            */
    float near_m, far_m; /* bounds of its distance from the eye */
} blame;

static int original_of(const gradin_mask_scene *scene, int k) {
    int n = scene->scene.n_occluder;
    return k < n ? scene->original[k] : k - n;
}

static float less(double x) {
    return (float)(x * (1.0 - 1e-6));
}
static float more(double x) {
    return (float)(x * (1.0 + 1e-6));
}

/* What is asked knows where it is entered. Of a whole asked for a piece that may lie outside the
 * piece's bounds. */
static blame bounded(blame b, int sample, double t) {
    if (isnan(t)) return b;
    double length = gradin_norm(gradin_sub(b.job->view.grid->sample_m[sample], b.job->eye_m));
    b.near_m = less(t * length);
    b.far_m = more(t * length);
    return b;
}

static void write_bounds(gradin_mask_scratch *s, int place, float near_m, float far_m) {
    s->near_m[place] = near_m;
    s->far_m[place] = far_m;
    if (far_m > s->most_m[place >> 5]) s->most_m[place >> 5] = far_m;
}

static void write_place(const blame *b, int place, int sample, double t) {
    gradin_mask_scratch *s = b->job->scratch;
    b->job->first[sample] = original_of(b->job->scene, b->k);
    s->holder[place] = b->k;
    s->entry[place] = t;
    blame at = bounded(*b, sample, t);
    write_bounds(s, place, at.near_m, at.far_m);
}

static double entry_of(const blame *b, int k, int sample) {
    const mask_job *job = b->job;
    const gradin_shape *exact = &job->scene->exact[original_of(job->scene, k)].shape;
    double t;
    return gradin_shape_hit(exact, job->eye_m, job->view.grid->sample_m[sample], &t) ? t : INFINITY;
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
    const gradin_mask_scene *scene = b->job->scene;
    if (t < s->entry[place] ||
        (t == s->entry[place] && original_of(scene, b->k) < original_of(scene, holder)))
        write_place(b, place, sample, t);
}

/* t is the occluder's entry on the way to the sample, NAN when not computed, INFINITY for none. */
static void claim(const blame *b, int at, int bit, int sample, double t) {
    gradin_mask_scratch *s = b->job->scratch;
    if (t == INFINITY) return;
    const blame own = bounded(*b, sample, t);
    if (s->clear[at] >> bit & 1)
        write_place(b, 32 * at + bit, sample, t);
    else
        contest(&own, 32 * at + bit, sample, t);
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
                int sample = g->index[row * g->n_column + 32 * strip + bit];
                claim(b, at, bit, sample, is_sure ? NAN : entry_of(b, b->k, sample));
            }
        }
}

static void blame_one(const blame *b, mask_rect rect) {
    gradin_mask_scratch *s = b->job->scratch;
    mask_body body = gradin_mask_body(b->job->scene, b->k);
    int owner = body.occluder->owner;
    if (owner != GRADIN_NO_OWNER && owner == b->job->owner) return;
    mask_form form = gradin_mask_shade(b->job, &body, rect, &s->shadow);
    if (form == MASK_BY_SAMPLE) claim_all(b, rect, NULL, false);
    if (form != MASK_PIECES) return;
    int found = gradin_mask_cast(b->job, &s->shadow, rect, s->open);
    if (found & 1) claim_all(b, rect, s->bits.sure, true);
    if (found & 2) claim_all(b, rect, s->bits.doubt, false);
}

/* Bounds of a child's distance: of its box. */
static blame bounds(const mask_job *job, const bvh_node *node, int place, double near2) {
    gradin_vec3 eye = job->edgewise_eye_m;
    double at[3] = {eye.x, eye.y, eye.z};
    double far2 = 0.0;
    for (int a = 0; a < 3; a++) {
        double reach = fmax(fabs(node->low[a][place] - at[a]), fabs(node->high[a][place] - at[a]));
        far2 += reach * reach;
    }
    return (blame){.job = job, .near_m = less(sqrt(near2)), .far_m = more(sqrt(far2))};
}

/* And of an occluder's bounding sphere. */
static blame narrow(blame b, int k) {
    const gradin_shape *shape = &b.job->scene->scene.occluder[k].shape;
    double middle = gradin_norm(gradin_sub(shape->bound_centre_m, b.job->view.eye_m));
    b.k = k;
    b.near_m = fmaxf(b.near_m, less(fmax(middle - shape->bound_radius_m, 0.0)));
    b.far_m = fminf(b.far_m, more(middle + shape->bound_radius_m));
    return b;
}

static bool is_open(const blame *b, mask_rect rect) {
    gradin_mask_scratch *s = b->job->scratch;
    const mask_depth depth = {s->clear, s->far_m, s->most_m};
    return b->job->table->open(b->job->view.grid, &depth, b->near_m, rect, s->open);
}

static void descend(const mask_job *job, int at) {
    const bvh *tree = &job->scene->tree;
    mask_look look;
    int order[BVH_WAYS], n = job->table->children(job, tree, at, &look, order);
    for (int i = 0; i < n; i++) {
        mask_rect rect = gradin_mask_rect(&look, order[i]);
        blame b = bounds(job, &tree->node[at], order[i], (double)look.near2[order[i]]);
        int child = tree->node[at].child[order[i]];
        if (child >= 0) {
            if (is_open(&b, rect)) descend(job, child);
            continue;
        }
        mask_streak streak;
        gradin_mask_streak(&job->view, &tree->node[at], order[i], &streak);
        if (!job->table->any_along(&job->view, job->view.grid->valid, rect, &streak)) continue;
        b = narrow(b, -1 - child);
        if (is_open(&b, rect) &&
            job->table->any_along(&job->view, job->scratch->open, rect, &streak))
            blame_one(&b, rect);
    }
}

static void claim_found(const mask_job *job, const soup_search *found) {
    int sample = gradin_mask_sample(job->view.grid, found->number);
    double length = gradin_norm(gradin_sub(found->target_m, job->eye_m));
    blame b = {.job = job,
               .k = job->scene->scene.n_occluder + found->first,
               .near_m = less((double)found->near * length),
               .far_m = more((double)found->far * length)};
    claim(&b, found->number >> 5, found->number & 31, sample, found->t);
}

static void prepare(const mask_job *job, const gradin_mask_grid *g) {
    gradin_mask_scratch *s = job->scratch;
    gradin_mask_begin(job);
    for (int i = 0; i < g->n_strip * g->n_stride; i++) s->most_m[i] = 0.0f;
    memset(job->first, 0xff, (size_t)g->n_sample * sizeof *job->first); /* GRADIN_CLEAR, -1 */
}

void gradin_mask_first(const gradin_mask_scene *scene, const gradin_mask_grid *g, gradin_vec3 eye_m,
                       int owner, int32_t *first, gradin_mask_scratch *scratch) {
    if (!gradin_mask_fits(scene, g, eye_m)) {
        ray_job one_by_one = gradin_ray_job(scene, eye_m, owner, false);
        for (int i = 0; i < g->n_sample; i++)
            first[i] = gradin_ray_first(&one_by_one, g->sample_m[i]);
        return;
    }
    mask_job job = gradin_mask_job(scene, g, eye_m, owner, scratch);
    job.first = first;
    prepare(&job, g);
    if (scene->tree.n_node > 0) descend(&job, 0);
    if (scene->soup.n_group > 0) gradin_mask_soup(&job, false, claim_found);
}
