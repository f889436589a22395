/* What each point outside sees of the people in their seats, the house being full.
 *
 * The outline of a person is what the point would see of head, neck and shoulders were nothing else
 * there: a grid of rays RASTER_M apart at the head, each aimed to where it first meets the body.
 * Of those rays it counts how many nothing else stops, for the head alone and for all. */
#include "sightline/outlook/outlook.h"

#include <omp.h>

enum { HALF_COLUMNS = 9, ROWS_UP = 5, ROWS_DOWN = 13, SEATS_AT_ONCE = 32 };
enum { MOST_RAY = 2 * HALF_COLUMNS * (ROWS_UP + ROWS_DOWN) };
static const double RASTER_M = 0.04;
static const double BEFORE_M = 0.001; /* rays end this far before the body */
static const double BEYOND_M = 1.0;   /* and are drawn so far beyond the head to find it */

/* Rays of some seats: where they end, and which belong to a head. */
typedef struct outline_rays {
    gradin_vec3 end_m[SEATS_AT_ONCE * MOST_RAY];
    bool is_head[SEATS_AT_ONCE * MOST_RAY];
    bool is_clear[SEATS_AT_ONCE * MOST_RAY];
    int first[SEATS_AT_ONCE + 1];
    int n;
} outline_rays;

typedef struct sight_line {
    gradin_vec3 from_m, middle_m, right, up;
} sight_line;

static gradin_vec3 unit_of(gradin_vec3 a) {
    return gradin_scale(a, 1.0 / gradin_norm(a));
}

/* Right and up as they look at the head; from straight above, right is east. */
static sight_line line_to(gradin_vec3 from_m, gradin_vec3 middle_m) {
    gradin_vec3 way = unit_of(gradin_sub(middle_m, from_m)), right = {way.y, -way.x, 0.0};
    right = hypot(way.x, way.y) > 1e-9 ? unit_of(right) : (gradin_vec3){1.0, 0.0, 0.0};
    return (sight_line){from_m, middle_m, right, gradin_cross(right, way)};
}

/* Adds the ray when it meets the body. */
static void add_ray(outline_rays *rays, const sight_line *l, const gradin_shape *body,
                    double right_m, double up_m) {
    gradin_vec3 at_m = gradin_add(
        l->middle_m, gradin_add(gradin_scale(l->right, right_m), gradin_scale(l->up, up_m)));
    gradin_vec3 way = gradin_sub(at_m, l->from_m);
    double length_m = gradin_norm(way) + BEYOND_M, nearest = INFINITY, t;
    gradin_vec3 end_m = gradin_add(l->from_m, gradin_scale(unit_of(way), length_m));
    bool is_head = gradin_shape_hit(&body[0], l->from_m, end_m, &t);
    if (is_head) nearest = t;
    for (int k = 1; k < GRADIN_N_BODY; k++)
        if (gradin_shape_hit(&body[k], l->from_m, end_m, &t)) nearest = fmin(nearest, t);
    if (!isfinite(nearest)) return;
    double reach_m = fmax(nearest * length_m - BEFORE_M, 0.0);
    rays->is_head[rays->n] = is_head;
    rays->end_m[rays->n++] = gradin_add(l->from_m, gradin_scale(unit_of(way), reach_m));
}

static void add_person(outline_rays *rays, const gradin_model *model, int seat,
                       gradin_vec3 from_m) {
    gradin_shape body[GRADIN_N_BODY];
    gradin_body_shapes(&model->audience, model->seats.eye_m[seat], model->seats.facing_deg[seat],
                       body);
    sight_line l = line_to(from_m, body[0].as.solid.centre_m);
    for (int i = -ROWS_DOWN; i < ROWS_UP; i++)
        for (int k = -HALF_COLUMNS; k < HALF_COLUMNS; k++)
            add_ray(rays, &l, body, (k + 0.5) * RASTER_M, (i + 0.5) * RASTER_M);
}

static gradin_seen judge(double head, double outline) {
    if (head >= GRADIN_SEEN_HEAD_LEAST) return GRADIN_SEEN_HEAD;
    return outline > 0.0 ? GRADIN_SEEN_PARTLY : GRADIN_SEEN_HIDDEN;
}

static void count_person(const outline_rays *rays, int from, int to, double *head,
                         double *outline) {
    int n_head = 0, n_head_clear = 0, n_clear = 0;
    for (int i = from; i < to; i++) {
        n_head += rays->is_head[i];
        n_head_clear += rays->is_head[i] && rays->is_clear[i];
        n_clear += rays->is_clear[i];
    }
    *head = n_head > 0 ? (double)n_head_clear / n_head : 0.0;
    *outline = to > from ? (double)n_clear / (to - from) : 0.0;
}

static bool look(const outlook_job *job, int point, int from, gradin_arena *arena) {
    gradin_outlook *o = job->out;
    gradin_vec3 eye_m = o->outside->point[point].eye_m;
    int to = from + SEATS_AT_ONCE < o->n_seat ? from + SEATS_AT_ONCE : o->n_seat;
    outline_rays *rays = gradin_arena_alloc(arena, 1, sizeof *rays);
    if (!rays) return false;
    for (int i = from; i < to; i++) {
        add_person(rays, job->model, i, eye_m);
        rays->first[i - from + 1] = rays->n;
    }
    gradin_rays_clear(job->mask_scene, eye_m, GRADIN_NO_OWNER, rays->end_m, rays->n,
                      rays->is_clear);
    for (int i = from; i < to; i++) {
        size_t at = (size_t)point * (size_t)o->n_seat + (size_t)i;
        count_person(rays, rays->first[i - from], rays->first[i - from + 1], &o->head[at],
                     &o->outline[at]);
    }
    return true;
}

static void face(const outlook_job *job, int point, int seat) {
    gradin_outlook *o = job->out;
    const gradin_seats *seats = &job->model->seats;
    gradin_vec3 way = gradin_sub(o->outside->point[point].eye_m, seats->eye_m[seat]);
    size_t at = (size_t)point * (size_t)o->n_seat + (size_t)seat;
    o->turn_deg[at] =
        gradin_bearing_gap_deg(seats->facing_deg[seat], gradin_bearing_deg(way.x, way.y));
    o->seen[at] = judge(o->head[at], o->outline[at]);
    o->n_seen[point * GRADIN_N_SEEN + (int)o->seen[at]]++;
    o->n_seen_from[seat] += o->seen[at] != GRADIN_SEEN_HIDDEN;
}

bool outlook_people(const outlook_job *job) {
    gradin_outlook *o = job->out;
    int n_part = (o->n_seat + SEATS_AT_ONCE - 1) / SEATS_AT_ONCE, n_failed = 0;
    if (job->glass->n_hole > 0) {
#pragma omp parallel for schedule(dynamic) num_threads(job->n_thread) reduction(+ : n_failed)
        for (int k = 0; k < o->n_point * n_part; k++) {
            gradin_arena *own = gradin_arena_create();
            n_failed += !own || !look(job, k / n_part, k % n_part * SEATS_AT_ONCE, own);
            gradin_arena_destroy(own);
        }
    }
    for (int p = 0; p < o->n_point; p++)
        for (int i = 0; i < o->n_seat; i++) face(job, p, i);
    return n_failed == 0;
}
