/* The outlook as a whole: arguments, open glass, the scene with its envelope, and the three looks
 * through it. All of it asks the same masks and rays as the seats' own view of the focus. */
#include "sightline/outlook/outlook.h"
#include "base/use.h"
#include "model/complete.h"
#include "sightline/outlook/complete.h"

#include <omp.h>
#include <string.h>

static gradin_status no_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the outlook");
}

static bool is_inside(const gradin_model *model, gradin_vec3 at_m) {
    return at_m.z < model->ceiling_m &&
           gradin_polygon_contains(model->footprint, (gradin_vec2){at_m.x, at_m.y});
}

static gradin_status check_point(const gradin_model *model, const gradin_outside *outside, int i,
                                 gradin_error *error) {
    const gradin_outside_point *p = &outside->point[i];
    gradin_status status = GRADIN_OK;
    if (!isfinite(p->eye_m.x + p->eye_m.y + p->eye_m.z))
        status = gradin_error_add(error, GRADIN_BAD_INPUT, p->at, "%s lies nowhere", p->name);
    else if (is_inside(model, p->eye_m))
        status = gradin_error_add(error, GRADIN_BAD_INPUT, p->at,
                                  "%s lies inside the room; a point outside its walls is needed",
                                  p->name);
    for (int k = 0; k < i; k++)
        if (strcmp(outside->point[k].name, p->name) == 0)
            status =
                gradin_error_add(error, GRADIN_BAD_INPUT, p->at,
                                 "'%s' names two points; each needs a name of its own", p->name);
    return status;
}

static gradin_status check_arguments(const gradin_model *model, const gradin_outside *outside,
                                     gradin_error *error) {
    gradin_status status = GRADIN_OK;
    if (model->n_focus > GRADIN_MAX_FOCUS)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                "%d focus areas; at most %d are allowed", model->n_focus,
                                GRADIN_MAX_FOCUS);
    if (outside->n_point < 0 || outside->n_point > GRADIN_MAX_OUTSIDE)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                "%d points outside; at most %d are allowed", outside->n_point,
                                GRADIN_MAX_OUTSIDE);
    for (int i = 0; i < outside->n_point; i++) {
        gradin_status one = check_point(model, outside, i, error);
        if (one != GRADIN_OK) status = one;
    }
    return status;
}

static bool allocate(gradin_arena *arena, gradin_outlook *o) {
    size_t n_seat = (size_t)o->n_seat, n_point = (size_t)o->n_point, n_area = (size_t)o->n_area;
    o->open_glass = gradin_arena_alloc(arena, n_seat, sizeof *o->open_glass);
    o->glass_ahead = gradin_arena_alloc(arena, n_seat, sizeof *o->glass_ahead);
    o->n_seen_from = gradin_arena_alloc(arena, n_seat, sizeof *o->n_seen_from);
    o->away_m = gradin_arena_alloc(arena, n_point, sizeof *o->away_m);
    o->n_seen = gradin_arena_alloc(arena, n_point * GRADIN_N_SEEN, sizeof *o->n_seen);
    o->head = gradin_arena_alloc(arena, n_point * n_seat, sizeof *o->head);
    o->outline = gradin_arena_alloc(arena, n_point * n_seat, sizeof *o->outline);
    o->turn_deg = gradin_arena_alloc(arena, n_point * n_seat, sizeof *o->turn_deg);
    o->seen = gradin_arena_alloc(arena, n_point * n_seat, sizeof *o->seen);
    o->area = gradin_arena_alloc(arena, n_point * n_area, sizeof *o->area);
    o->standing = gradin_arena_alloc(arena, n_point * n_area, sizeof *o->standing);
    return o->open_glass && o->glass_ahead && o->n_seen_from && o->away_m && o->n_seen && o->head &&
           o->outline && o->turn_deg && o->seen && o->area && o->standing;
}

/* Below all that looks or is looked at: lines between them stay above it. */
static double find_lowest_m(const gradin_model *model, const gradin_outside *outside) {
    double lowest_m = 0.0;
    for (int i = 0; i < outside->n_point; i++) lowest_m = fmin(lowest_m, outside->point[i].eye_m.z);
    for (int i = 0; i < model->seats.n_seat; i++)
        lowest_m = fmin(lowest_m, model->seats.floor_m[i].z);
    for (int i = 0; i < model->n_focus; i++)
        lowest_m = fmin(lowest_m, gradin_focus_lowest_m(&model->focus[i]));
    return lowest_m - 1.0;
}

static void measure_ways(gradin_outlook *o) {
    for (int i = 0; i < o->n_point; i++) {
        gradin_vec3 eye_m = o->outside->point[i].eye_m;
        gradin_vec2 at_m = {eye_m.x, eye_m.y};
        gradin_vec2 near_m = gradin_polygon_nearest_m(o->model->footprint, at_m, NULL);
        o->away_m[i] = hypot(near_m.x - at_m.x, near_m.y - at_m.y);
    }
}

static gradin_status look(gradin_arena *arena, const outlook_job *job, const sight_focus *focus,
                          gradin_error *error) {
    if (!outlook_seats(job) || !outlook_people(job)) return no_memory(error);
    if (focus->n_area > 0 && !outlook_stage(arena, job, focus)) return no_memory(error);
    return GRADIN_OK;
}

gradin_status gradin_outlook_compute(gradin_arena *arena, const gradin_model *model,
                                     const gradin_outside *outside,
                                     const gradin_outlook_options *options, gradin_outlook *outlook,
                                     gradin_error *error) {
    if (NEEDS(error, arena, outlook) != GRADIN_OK || model_complete(model, error) != GRADIN_OK ||
        outside_complete(outside, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_status status = check_arguments(model, outside, error);
    if (status != GRADIN_OK) return status;
    bool are_up = options && options->are_shades_up;
    outlook_glass glass;
    sight_focus focus;
    gradin_scene scene;
    *outlook = (gradin_outlook){.model = model,
                                .outside = outside,
                                .are_shades_up = are_up,
                                .n_seat = model->seats.n_seat,
                                .n_area = model->n_focus,
                                .n_point = outside->n_point};
    if (!allocate(arena, outlook) || !outlook_open_glass(arena, model, are_up, &glass) ||
        !outlook_scene(arena, model, &glass, find_lowest_m(model, outside), &scene))
        return no_memory(error);
    status = gradin_sight_focus(arena, model, GRADIN_DEFAULT_SAMPLE, &focus, error);
    if (status != GRADIN_OK) return status;
    outlook->glass_m2 = glass.glass_m2;
    outlook->open_m2 = glass.open_m2;
    outlook->n_leaning = glass.n_leaning;
    measure_ways(outlook);
    outlook_job job = {.model = model,
                       .glass = &glass,
                       .mask_scene = gradin_mask_scene_create(arena, &scene, focus.lie),
                       .n_thread = omp_get_max_threads(),
                       .out = outlook};
    return job.mask_scene ? look(arena, &job, &focus, error) : no_memory(error);
}
