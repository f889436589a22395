/* What one eye sees of a grid of samples: the job of one eye, and the mask it ends with. */
#include "geometry/mask/mask_scene.h"
#include "geometry/plan/plan.h"

#include <string.h>

static bool same(gradin_vec2 a, gradin_vec2 b) {
    return a.x == b.x && a.y == b.y;
}

static gradin_vec3 turned(gradin_vec3 p, gradin_vec2 along) {
    gradin_vec2 q = plan_into((gradin_vec2){p.x, p.y}, along);
    return (gradin_vec3){q.x, q.y, p.z};
}

bool gradin_mask_fits(const gradin_mask_scene *scene, const gradin_mask_grid *g, gradin_vec3 eye) {
    if (!g->is_regular || !same(g->lie.row, scene->lie.row) || !same(g->lie.edge, scene->lie.edge))
        return false;
    if (!g->is_tilted) return fabs(g->z_m - eye.z) > MASK_LEVEL_M;
    gradin_vec3 at = turned(eye, scene->along);
    return fabs(gradin_mask_plane_m(g, at.x, at.y) - eye.z) > MASK_TILTED_M;
}

static double larger(double a, double b) {
    return a > b ? a : b;
}

/* What the boxes need, eye in their frame. */
static void view_boxes(const gradin_mask_scene *scene, gradin_vec3 eye, mask_view *v) {
    const struct gradin_mask_grid *g = v->grid;
    double at[3] = {eye.x, eye.y, eye.z}, per_m = (double)g->inverse_spacing;
    double slack = 1e-6 * (larger(fabs(eye.x), larger(fabs(eye.y), fabs(eye.z))) +
                           (double)fmaxf(scene->tree.reach_m, scene->soup.tree.reach_m));
    gradin_vec3 low = gradin_sub(g->low_m, eye), high = gradin_sub(g->high_m, eye);
    double gap_x = larger(0.0, larger(low.x, -high.x)), gap_y = larger(0.0, larger(low.y, -high.y));
    double gap_z = larger(0.0, larger(low.z, -high.z));
    v->nearest_m = gradin_norm((gradin_vec3){gap_x, gap_y, gap_z});
    for (int a = 0; a < 3; a++) {
        v->eye_low[a] = (float)(at[a] - slack);
        v->eye_high[a] = (float)(at[a] + slack);
    }
    double far = fabs(v->x_m) + fabs(v->y_m);
    v->slack = (float)(2e-3 + 2e-6 * (far * g->rows_per_m + g->n_column + g->n_row));
    v->from[0] = (float)(low.x * per_m) - v->slack;
    v->from[1] = (float)(low.y * per_m) - v->slack;
    v->to[0] = (float)(high.x * per_m) + v->slack;
    v->to[1] = (float)(high.y * per_m) + v->slack;
}

mask_job gradin_mask_job(const gradin_mask_scene *scene, const gradin_mask_grid *g,
                         gradin_vec3 eye_m, int owner, gradin_mask_scratch *scratch) {
    gradin_vec3 eye = turned(eye_m, scene->along);
    mask_view v = {.grid = g,
                   .eye_m = eye,
                   .x_m = g->first_m.x - eye.x,
                   .y_m = g->first_m.y - eye.y,
                   .z_m = gradin_mask_plane_m(g, eye.x, eye.y) - eye.z};
    v.inverse_z = (float)(1.0 / v.z_m);
    v.column_at = (float)(v.x_m * g->columns_per_m);
    v.row_at = (float)(v.y_m * g->rows_per_m);
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

void gradin_mask_begin(const mask_job *job) {
    const gradin_mask_grid *g = job->view.grid;
    gradin_mask_scratch *s = job->scratch;
    memcpy(s->clear, g->valid, (size_t)g->n_strip * (size_t)g->n_stride * sizeof *s->clear);
    const mask_view *v = &job->view;
    s->live = (mask_live){.column_end = (float)g->n_column,
                          .row_end = (float)g->n_row,
                          .from = {v->from[0], v->from[1]},
                          .to = {v->to[0], v->to[1]}};
    s->is_stale = false;
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
    if (scene->tree.n_node > 0) job.table->descend(&job, 0);
    if (scene->soup.n_group > 0) gradin_mask_soup(&job, true, take_found);
    if (clear) spell_out(g, scratch->clear, clear);
    return job.table->count(g, scratch->clear);
}
