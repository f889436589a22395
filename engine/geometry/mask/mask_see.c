/* What one eye sees of a grid of samples: the tree of boxes is searched from the top, nearest box
 * first; a box whose samples are all hidden already is passed over; each occluder's shadow takes
 * its samples from the mask, and the few samples at its very edge are asked of gradin_shape_hit().
 * So the mask is that of gradin_visibility_reference() bit for bit, the rounding of a graze
 * included. */
#include "geometry/mask/mask_scene.h"
#include "geometry/plan/plan.h"

#include <string.h>

static bool same(gradin_vec2 a, gradin_vec2 b) {
    return a.x == b.x && a.y == b.y;
}

bool gradin_mask_fits(const gradin_mask_scene *scene, const gradin_mask_grid *g, gradin_vec3 eye) {
    return g->is_regular && same(g->lie.row, scene->lie.row) &&
           same(g->lie.edge, scene->lie.edge) && fabs(g->z_m - eye.z) > MASK_LEVEL_M;
}

static gradin_vec3 turned(gradin_vec3 p, gradin_vec2 along) {
    gradin_vec2 q = plan_into((gradin_vec2){p.x, p.y}, along);
    return (gradin_vec3){q.x, q.y, p.z};
}

/* What the boxes need, eye in their frame. */
static void view_boxes(const gradin_mask_scene *scene, gradin_vec3 eye, mask_view *v) {
    const struct gradin_mask_grid *g = v->grid;
    double at[3] = {eye.x, eye.y, eye.z}, spacing = g->spacing_m;
    double slack = 1e-6 * (fmax(fabs(eye.x), fmax(fabs(eye.y), fabs(eye.z))) +
                           (double)fmaxf(scene->tree.reach_m, scene->soup.tree.reach_m));
    gradin_vec3 low = gradin_sub(g->low_m, eye), high = gradin_sub(g->high_m, eye);
    double gap_x = fmax(0.0, fmax(low.x, -high.x)), gap_y = fmax(0.0, fmax(low.y, -high.y));
    v->nearest_m = gradin_norm((gradin_vec3){gap_x, gap_y, v->z_m});
    for (int a = 0; a < 3; a++) {
        v->eye_low[a] = (float)(at[a] - slack);
        v->eye_high[a] = (float)(at[a] + slack);
    }
    gradin_vec2 row = plan_into(scene->lie.row, scene->lie.edge);
    v->cosine = (float)row.x;
    v->sine = (float)row.y;
    double far = fabs(v->x_m) + fabs(v->y_m);
    v->slack = (float)(2e-3 + 2e-6 * (far / spacing + g->n_column + g->n_row));
    v->from[0] = (float)(low.x / spacing) - v->slack;
    v->from[1] = (float)(low.y / spacing) - v->slack;
    v->to[0] = (float)(high.x / spacing) + v->slack;
    v->to[1] = (float)(high.y / spacing) + v->slack;
}

mask_job gradin_mask_job(const gradin_mask_scene *scene, const gradin_mask_grid *g,
                         gradin_vec3 eye_m, int owner, gradin_mask_scratch *scratch) {
    gradin_vec3 eye = turned(eye_m, scene->lie.row);
    mask_view v = {.grid = g,
                   .eye_m = eye,
                   .x_m = g->first_m.x - eye.x,
                   .y_m = g->first_m.y - eye.y,
                   .z_m = g->z_m - eye.z};
    v.inverse_z = (float)(1.0 / v.z_m);
    v.inverse_spacing = (float)(1.0 / g->spacing_m);
    v.column_at = (float)(v.x_m / g->spacing_m);
    v.row_at = (float)(v.y_m / g->spacing_m);
    gradin_vec3 edgewise = turned(eye_m, scene->lie.edge);
    view_boxes(scene, edgewise, &v);
    return (mask_job){.scene = scene,
                      .table = gradin_mask_table(),
                      .scratch = scratch,
                      .eye_m = eye_m,
                      .edgewise_eye_m = edgewise,
                      .owner = owner,
                      .view = v};
}

static int order_children(const mask_look *look, int order[BVH_WAYS]) {
    int n = 0;
    for (uint32_t left = look->alive; left; left &= left - 1) {
        int k = __builtin_ctz(left), i = n++;
        for (; i > 0 && look->near2[order[i - 1]] > look->near2[k]; i--) order[i] = order[i - 1];
        order[i] = k;
    }
    return n;
}

typedef struct ways {
    float left[2], right[2]; /* to the corners of a box that are farthest left and right */
} ways;

/* From an eye at the origin, left = counter-clockwise; false when it is inside. */
static bool find_ways(const float low[2], const float high[2], ways *w) {
    bool ahead = low[1] > 0.0f, behind = high[1] < 0.0f;
    if (!ahead && !behind && low[0] <= 0.0f && high[0] >= 0.0f) return false;
    /* seen from below the box lies between its sides, from beside it between its ends */
    if (ahead) {
        *w = (ways){{low[0], low[0] > 0.0f ? high[1] : low[1]},
                    {high[0], high[0] > 0.0f ? low[1] : high[1]}};
    } else if (behind) {
        *w = (ways){{high[0], high[0] < 0.0f ? low[1] : high[1]},
                    {low[0], low[0] < 0.0f ? high[1] : low[1]}};
    } else if (low[0] > 0.0f) {
        *w = (ways){{low[0], high[1]}, {low[0], low[1]}};
    } else {
        *w = (ways){{high[0], low[1]}, {high[0], high[1]}};
    }
    return true;
}

/* Rows are met aslant; nearly along them the rectangle bounds as well. */
#define ASLANT 0.1f

/* What lies right of the way (is_right), or left of it, in the frame of the rows. */
static void add_side(const mask_view *v, const float way[2], bool is_right, mask_streak *s) {
    float x = way[0] * v->cosine + way[1] * v->sine, y = way[1] * v->cosine - way[0] * v->sine;
    if (!(fabsf(y) > ASLANT * fabsf(x))) return;
    float slope = x / y;
    bool is_low = (y > 0.0f) == is_right;
    float *side = is_low ? s->low : s->high;
    bool *has = is_low ? &s->has_low : &s->has_high;
    side[1] = slope;
    if (!*has) side[0] = slope;
    *has = true;
}

mask_streak gradin_mask_streak(const mask_view *v, const bvh_node *node, int k) {
    float low[2], high[2];
    ways w;
    mask_streak s = {.has_low = false};
    for (int a = 0; a < 2; a++) {
        low[a] = node->low[a][k] - v->eye_high[a];
        high[a] = node->high[a][k] - v->eye_low[a];
    }
    if (!find_ways(low, high, &w)) return s;
    add_side(v, w.left, true, &s);
    add_side(v, w.right, false, &s);
    return s;
}

mask_rect gradin_mask_rect(const mask_look *look, int k) {
    return (mask_rect){(int)look->column_low[k], (int)look->column_high[k] - 1,
                       (int)look->row_low[k], (int)look->row_high[k] - 1};
}

int gradin_mask_children(const mask_job *job, const bvh *tree, int at, mask_look *look,
                         int order[BVH_WAYS]) {
    gradin_mask_scratch *s = job->scratch;
    if (s->is_stale) job->table->extent(job->view.grid, s->clear, &s->live);
    s->is_stale = false;
    job->table->look(&job->view, &s->live, &tree->node[at], look);
    if ((look->alive & (look->alive - 1)) != 0) return order_children(look, order);
    order[0] = look->alive ? __builtin_ctz(look->alive) : 0;
    return look->alive != 0;
}

static int cast_pieces(const mask_job *job, const mask_shadow *shadow, mask_rect rect,
                       const uint32_t *open) {
    const mask_table *table = job->table;
    bool is_first = true;
    int found = 0;
    for (int i = 0; i < shadow->n_conic; i++, is_first = false)
        found |= table->conic(job->view.grid, &shadow->conic[i], rect, open, is_first,
                              job->scratch->bits);
    if (shadow->has_wedge)
        found |=
            table->wedge(job->view.grid, &shadow->wedge, rect, open, is_first, job->scratch->bits);
    return found;
}

/* Of the rays that meet the body, those to samples within its own reach are asked, those to samples
 * beyond are hidden. */
static int cast_split(const mask_job *job, const mask_shadow *shadow, mask_rect rect,
                      const uint32_t *open) {
    const gradin_mask_grid *g = job->view.grid;
    mask_bits past = job->scratch->past, level = job->scratch->level, out = job->scratch->bits;
    job->table->wedge(g, &shadow->beyond, rect, open, true, past);
    job->table->wedge(g, &shadow->level, rect, open, true, level);
    if (cast_pieces(job, shadow, rect, open) == 0) return 0;
    uint32_t any_sure = 0, any_doubt = 0;
    for (int strip = rect.column_low >> 5; strip <= rect.column_high >> 5; strip++)
        for (int row = rect.row_low & ~15; row <= (rect.row_high | 15); row++) {
            int at = strip * g->n_stride + row;
            uint32_t reach = level.sure[at] | level.doubt[at];
            out.doubt[at] = (out.doubt[at] | (out.sure[at] & ~past.sure[at])) & reach;
            out.sure[at] &= past.sure[at];
            any_sure |= out.sure[at];
            any_doubt |= out.doubt[at];
        }
    return (any_sure != 0) | (any_doubt != 0) << 1;
}

int gradin_mask_cast(const mask_job *job, const mask_shadow *shadow, mask_rect rect,
                     const uint32_t *open) {
    return shadow->is_split ? cast_split(job, shadow, rect, open)
                            : cast_pieces(job, shadow, rect, open);
}

mask_form gradin_mask_shade(const mask_job *job, const mask_body *body, mask_rect rect,
                            mask_shadow *shadow) {
    if (gradin_mask_size(rect) <= MASK_FEW) return MASK_BY_SAMPLE;
    return gradin_mask_throw(&job->view, &body->occluder->shape, body->ellipsoid, shadow);
}

static bool is_hit(const mask_job *job, const mask_body *body, int row, int column) {
    const gradin_mask_grid *g = job->view.grid;
    int sample = g->index[row * g->n_column + column];
    return gradin_shape_hit(body->exact, job->eye_m, g->sample_m[sample], NULL);
}

/* Takes from the mask the samples of the rectangle that the body hides, within `asked` (all when
 * NULL). */
static void take_by_sample(const mask_job *job, const mask_body *body, mask_rect rect,
                           const uint32_t *asked) {
    const gradin_mask_grid *g = job->view.grid;
    for (int strip = rect.column_low >> 5; strip <= rect.column_high >> 5; strip++) {
        uint32_t columns = gradin_mask_columns(rect, strip);
        for (int row = rect.row_low; row <= rect.row_high; row++) {
            int at = strip * g->n_stride + row;
            uint32_t bits = job->scratch->clear[at] & columns & (asked ? asked[at] : UINT32_MAX);
            for (; bits; bits &= bits - 1)
                if (is_hit(job, body, row, 32 * strip + __builtin_ctz(bits)))
                    job->scratch->clear[at] &= ~(bits & -bits);
        }
    }
}

void gradin_mask_begin(const mask_job *job) {
    const gradin_mask_grid *g = job->view.grid;
    gradin_mask_scratch *s = job->scratch;
    memcpy(s->clear, g->valid, (size_t)g->n_strip * (size_t)g->n_stride * sizeof *s->clear);
    s->live = (mask_live){0.0f, (float)g->n_column, 0.0f, (float)g->n_row};
    s->is_stale = false;
}

void gradin_mask_take(const mask_job *job, const mask_body *body, mask_rect rect) {
    gradin_mask_scratch *s = job->scratch;
    int owner = body->occluder->owner;
    if (owner != GRADIN_NO_OWNER && owner == job->owner) return;
    mask_form form = gradin_mask_shade(job, body, rect, &s->shadow);
    if (form == MASK_BY_SAMPLE) take_by_sample(job, body, rect, NULL);
    if (form != MASK_PIECES) return;
    int found = gradin_mask_cast(job, &s->shadow, rect, s->clear);
    s->is_stale = s->is_stale || found & 1;
    if (found & 1) job->table->remove(job->view.grid, s->clear, s->bits.sure, rect);
    if (found & 2) take_by_sample(job, body, rect, s->bits.doubt);
}

/* So much of what is live that some of it will be open: not worth counting. */
static bool is_wide(const mask_live *live, mask_rect rect) {
    float area = (live->column_end - live->column) * (live->row_end - live->row);
    return 4.0f * (float)gradin_mask_size(rect) > area;
}

static void descend(const mask_job *job, int at) {
    const bvh *tree = &job->scene->tree;
    mask_look look;
    int order[BVH_WAYS], n = gradin_mask_children(job, tree, at, &look, order);
    for (int i = 0; i < n; i++) {
        mask_rect rect = gradin_mask_rect(&look, order[i]);
        int child = tree->node[at].child[order[i]];
        if (child >= 0) {
            if (is_wide(&job->scratch->live, rect) ||
                job->table->any(job->view.grid, job->scratch->clear, rect))
                descend(job, child);
            continue;
        }
        mask_body body = gradin_mask_body(job->scene, -1 - child);
        if (job->scene->kind[-1 - child] == GRADIN_SHAPE_PRISM &&
            gradin_mask_ends_before(&job->view, &body.occluder->shape))
            continue;
        mask_streak streak = gradin_mask_streak(&job->view, &tree->node[at], order[i]);
        if (!job->table->any_along(&job->view, job->scratch->clear, rect, &streak)) continue;
        gradin_mask_take(job, &body, rect);
    }
}

static void take_found(const mask_job *job, const soup_search *found) {
    job->scratch->clear[found->number >> 5] &= ~(1u << (found->number & 31));
}

static void spell_out(const gradin_mask_grid *g, const uint32_t *bits, bool *clear) {
    for (int row = 0; row < g->n_row; row++)
        for (int column = 0; column < g->n_column; column++) {
            int sample = g->index[row * g->n_column + column];
            uint32_t word = bits[(column >> 5) * g->n_stride + row];
            if (sample >= 0) clear[sample] = word >> (column & 31) & 1;
        }
}

int gradin_mask_clear(const gradin_mask_scene *scene, const gradin_mask_grid *g, gradin_vec3 eye_m,
                      int owner, bool *clear, gradin_mask_scratch *scratch) {
    if (!gradin_mask_fits(scene, g, eye_m))
        return gradin_rays_clear(scene, eye_m, owner, g->sample_m, g->n_sample, clear);
    mask_job job = gradin_mask_job(scene, g, eye_m, owner, scratch);
    gradin_mask_begin(&job);
    if (scene->tree.n_node > 0) descend(&job, 0);
    if (scene->soup.n_group > 0) gradin_mask_soup(&job, true, take_found);
    if (clear) spell_out(g, scratch->clear, clear);
    return job.table->count(g, scratch->clear);
}
