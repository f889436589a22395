/* What the soup takes from the mask: its tree is gone down like that of the occluders as long as
 * boxes cover many samples; the few samples of a box further down are followed one by one, and
 * large triangles throw their shadows. */
#include "geometry/mask_scene.h"

static void follow_each(const mask_job *job, int child, mask_rect rect) {
    const gradin_mask_grid *g = job->view.grid;
    uint32_t *clear = job->scratch->clear;
    for (int strip = rect.column_low >> 5; strip <= rect.column_high >> 5; strip++) {
        uint32_t columns = gradin_mask_columns(rect, strip);
        for (int row = rect.row_low; row <= rect.row_high; row++) {
            int at = strip * g->n_stride + row;
            for (uint32_t left = clear[at] & columns; left; left &= left - 1) {
                int column = 32 * strip + __builtin_ctz(left);
                gradin_vec3 target = g->sample_m[g->index[row * g->n_column + column]];
                soup_search s = gradin_soup_start(&job->scene->soup, job->table, &job->eye, target);
                s.is_any = true;
                gradin_soup_search(&s, child);
                if (s.first != GRADIN_CLEAR) clear[at] &= ~(left & -left);
            }
        }
    }
}

static void take_group(const mask_job *job, int group, mask_rect rect) {
    const soup_set *s = &job->scene->soup;
    for (uint32_t left = s->group[group].used; left; left &= left - 1) {
        if (!job->table->any(job->view.grid, job->scratch->clear, rect)) return;
        int index = s->original[SOUP_WIDTH * group + __builtin_ctz(left)];
        mask_body body = {&s->occluder[index], NULL};
        gradin_mask_take(job, &body, rect);
    }
}

static void descend(const mask_job *job, int at) {
    const bvh *tree = &job->scene->soup.tree;
    mask_look look;
    int order[BVH_WAYS], n = gradin_mask_children(job, tree, at, &look, order);
    for (int i = 0; i < n; i++) {
        mask_rect rect = gradin_mask_rect(&look, order[i]);
        if (!job->table->any(job->view.grid, job->scratch->clear, rect)) continue;
        int child = tree->node[at].child[order[i]];
        if (gradin_mask_size(rect) <= (child < 0 ? MASK_GROUP_FEW : MASK_SOUP_FEW))
            follow_each(job, child, rect);
        else if (child < 0)
            take_group(job, -1 - child, rect);
        else
            descend(job, child);
    }
}

void gradin_mask_soup(const mask_job *job) {
    descend(job, 0);
}

int32_t gradin_mask_ray(const gradin_mask_scene *scene, gradin_vec3 eye, gradin_vec3 target,
                        int owner) {
    double t = INFINITY;
    int32_t first =
        gradin_bvh_first(&scene->tree, &scene->scene, scene->original, eye, target, owner, &t);
    if (scene->soup.n_group == 0) return first;
    soup_eye from = gradin_soup_eye(&scene->soup, eye);
    soup_search s = gradin_soup_start(&scene->soup, gradin_mask_table(), &from, target);
    gradin_soup_search(&s, 0);
    if (s.first != GRADIN_CLEAR && isnan(s.t))
        gradin_shape_hit(&scene->soup.occluder[s.first].shape, eye, target, &s.t);
    bool is_later = s.first == GRADIN_CLEAR ||
                    (first != GRADIN_CLEAR && (t < s.t || (t == s.t && first < s.first)));
    return is_later ? first : s.first;
}
