/* Each eye by itself: what both see, what one sees alone. The eyes stand half their distance to
 * either side of the mid-eye, level, across the line to the middle of the acting area: the head is
 * turned to it. A thing narrower than the eyes' distance hides nothing from both beyond some way.
 */
#include "sightline/seen/occlusion.h"

#include <omp.h>

typedef struct pair_job {
    const gradin_model *model;
    const sight_focus *focus;
    gradin_mask_scene *scene;
    gradin_mask_grid **grid;       /* [n_area] */
    gradin_mask_scratch **scratch; /* [n_thread] */
    bool *seen;                    /* [n_thread][2][n_sample] */
} pair_job;

static bool make_ready(gradin_arena *arena, int n_thread, pair_job *job) {
    job->scene = gradin_mask_scene_create(arena, &job->model->scene, job->focus->lie);
    job->grid = gradin_sight_grids(arena, job->focus);
    if (!job->scene || !job->grid) return false;
    job->scratch = gradin_sight_scratch(arena, job->focus, job->grid, n_thread);
    job->seen = gradin_arena_alloc(arena, (size_t)n_thread * 2 * (size_t)job->focus->n_sample,
                                   sizeof(bool));
    return job->scratch && job->seen;
}

static void find_eyes(const pair_job *job, int seat, gradin_vec3 eye[2]) {
    gradin_vec3 middle = job->model->seats.eye_m[seat];
    gradin_vec3 way = gradin_sub(job->focus->middle_m, middle);
    double length = hypot(way.x, way.y), half_m = 0.5 * job->model->audience.eye_distance_m;
    gradin_vec2 ahead = gradin_bearing_unit(job->model->seats.facing_deg[seat]);
    if (length > 1e-9) ahead = (gradin_vec2){way.x / length, way.y / length};
    for (int k = 0; k < 2; k++) {
        double side_m = k ? half_m : -half_m;
        eye[k] = (gradin_vec3){middle.x + ahead.y * side_m, middle.y - ahead.x * side_m, middle.z};
    }
}

static void look(const pair_job *job, int seat, gradin_sight *sight) {
    const sight_focus *f = job->focus;
    int thread = omp_get_thread_num();
    bool *left = job->seen + (size_t)thread * 2 * (size_t)f->n_sample, *right = left + f->n_sample;
    gradin_vec3 eye[2];
    find_eyes(job, seat, eye);
    for (int a = 0; a < f->n_area; a++) {
        int n = f->first_sample[a + 1] - f->first_sample[a], n_both = 0, n_one = 0;
        gradin_mask_clear(job->scene, job->grid[a], eye[0], seat, left, job->scratch[thread]);
        gradin_mask_clear(job->scene, job->grid[a], eye[1], seat, right, job->scratch[thread]);
        for (int i = 0; i < n; i++) {
            n_both += left[i] && right[i];
            n_one += left[i] != right[i];
        }
        sight->both_eyes[seat] += n_both == n ? f->share[a] : f->share[a] * n_both / n;
        sight->one_eye[seat] += f->share[a] * n_one / n;
    }
}

gradin_status gradin_sight_two_eyes(gradin_arena *arena, const gradin_model *model,
                                    const sight_focus *focus, gradin_sight *sight,
                                    gradin_error *error) {
    if (!(model->audience.eye_distance_m > 0.0)) return GRADIN_OK;
    int n_thread = omp_get_max_threads();
    pair_job job = {.model = model, .focus = focus};
    sight->both_eyes = gradin_arena_alloc(arena, (size_t)sight->n_seat, sizeof(double));
    sight->one_eye = gradin_arena_alloc(arena, (size_t)sight->n_seat, sizeof(double));
    if (!sight->both_eyes || !sight->one_eye || !make_ready(arena, n_thread, &job))
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the two eyes");
#pragma omp parallel for schedule(dynamic) num_threads(n_thread)
    for (int i = 0; i < sight->n_seat; i++) look(&job, i, sight);
    return GRADIN_OK;
}
