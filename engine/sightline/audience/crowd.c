/* What seats see of the focus when the audience is drawn anew many times. In each draw everybody
 * gets another body; the same rays as in the assessment then meet heads, rails and structure. The
 * share of draws with a clear view is a binomial proportion p = x/n; its standard error is taken at
 * (x + 2)/(n + 4), so that it stays above zero at the ends: A. Agresti, B. A. Coull, The American
 * Statistician 52 (1998) 119-126. Quantiles: definition 7 of Hyndman and Fan, The American
 * Statistician 50 (1996) 361-365. */
#include "base/use.h"
#include "model/complete.h"
#include "sightline/audience/person.h"
#include "sightline/focus/focus.h"

#include <omp.h>
#include <stdlib.h>

enum { FEW_SEATS = 16 /* fewer are not worth waking threads */ };

typedef struct crowd_job {
    const gradin_model *model;
    const gradin_crowd_options *options;
    sight_focus focus;
    gradin_mask_grid **grid;       /* [n_area] */
    gradin_mask_scratch **scratch; /* [n_thread] */
    gradin_occluder *occluder;     /* [n_occluder] people first, then all that stands */
    gradin_vec3 *eye_m;            /* [n_seat] of this draw */
    float *visible;                /* [n_seat][n_draw] */
    int n_occluder, n_thread;
} crowd_job;

static gradin_status refuse(gradin_error *error, gradin_status status, const char *text) {
    return gradin_error_add(error, status, NULL, "%s", text);
}

static bool copy_scene(gradin_arena *arena, crowd_job *job) {
    const gradin_scene *scene = &job->model->scene;
    int n_people = GRADIN_N_BODY * job->model->seats.n_seat;
    job->occluder =
        gradin_arena_alloc(arena, (size_t)(n_people + scene->n_occluder), sizeof *job->occluder);
    if (!job->occluder) return false;
    job->n_occluder = n_people;
    for (int k = 0; k < scene->n_occluder; k++)
        if (scene->occluder[k].owner == GRADIN_NO_OWNER)
            job->occluder[job->n_occluder++] = scene->occluder[k];
    return true;
}

static bool take_memory(gradin_arena *arena, crowd_job *job, gradin_crowd *crowd) {
    size_t n = (size_t)job->model->seats.n_seat;
    double **figure[] = {&crowd->clear, &crowd->clear_se, &crowd->median, &crowd->p10};
    for (size_t i = 0; i < sizeof figure / sizeof figure[0]; i++) {
        *figure[i] = gradin_arena_alloc(arena, n, sizeof(double));
        if (!*figure[i]) return false;
    }
    job->eye_m = gradin_arena_alloc(arena, n, sizeof *job->eye_m);
    job->visible = gradin_arena_alloc(arena, n * (size_t)job->options->n_draw, sizeof(float));
    job->grid = gradin_sight_grids(arena, &job->focus);
    if (job->grid)
        job->scratch = gradin_sight_scratch(arena, &job->focus, job->grid, job->n_thread);
    return job->eye_m && job->visible && job->scratch && copy_scene(arena, job);
}

static void seat_person(crowd_job *job, int draw, int seat) {
    const gradin_seats *s = &job->model->seats;
    gradin_audience person =
        gradin_draw_person(&job->model->audience, job->options->seed, draw, seat);
    bool in_chair = s->kind && s->kind[seat] == GRADIN_SEAT_WHEELCHAIR;
    gradin_shape shape[GRADIN_N_BODY];
    job->eye_m[seat] = s->floor_m[seat];
    job->eye_m[seat].z += in_chair ? person.wheelchair_eye_height_m : person.eye_height_m;
    gradin_body_shapes(&person, job->eye_m[seat], s->facing_deg[seat], shape);
    for (int k = 0; k < GRADIN_N_BODY; k++)
        job->occluder[GRADIN_N_BODY * seat + k] =
            (gradin_occluder){shape[k], GRADIN_CAUSE_HEAD, seat, 0};
}

static double seen_by(const crowd_job *job, const gradin_mask_scene *scene, int seat,
                      gradin_mask_scratch *scratch) {
    const sight_focus *f = &job->focus;
    double visible = 0.0;
    for (int a = 0; a < f->n_area; a++) {
        int n = f->first_sample[a + 1] - f->first_sample[a];
        int clear = gradin_mask_clear(scene, job->grid[a], job->eye_m[seat], seat, NULL, scratch);
        visible += clear == n ? f->share[a] : f->share[a] * clear / n;
    }
    return visible;
}

static gradin_status run_draw(crowd_job *job, int draw, gradin_error *error) {
    int n_seat = job->model->seats.n_seat;
    gradin_arena *arena = gradin_arena_create();
    if (!arena) return refuse(error, GRADIN_NO_MEMORY, "no memory for a draw");
#pragma omp parallel for schedule(static) num_threads(job->n_thread) if (n_seat >= FEW_SEATS)
    for (int i = 0; i < n_seat; i++) seat_person(job, draw, i);
    const gradin_scene people = {job->occluder, job->n_occluder};
    gradin_mask_scene *scene = gradin_mask_scene_create(arena, &people, job->focus.lie);
    if (scene) {
#pragma omp parallel for schedule(dynamic, 8) num_threads(job->n_thread) if (n_seat >= FEW_SEATS)
        for (int i = 0; i < n_seat; i++)
            job->visible[(size_t)i * (size_t)job->options->n_draw + (size_t)draw] =
                (float)seen_by(job, scene, i, job->scratch[omp_get_thread_num()]);
    }
    gradin_arena_destroy(arena);
    return scene ? GRADIN_OK : refuse(error, GRADIN_NO_MEMORY, "no memory for a draw");
}

static int ascending(const void *a, const void *b) {
    float x = *(const float *)a, y = *(const float *)b;
    return (x > y) - (x < y);
}

static double quantile(const float *sorted, int n, double p) {
    double h = (n - 1) * p;
    int low = (int)h, high = low + 1 < n ? low + 1 : low;
    return sorted[low] + (h - low) * ((double)sorted[high] - sorted[low]);
}

static void sum_up(crowd_job *job, int seat, gradin_crowd *crowd) {
    int n = crowd->n_draw, n_clear = 0;
    float *visible = job->visible + (size_t)seat * (size_t)n;
    for (int i = 0; i < n; i++) n_clear += visible[i] >= (float)crowd->clear_limit - 1e-6f;
    double p = (n_clear + 2.0) / (n + 4.0);
    qsort(visible, (size_t)n, sizeof *visible, ascending);
    crowd->clear[seat] = (double)n_clear / n;
    crowd->clear_se[seat] = sqrt(p * (1.0 - p) / (n + 4.0));
    crowd->median[seat] = quantile(visible, n, 0.5);
    crowd->p10[seat] = quantile(visible, n, 0.1);
}

static gradin_status run_all(crowd_job *job, gradin_crowd *crowd, gradin_error *error) {
    const gradin_crowd_options *o = job->options;
    for (int draw = 0; draw < o->n_draw; draw++) {
        gradin_status status = run_draw(job, draw, error);
        if (status != GRADIN_OK) return status;
        if (o->progress) o->progress(o->progress_user, draw + 1, o->n_draw);
    }
    for (int i = 0; i < crowd->n_seat; i++) sum_up(job, i, crowd);
    return GRADIN_OK;
}

gradin_status gradin_crowd_compute(gradin_arena *arena, const gradin_model *model,
                                   const gradin_crowd_options *options, gradin_crowd *crowd,
                                   gradin_error *error) {
    if (NEEDS(error, arena, options, crowd) != GRADIN_OK ||
        model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (options->n_draw < 1 || options->n_draw > GRADIN_MAX_DRAW || options->n_sample < 0 ||
        options->n_sample > GRADIN_MAX_SAMPLE || model->n_focus < 1)
        return refuse(error, GRADIN_BAD_USE, "draws, samples or focus areas out of their range");
    crowd_job job = {.model = model, .options = options, .n_thread = omp_get_max_threads()};
    int n_wanted = options->n_sample > 0 ? options->n_sample : GRADIN_DEFAULT_SAMPLE;
    gradin_status status = gradin_sight_focus(arena, model, n_wanted, &job.focus, error);
    if (status != GRADIN_OK) return status;
    double limit = model->limits.visible_min[0];
    *crowd = (gradin_crowd){.n_seat = model->seats.n_seat,
                            .n_draw = options->n_draw,
                            .n_sample = job.focus.n_sample,
                            .clear_limit = isnan(limit) ? 1.0 : limit};
    if (!take_memory(arena, &job, crowd))
        return refuse(error, GRADIN_NO_MEMORY, "no memory for the draws");
    return run_all(&job, crowd, error);
}
