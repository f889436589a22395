/* What each rail hides from each seat: by the default samples, each ray counted for the first thing
 * it meets, and what would be seen if that rail alone were away. Then the height up to which the
 * rail hides nothing of what the others, as they are, leave to be seen: the least height at which a
 * ray passes it that nothing else stops, over the samples and the boundary of the focus. */
#include "sightline/limits/rail_pass.h"

#include "sightline/focus/focus.h"

#include <omp.h>
#include <stdlib.h>
#include <string.h>

typedef struct hide_job {
    const gradin_model *model;
    const sight_focus *focus;
    const gradin_mask_grid **grid; /* [n_area + 1] of the areas, and of all their boundaries */
    gradin_vec3 *edge_m;           /* [n_edge] points of the boundaries */
    int n_edge;
    gradin_mask_scratch **scratch; /* [n_thread] */
    bool *clear;                   /* [n_thread][most of n_sample, n_edge] */
    int32_t *first;                /* [n_thread][n_sample] */
    int *rail_of;                  /* [n_occluder_name] -1: no rail */
    double *hides;                 /* [n_seat][n_rail] */
    double *visible;               /* [n_seat] */
} hide_job;

static int find_rail(const gradin_model *m, const char *name) {
    for (int i = 0; i < m->n_rail; i++)
        if (strcmp(m->rail[i].name, name) == 0) return i;
    return -1;
}

static void find_rails(const gradin_model *m, int *rail_of) {
    for (int i = 0; i < m->n_occluder_name; i++) rail_of[i] = -1;
    for (int k = 0; k < m->scene.n_occluder; k++) {
        const gradin_occluder *o = &m->scene.occluder[k];
        bool is_new = o->cause == GRADIN_CAUSE_RAIL && rail_of[o->name] < 0;
        if (is_new) rail_of[o->name] = find_rail(m, m->occluder_name[o->name]);
    }
}

static void count_seat(const hide_job *job, const gradin_mask_scene *scene, int seat) {
    const gradin_model *m = job->model;
    int thread = omp_get_thread_num();
    for (int a = 0; a < job->focus->n_area; a++) {
        int from = job->focus->first_sample[a], n = job->focus->first_sample[a + 1] - from;
        int32_t *first = job->first + (size_t)thread * (size_t)job->focus->n_sample + from;
        gradin_mask_first(scene, job->focus->grid[a], m->seats.eye_m[seat], seat, first,
                          job->scratch[thread]);
        for (int i = 0; i < n; i++) {
            double each = job->focus->share[a] / n;
            if (first[i] == GRADIN_CLEAR) {
                job->visible[seat] += each;
                continue;
            }
            int rail = job->rail_of[m->scene.occluder[first[i]].name];
            if (rail >= 0) job->hides[(size_t)seat * (size_t)m->n_rail + (size_t)rail] += each;
        }
    }
}

/* The scene with all but one rail. */
static gradin_mask_scene *scene_without(gradin_arena *arena, const hide_job *job, int rail) {
    const gradin_scene *all = &job->model->scene;
    gradin_occluder *o = gradin_arena_alloc(arena, (size_t)all->n_occluder + 1, sizeof *o);
    int n = 0;
    for (int k = 0; o && k < all->n_occluder; k++)
        if (rail < 0 || job->rail_of[all->occluder[k].name] != rail) o[n++] = all->occluder[k];
    const gradin_scene left = {o, n};
    return o ? gradin_mask_scene_create(arena, &left, job->focus->lie) : NULL;
}

static double seen_without(const hide_job *job, const gradin_mask_scene *scene, int seat) {
    double seen = 0.0;
    for (int a = 0; a < job->focus->n_area; a++) {
        int n = job->focus->first_sample[a + 1] - job->focus->first_sample[a];
        seen += job->focus->share[a] *
                gradin_mask_clear(scene, job->focus->grid[a], job->model->seats.eye_m[seat], seat,
                                  NULL, job->scratch[omp_get_thread_num()]) /
                n;
    }
    return seen;
}

/* The least height at which a clear ray of one grid passes the rail. */
static double least_pass_m(const hide_job *job, const gradin_mask_scene *scene, int rail, int seat,
                           int grid, const gradin_vec3 *point_m, int n) {
    gradin_vec3 eye = job->model->seats.eye_m[seat];
    int thread = omp_get_thread_num();
    bool *clear = job->clear + (size_t)thread * (size_t)(job->focus->n_sample + job->n_edge);
    double least_m = INFINITY;
    gradin_mask_clear(scene, job->grid[grid], eye, seat, clear, job->scratch[thread]);
    for (int i = 0; i < n; i++)
        if (clear[i])
            least_m = fmin(least_m, gradin_rail_pass_m(&job->model->rail[rail], eye, point_m[i]));
    return least_m;
}

static double find_whole_m(const hide_job *job, const gradin_mask_scene *scene, int rail,
                           int seat) {
    const sight_focus *f = job->focus;
    double least_m = least_pass_m(job, scene, rail, seat, f->n_area, job->edge_m, job->n_edge);
    for (int a = 0; a < f->n_area; a++) {
        int from = f->first_sample[a];
        least_m = fmin(least_m, least_pass_m(job, scene, rail, seat, a, f->sample_m + from,
                                             f->first_sample[a + 1] - from));
    }
    return least_m;
}

static double *hidden_by(const hide_job *job, int seat, int rail) {
    return &job->hides[(size_t)seat * (size_t)job->model->n_rail + (size_t)rail];
}

/* Lines of one rail, in the order of seats. */
static gradin_status take_rail(const hide_job *job, int rail, gradin_rail_limits *limits,
                               gradin_error *error) {
    int from = limits->n_line, n_seat = job->model->seats.n_seat;
    for (int i = 0; i < n_seat; i++)
        if (*hidden_by(job, i, rail) > 0.0)
            limits->line[limits->n_line++] =
                (gradin_rail_line){i, rail, *hidden_by(job, i, rail), 0.0, NAN};
    if (limits->n_line == from) return GRADIN_OK;
    gradin_arena *own = gradin_arena_create();
    const gradin_mask_scene *scene = own ? scene_without(own, job, rail) : NULL;
    if (scene) {
#pragma omp parallel for schedule(dynamic)
        for (int k = from; k < limits->n_line; k++) {
            gradin_rail_line *line = &limits->line[k];
            line->gives_back =
                fmax(0.0, seen_without(job, scene, line->seat) - job->visible[line->seat]);
            line->whole_m = find_whole_m(job, scene, rail, line->seat);
        }
    }
    gradin_arena_destroy(own);
    return scene ? GRADIN_OK
                 : gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the rails");
}

/* By seat, what hides more first, then the lower rail. */
static int compare_lines(const void *a, const void *b) {
    const gradin_rail_line *p = a, *q = b;
    if (p->seat != q->seat) return p->seat - q->seat;
    if (p->hides != q->hides) return p->hides > q->hides ? -1 : 1;
    return p->rail - q->rail;
}

static bool lay_edges(gradin_arena *arena, hide_job *job) {
    const gradin_model *m = job->model;
    int n_area = job->focus->n_area, n = 0;
    for (int a = 0; a < n_area; a++) job->n_edge += gradin_rail_n_bound(&m->focus[a]);
    job->edge_m = gradin_arena_alloc(arena, (size_t)job->n_edge, sizeof *job->edge_m);
    job->grid = gradin_arena_alloc(arena, (size_t)n_area + 1, sizeof *job->grid);
    if (!job->edge_m || !job->grid) return false;
    for (int a = 0; a < n_area; a++) {
        job->grid[a] = job->focus->grid[a];
        int n_bound = gradin_rail_n_bound(&m->focus[a]);
        for (int i = 0; i < n_bound; i++) job->edge_m[n++] = gradin_rail_bound(&m->focus[a], i);
    }
    job->grid[n_area] = gradin_mask_grid_create(arena, job->edge_m, job->n_edge, job->focus->lie);
    return job->grid[n_area] != NULL;
}

static bool make_scratch(gradin_arena *arena, hide_job *job) {
    size_t n_thread = (size_t)omp_get_max_threads(), n_sample = (size_t)job->focus->n_sample;
    job->scratch = gradin_arena_alloc(arena, n_thread, sizeof(gradin_mask_scratch *));
    job->first = gradin_arena_alloc(arena, n_thread * n_sample, sizeof *job->first);
    job->clear =
        gradin_arena_alloc(arena, n_thread * (n_sample + (size_t)job->n_edge), sizeof *job->clear);
    for (size_t i = 0; job->scratch && i < n_thread; i++) {
        job->scratch[i] = gradin_mask_scratch_create(arena, job->grid, job->focus->n_area + 1);
        if (!job->scratch[i]) return false;
    }
    return job->scratch && job->first && job->clear;
}

static bool make_ready(gradin_arena *arena, hide_job *job) {
    const gradin_model *m = job->model;
    size_t n_seat = (size_t)m->seats.n_seat;
    job->rail_of = gradin_arena_alloc(arena, (size_t)m->n_occluder_name, sizeof *job->rail_of);
    job->hides = gradin_arena_alloc(arena, n_seat * (size_t)m->n_rail, sizeof *job->hides);
    job->visible = gradin_arena_alloc(arena, n_seat, sizeof *job->visible);
    return job->rail_of && job->hides && job->visible && lay_edges(arena, job) &&
           make_scratch(arena, job);
}

static gradin_status count_all(gradin_arena *arena, const hide_job *job, gradin_error *error) {
    const gradin_mask_scene *scene = scene_without(arena, job, -1);
    if (!scene) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the rails");
#pragma omp parallel for schedule(dynamic)
    for (int i = 0; i < job->model->seats.n_seat; i++) count_seat(job, scene, i);
    return GRADIN_OK;
}

static gradin_status take_all(gradin_arena *arena, const hide_job *job, gradin_rail_limits *limits,
                              gradin_error *error) {
    size_t n = 0, n_pair = (size_t)job->model->seats.n_seat * (size_t)job->model->n_rail;
    for (size_t i = 0; i < n_pair; i++) n += job->hides[i] > 0.0;
    limits->line = gradin_arena_alloc(arena, n, sizeof *limits->line);
    if (!limits->line)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the rails");
    gradin_status status = GRADIN_OK;
    for (int i = 0; status == GRADIN_OK && i < job->model->n_rail; i++)
        status = take_rail(job, i, limits, error);
    qsort(limits->line, (size_t)limits->n_line, sizeof *limits->line, compare_lines);
    return status;
}

gradin_status gradin_rail_lines(gradin_arena *arena, const gradin_model *model,
                                gradin_rail_limits *limits, gradin_error *error) {
    sight_focus focus;
    if (model->n_rail == 0 || model->n_focus == 0 || model->seats.n_seat == 0) return GRADIN_OK;
    gradin_status status = gradin_sight_focus(arena, model, GRADIN_DEFAULT_SAMPLE, &focus, error);
    if (status != GRADIN_OK) return status;
    hide_job job = {.model = model, .focus = &focus};
    if (!make_ready(arena, &job))
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the rails");
    find_rails(model, job.rail_of);
    status = count_all(arena, &job, error);
    return status == GRADIN_OK ? take_all(arena, &job, limits, error) : status;
}
