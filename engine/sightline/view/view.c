/* The view from a seat: a ray through the middle of each pixel, four more where different things
 * meet. Rays go in blocks of pixels; rows of blocks are independent and the sums of pixel rows are
 * added in order, so the result does not depend on the number of threads. */
#include "gradin/studies/view.h"
#include "base/use.h"
#include "model/complete.h"
#include "sightline/seen/occlusion.h"
#include "sightline/view/view.h"

#include <omp.h>
#include <string.h>

enum { BLOCK_PX = 8 };

typedef struct view_job {
    const view_room *room;
    gradin_view *view;
    view_tally *row;    /* [height_px] */
    bool *is_fine;      /* [n_pixel] */
    int *first_fine;    /* [height_px + 1] of each row */
    gradin_beam **beam; /* [n_thread] */
} view_job;

static bool in_range(double value, double least, double most) {
    return value == 0.0 || (value >= least && value <= most);
}

static gradin_status check(const gradin_model *model, int seat, const gradin_view_options *o,
                           gradin_error *error) {
    if (seat < 0 || seat >= model->seats.n_seat)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "there is no seat %d; there are %d",
                                seat, model->seats.n_seat);
    if (!in_range(o->width_px, GRADIN_VIEW_LEAST_PX, GRADIN_VIEW_MOST_PX) ||
        !in_range(o->height_px, GRADIN_VIEW_LEAST_PX, GRADIN_VIEW_MOST_PX))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "a picture of %d x %d pixels; %d to %d are allowed", o->width_px,
                                o->height_px, GRADIN_VIEW_LEAST_PX, GRADIN_VIEW_MOST_PX);
    if (!in_range(o->fov_deg, o->is_panorama ? 60.0 : 20.0, o->is_panorama ? 360.0 : 120.0))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "a field of view of %g degrees; %s are allowed", o->fov_deg,
                                o->is_panorama ? "60 to 360" : "20 to 120");
    return GRADIN_OK;
}

static bool allocate(gradin_arena *arena, gradin_view *v) {
    size_t n_area = (size_t)v->model->n_focus;
    v->sample =
        gradin_arena_alloc(arena, (size_t)v->width_px * (size_t)v->height_px, sizeof *v->sample);
    v->square_origin_m = gradin_arena_alloc(arena, n_area, sizeof *v->square_origin_m);
    v->square_along = gradin_arena_alloc(arena, n_area, sizeof *v->square_along);
    v->area_visible = gradin_arena_alloc(arena, n_area, sizeof *v->area_visible);
    v->area_in_picture = gradin_arena_alloc(arena, n_area, sizeof *v->area_in_picture);
    v->area_seen = gradin_arena_alloc(arena, n_area, sizeof *v->area_seen);
    return v->sample && v->square_origin_m && v->square_along && v->area_visible &&
           v->area_in_picture && v->area_seen;
}

/* By the table's own kernel and samples. */
static gradin_status count(gradin_arena *arena, const sight_focus *focus, const view_room *room,
                           gradin_view *v, gradin_error *error) {
    sight_occlusion_scratch scratch;
    if (!gradin_sight_occlusion_scratch(arena, v->model, focus, room->own, &scratch))
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a view");
    sight_occlusion seen = gradin_sight_occlusion(v->model, focus, v->seat, false, &scratch);
    v->visible = seen.visible;
    v->worst_occluder = seen.worst_occluder;
    v->worst_hidden = seen.worst_hidden;
    memcpy(v->hidden, seen.hidden, sizeof v->hidden);
    memcpy(v->area_visible, scratch.area_visible, (size_t)focus->n_area * sizeof(double));
    return GRADIN_OK;
}

static int n_block_row(const gradin_view *v) {
    return (v->height_px + BLOCK_PX - 1) / BLOCK_PX;
}

/* The block of a row of blocks that begins at x. */
static view_block block_at(const gradin_view *v, int row, int x) {
    int y = row * BLOCK_PX, x_end = x + BLOCK_PX, y_end = y + BLOCK_PX;
    return (view_block){x, y, x_end < v->width_px ? x_end : v->width_px,
                        y_end < v->height_px ? y_end : v->height_px};
}

static void aim(const view_job *job, gradin_beam *beam, view_block b) {
    gradin_vec3 corner[4];
    view_corners(job->view, b, corner);
    gradin_beam_aim(beam, corner);
}

static void trace_block(const view_job *job, gradin_beam *beam, view_block b) {
    gradin_view *v = job->view;
    aim(job, beam, b);
    for (int y = b.y; y < b.y_end; y++)
        for (int x = b.x; x < b.x_end; x++)
            v->sample[(size_t)y * (size_t)v->width_px + (size_t)x] =
                view_meet(job->room, v, beam, gradin_view_way(v, x + 0.5, y + 0.5),
                          view_solid_sr(v, x + 0.5, y + 0.5), &job->row[y]);
}

static void trace_blocks(const view_job *job, int row) {
    const gradin_view *v = job->view;
    gradin_beam *beam = job->beam[omp_get_thread_num()];
    for (int x = 0; x < v->width_px; x += BLOCK_PX) trace_block(job, beam, block_at(v, row, x));
}

static bool differ(const gradin_view_sample *a, const gradin_view_sample *b) {
    double cosine = (double)a->normal[0] * b->normal[0] + (double)a->normal[1] * b->normal[1] +
                    (double)a->normal[2] * b->normal[2];
    return a->thing != b->thing || a->what != b->what || a->is_hidden != b->is_hidden ||
           a->is_sheer != b->is_sheer || cosine < 0.8;
}

static void find_fine(const view_job *job) {
    const gradin_view *v = job->view;
    for (int y = 0; y < v->height_px; y++)
        for (int x = 0; x < v->width_px; x++) {
            int i = y * v->width_px + x;
            const gradin_view_sample *s = &v->sample[i];
            if (x + 1 < v->width_px && differ(s, s + 1))
                job->is_fine[i] = job->is_fine[i + 1] = true;
            if (y + 1 < v->height_px && differ(s, s + v->width_px))
                job->is_fine[i] = job->is_fine[i + v->width_px] = true;
        }
}

static void trace_fine(const view_job *job, gradin_beam *beam, int i) {
    gradin_view *v = job->view;
    int x = v->fine_pixel[i] % v->width_px, y = v->fine_pixel[i] / v->width_px;
    for (int k = 0; k < GRADIN_VIEW_FINE; k++) {
        gradin_vec2 at = gradin_view_fine_at(k);
        v->fine[i * GRADIN_VIEW_FINE + k] =
            view_meet(job->room, v, beam, gradin_view_way(v, x + at.x, y + at.y), 0.0, NULL);
    }
}

/* The fine pixels of a block; next[] is the first of each of its rows that is not done yet. */
static void trace_fine_block(const view_job *job, gradin_beam *beam, view_block b, int *next) {
    const gradin_view *v = job->view;
    bool is_aimed = false;
    for (int y = b.y; y < b.y_end; y++)
        for (int *i = &next[y - b.y]; *i < job->first_fine[y + 1]; (*i)++) {
            if (v->fine_pixel[*i] >= y * v->width_px + b.x_end) break;
            if (!is_aimed) aim(job, beam, b);
            is_aimed = true;
            trace_fine(job, beam, *i);
        }
}

static void trace_fine_blocks(const view_job *job, int row) {
    const gradin_view *v = job->view;
    gradin_beam *beam = job->beam[omp_get_thread_num()];
    int next[BLOCK_PX];
    for (int y = row * BLOCK_PX; y < (row + 1) * BLOCK_PX && y < v->height_px; y++)
        next[y - row * BLOCK_PX] = job->first_fine[y];
    for (int x = 0; x < v->width_px; x += BLOCK_PX)
        trace_fine_block(job, beam, block_at(v, row, x), next);
}

/* Numbers the fine pixels, rising. */
static void list_fine(const view_job *job) {
    gradin_view *v = job->view;
    for (int y = 0; y < v->height_px; y++) {
        for (int i = y * v->width_px; i < (y + 1) * v->width_px; i++)
            if (job->is_fine[i]) v->fine_pixel[v->n_fine++] = i;
        job->first_fine[y + 1] = v->n_fine;
    }
}

static bool refine(gradin_arena *arena, const view_job *job) {
    gradin_view *v = job->view;
    int n_pixel = v->width_px * v->height_px, n = 0;
    find_fine(job);
    for (int i = 0; i < n_pixel; i++) n += job->is_fine[i];
    v->fine_pixel = gradin_arena_alloc(arena, (size_t)n, sizeof *v->fine_pixel);
    v->fine = gradin_arena_alloc(arena, (size_t)n * GRADIN_VIEW_FINE, sizeof *v->fine);
    if (!v->fine_pixel || !v->fine) return false;
    list_fine(job);
#pragma omp parallel for schedule(dynamic)
    for (int row = 0; row < n_block_row(v); row++) trace_fine_blocks(job, row);
    return true;
}

static void sum_up(const view_job *job, const sight_focus *focus) {
    gradin_view *v = job->view;
    double share = 0.0;
    v->seen = 0.0;
    for (int a = 0; a < v->model->n_focus; a++) {
        double seen_m2 = 0.0, hidden_m2 = 0.0;
        double size_m2 = gradin_sight_size_m2(&v->model->focus[a]);
        for (int y = 0; y < v->height_px; y++) {
            seen_m2 += job->row[y].seen_m2[a];
            hidden_m2 += job->row[y].hidden_m2[a];
        }
        bool is_point = v->model->focus[a].kind == GRADIN_FOCUS_POINT;
        v->area_in_picture[a] = is_point ? 1.0 : (seen_m2 + hidden_m2) / size_m2;
        v->area_seen[a] = is_point ? v->area_visible[a] : seen_m2 / (seen_m2 + hidden_m2);
        v->in_picture += focus->share[a] * fmin(v->area_in_picture[a], 1.0);
        if (isnan(v->area_seen[a])) continue;
        v->seen += focus->share[a] * v->area_seen[a];
        share += focus->share[a];
    }
    v->seen = share > 0.0 ? v->seen / share : NAN;
}

static bool open_job(gradin_arena *scratch, view_job *job) {
    const gradin_view *v = job->view;
    size_t n_row = (size_t)v->height_px, n_thread = (size_t)omp_get_max_threads();
    job->row = gradin_arena_alloc(scratch, n_row, sizeof *job->row);
    job->is_fine = gradin_arena_alloc(scratch, n_row * (size_t)v->width_px, sizeof *job->is_fine);
    job->first_fine = gradin_arena_alloc(scratch, n_row + 1, sizeof *job->first_fine);
    job->beam = gradin_arena_alloc(scratch, n_thread, sizeof(gradin_beam *));
    if (!job->row || !job->is_fine || !job->first_fine || !job->beam) return false;
    for (size_t i = 0; i < n_thread; i++) {
        job->beam[i] = gradin_beam_create(scratch, job->room->all, v->eye_m, v->seat);
        if (!job->beam[i]) return false;
    }
    return true;
}

static gradin_status trace(gradin_arena *arena, gradin_arena *scratch, gradin_view *v,
                           gradin_error *error) {
    sight_focus focus;
    view_room room;
    gradin_status status =
        gradin_sight_focus(scratch, v->model, GRADIN_DEFAULT_SAMPLE, &focus, error);
    if (status != GRADIN_OK) return status;
    for (int a = 0; a < v->model->n_focus; a++) {
        gradin_vec3 middle = gradin_focus_middle_m(&v->model->focus[a]);
        v->square_origin_m[a] = (gradin_vec2){middle.x, middle.y};
        v->square_along[a] = gradin_polygon_askew(v->model->focus[a].polygon).edge;
    }
    view_job job = {.room = &room, .view = v};
    if (!view_room_build(scratch, v->model, &focus, v, &room) || !open_job(scratch, &job))
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a view");
    status = count(scratch, &focus, &room, v, error);
    if (status != GRADIN_OK) return status;
#pragma omp parallel for schedule(dynamic)
    for (int row = 0; row < n_block_row(v); row++) trace_blocks(&job, row);
    sum_up(&job, &focus);
    if (!refine(arena, &job))
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a view");
    return GRADIN_OK;
}

gradin_status gradin_view_compute(gradin_arena *arena, const gradin_model *model, int seat,
                                  const gradin_view_options *options, gradin_view *view,
                                  gradin_error *error) {
    const gradin_view_options none = {0};
    if (NEEDS(error, arena, view) != GRADIN_OK || model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (!options) options = &none;
    gradin_status status = check(model, seat, options, error);
    if (status != GRADIN_OK) return status;
    *view = (gradin_view){.model = model, .seat = seat, .eye_m = model->seats.eye_m[seat]};
    view_aim(model, options, view);
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch || !allocate(arena, view))
        status = gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a view");
    if (status == GRADIN_OK) status = trace(arena, scratch, view, error);
    gradin_arena_destroy(scratch);
    return status;
}
