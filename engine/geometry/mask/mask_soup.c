/* Samples through the triangles of a soup: each that is still open is followed by itself, several
 * in turn. */
#include "geometry/mask/mask_scene.h"

enum { IN_FLIGHT = 8 };

/* Lists the samples to follow: those not hidden, or all when the first is wanted. */
static int list_places(const mask_job *job, bool is_any) {
    const gradin_mask_grid *g = job->view.grid;
    const uint32_t *open = is_any ? job->scratch->clear : g->valid;
    int n = 0;
    for (int at = 0; at < g->n_strip * g->n_stride; at++)
        for (uint32_t left = open[at]; left; left &= left - 1)
            job->scratch->place[n++] = 32 * at + __builtin_ctz(left);
    return n;
}

int gradin_mask_sample(const gradin_mask_grid *g, int place) {
    int at = place >> 5, strip = at / g->n_stride, row = at % g->n_stride;
    return g->index[row * g->n_column + 32 * strip + (place & 31)];
}

static void launch(const mask_job *job, const soup_job *soup, soup_search *s, int place) {
    const mask_view *v = &job->view;
    gradin_vec3 target = v->grid->sample_m[gradin_mask_sample(v->grid, place)];
    gradin_soup_start(s, soup, target);
    s->number = place;
    if (soup->is_any || job->scratch->clear[place >> 5] >> (place & 31) & 1) return;
    double length = gradin_norm(gradin_sub(target, job->eye_m));
    s->ray.limit = fminf(1.0f, (float)((double)job->scratch->far_m[place] / length * (1.0 + 1e-6)));
}

void gradin_mask_soup(const mask_job *job, bool is_any,
                      void (*found)(const mask_job *, const soup_search *)) {
    soup_job soup = {&job->scene->soup, job->table,
                     gradin_soup_eye(job->scene->soup.tree.reach_m, job->eye_m), is_any};
    soup_search search[IN_FLIGHT];
    int n = list_places(job, is_any), next = 0, n_live = 0;
    while (n_live < IN_FLIGHT && next < n)
        launch(job, &soup, &search[n_live++], job->scratch->place[next++]);
    while (n_live > 0)
        for (int i = 0; i < n_live; i++) {
            if (gradin_soup_step(&search[i], &soup)) continue;
            if (search[i].first != GRADIN_CLEAR) found(job, &search[i]);
            if (next < n)
                launch(job, &soup, &search[i], job->scratch->place[next++]);
            else
                search[i--] = search[--n_live];
        }
}
