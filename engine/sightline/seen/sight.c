/* All sightline figures of all seats. Seats are independent: threads take them in any order and
 * write only their own, so the result does not depend on how many there are. */
#include "base/use.h"
#include "gradin/sightline.h"
#include "model/complete.h"

#include "sightline/c_value/c_seat.h"
#include "sightline/rating/angles.h"
#include "sightline/seen/occlusion.h"

#include <omp.h>
#include <string.h>

typedef struct thread_scratch {
    sight_occlusion_scratch occlusion;
    sight_person *person; /* [n_seat] */
} thread_scratch;

typedef struct sight_job {
    const gradin_model *model;
    const gradin_sight_options *options;
    const sight_focus *focus;
    gradin_sight *sight;
} sight_job;

static gradin_status refuse(gradin_error *error, gradin_status status, const char *text) {
    return gradin_error_add(error, status, NULL, "%s", text);
}

static gradin_status check_focus(const gradin_model *model, gradin_error *error) {
    if (model->n_focus < 1 || model->n_focus > GRADIN_MAX_FOCUS)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                "%d focus areas; 1 to %d are allowed", model->n_focus,
                                GRADIN_MAX_FOCUS);
    for (int a = 0; a < model->n_focus; a++) {
        const gradin_focus *focus = &model->focus[a];
        gradin_vec3 middle_m = gradin_focus_middle_m(focus);
        if ((int)focus->kind < 0 || focus->kind > GRADIN_FOCUS_POINT || !(focus->weight > 0.0) ||
            !isfinite(focus->weight) || !isfinite(middle_m.x + middle_m.y + middle_m.z))
            return refuse(error, GRADIN_BAD_INPUT,
                          "a focus area needs a weight above 0, finite heights, and 3 corners, a "
                          "line or a point");
    }
    return GRADIN_OK;
}

static gradin_status check_scene(const gradin_model *model, gradin_error *error) {
    for (int k = 0; k < model->scene.n_occluder; k++) {
        const gradin_occluder *o = &model->scene.occluder[k];
        if (o->cause < 0 || o->cause >= GRADIN_N_CAUSE || o->name < 0 ||
            o->name >= model->n_occluder_name)
            return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                    "occluder %d has cause %d and name %d, out of their ranges", k,
                                    o->cause, o->name);
    }
    return GRADIN_OK;
}

static gradin_status check_arguments(const gradin_model *model, const gradin_sight_options *options,
                                     gradin_error *error) {
    if (options->n_sample < 0 || options->n_sample > GRADIN_MAX_SAMPLE)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL, "%d samples; 1 to %d are allowed",
                                options->n_sample, GRADIN_MAX_SAMPLE);
    if (model->seats.n_seat < 0 || model->seats.n_seat > GRADIN_MAX_SEAT)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL, "%d seats; at most %d are allowed",
                                model->seats.n_seat, GRADIN_MAX_SEAT);
    gradin_status status = check_focus(model, error);
    return status == GRADIN_OK ? check_scene(model, error) : status;
}

static bool allocate_over(gradin_arena *arena, size_t n, gradin_clearance *over) {
    double **figure[] = {&over->c_m, &over->d_m, &over->n_m, &over->r_m, &over->t_m};
    for (size_t i = 0; i < sizeof figure / sizeof figure[0]; i++) {
        *figure[i] = gradin_arena_alloc(arena, n, sizeof(double));
        if (!*figure[i]) return false;
    }
    return true;
}

static bool allocate_result(gradin_arena *arena, int n_seat, int n_area, gradin_sight *s) {
    double **figure[] = {&s->visible,   &s->worst_hidden, &s->c_m,     &s->d_m,      &s->n_m,
                         &s->r_m,       &s->t_m,          &s->c_row_m, &s->c_two_m,  &s->distance_m,
                         &s->nearest_m, &s->off_axis_deg, &s->c_heads, &s->down_deg, &s->turn_deg,
                         &s->width_deg, &s->window_deg};
    size_t n = (size_t)n_seat;
    memset(s, 0, sizeof *s);
    s->n_seat = n_seat;
    s->n_area = n_area;
    s->area_visible = gradin_arena_alloc(arena, n * (size_t)n_area, sizeof(double));
    for (size_t i = 0; i < sizeof figure / sizeof figure[0]; i++) {
        *figure[i] = gradin_arena_alloc(arena, n, sizeof(double));
        if (!*figure[i]) return false;
    }
    if (!allocate_over(arena, n, &s->over_rail) || !allocate_over(arena, n, &s->over_standing))
        return false;
    s->rail = gradin_arena_alloc(arena, n, sizeof(int));
    s->hidden = gradin_arena_alloc(arena, n * GRADIN_N_CAUSE, sizeof(double));
    s->worst_occluder = gradin_arena_alloc(arena, n, sizeof(int));
    s->front_seat = gradin_arena_alloc(arena, n, sizeof(int));
    s->c_area = gradin_arena_alloc(arena, n, sizeof(int));
    s->c_case = gradin_arena_alloc(arena, n, sizeof *s->c_case);
    s->rating = gradin_arena_alloc(arena, n, sizeof *s->rating);
    s->reason = gradin_arena_alloc(arena, n, sizeof *s->reason);
    s->c_class = gradin_arena_alloc(arena, n, sizeof *s->c_class);
    return s->area_visible && s->rail && s->hidden && s->worst_occluder && s->front_seat &&
           s->c_area && s->c_case && s->rating && s->reason && s->c_class;
}

static thread_scratch *allocate_scratch(gradin_arena *arena, const sight_job *job, int n_thread) {
    thread_scratch *scratch = gradin_arena_alloc(arena, (size_t)n_thread, sizeof *scratch);
    const gradin_mask_scene *scene =
        gradin_mask_scene_create(arena, &job->model->scene, job->focus->lie);
    size_t n_seat = (size_t)job->model->seats.n_seat;
    if (!scratch || !scene) return NULL;
    for (int i = 0; i < n_thread; i++) {
        scratch[i].person = gradin_arena_alloc(arena, n_seat, sizeof *scratch[i].person);
        if (!scratch[i].person || !gradin_sight_occlusion_scratch(arena, job->model, job->focus,
                                                                  scene, &scratch[i].occlusion))
            return NULL;
    }
    return scratch;
}

static void store_occlusion(gradin_sight *s, int i, const sight_occlusion *seen) {
    s->visible[i] = seen->visible;
    memcpy(s->hidden + (size_t)i * GRADIN_N_CAUSE, seen->hidden, sizeof seen->hidden);
    s->worst_occluder[i] = seen->worst_occluder;
    s->worst_hidden[i] = seen->worst_hidden;
    s->c_heads[i] = seen->c_heads;
}

static void store_over(gradin_clearance *to, int i, sight_over over) {
    to->c_m[i] = over.c_m;
    to->d_m[i] = over.d_m;
    to->n_m[i] = over.n_m;
    to->r_m[i] = over.r_m;
    to->t_m[i] = over.t_m;
}

static void store_c(gradin_sight *s, int i, const sight_c *c) {
    gradin_clearance front = {s->c_m, s->d_m, s->n_m, s->r_m, s->t_m};
    store_over(&front, i, c->over);
    store_over(&s->over_standing, i, c->standing);
    s->c_case[i] = c->c_case;
    s->c_row_m[i] = c->c_row_m;
    s->c_two_m[i] = c->c_two_m;
    s->window_deg[i] = c->window_deg;
    s->front_seat[i] = c->front_seat;
}

static void store_angles(gradin_sight *s, int i, const sight_angles *angles) {
    s->distance_m[i] = angles->distance_m;
    s->nearest_m[i] = angles->nearest_m;
    s->off_axis_deg[i] = angles->off_axis_deg;
    s->down_deg[i] = angles->down_deg;
    s->turn_deg[i] = angles->turn_deg;
    s->width_deg[i] = angles->width_deg;
}

static void compute_seat(const sight_job *job, int i, thread_scratch *scratch) {
    const gradin_model *model = job->model;
    sight_occlusion seen = gradin_sight_occlusion(model, job->focus, i, job->options->use_reference,
                                                  &scratch->occlusion);
    sight_plane plane =
        gradin_sight_plane(model, job->focus, model->seats.eye_m[i], model->seats.facing_deg[i]);
    sight_c c = gradin_sight_c(model, &plane, i, scratch->person);
    sight_angles angles = gradin_sight_angles(job->focus, model->seats.eye_m[i],
                                              model->seats.facing_deg[i], model->axis_deg);
    store_occlusion(job->sight, i, &seen);
    memcpy(job->sight->area_visible + (size_t)i * (size_t)job->sight->n_area,
           scratch->occlusion.area_visible, (size_t)job->sight->n_area * sizeof(double));
    store_c(job->sight, i, &c);
    job->sight->c_area[i] = plane.area;
    store_over(&job->sight->over_rail, i,
               gradin_sight_rail(model, &plane, model->seats.eye_m[i], &job->sight->rail[i]));
    store_angles(job->sight, i, &angles);
}

static void report(const sight_job *job, int done) {
    if (job->options->progress)
        job->options->progress(job->options->progress_user, done, job->sight->n_seat);
}

static void compute_all(const sight_job *job, thread_scratch *scratch, int n_thread) {
    int done = 0;
#pragma omp parallel for schedule(dynamic) num_threads(n_thread)
    for (int i = 0; i < job->sight->n_seat; i++) {
        int so_far;
        compute_seat(job, i, &scratch[omp_get_thread_num()]);
#pragma omp atomic capture
        so_far = ++done;
        if (omp_get_thread_num() == 0 && so_far < job->sight->n_seat) report(job, so_far);
    }
    report(job, job->sight->n_seat);
}

gradin_status gradin_sight_compute(gradin_arena *arena, const gradin_model *model,
                                   const gradin_sight_options *options, gradin_sight *sight,
                                   gradin_error *error) {
    const gradin_sight_options none = {0};
    sight_focus focus;
    if (NEEDS(error, arena, sight) != GRADIN_OK || model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (!options) options = &none;
    gradin_status status = check_arguments(model, options, error);
    if (status != GRADIN_OK) return status;
    int n_wanted = options->n_sample > 0 ? options->n_sample : GRADIN_DEFAULT_SAMPLE;
    status = gradin_sight_focus(arena, model, n_wanted, &focus, error);
    if (status != GRADIN_OK) return status;
    focus.floor_middle_m = gradin_sight_floor_middle(model);
    gradin_sight_c_parts(model, focus.c_part);

    const sight_job work = {model, options, &focus, sight};
    int n_thread = omp_get_max_threads();
    thread_scratch *scratch = NULL;
    if (allocate_result(arena, model->seats.n_seat, model->n_focus, sight))
        scratch = allocate_scratch(arena, &work, n_thread);
    if (!scratch) return refuse(error, GRADIN_NO_MEMORY, "no memory for the sightlines");
    sight->n_sample = focus.n_sample;
    for (int a = 0; a < focus.n_area; a++)
        sight->area_sample[a] = focus.first_sample[a + 1] - focus.first_sample[a];
    compute_all(&work, scratch, n_thread);
    status = gradin_sight_rate(model, NULL, sight, error);
    if (status != GRADIN_OK) return status;
    return gradin_sight_two_eyes(arena, model, &focus, sight, error);
}
