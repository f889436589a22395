/* What each point outside sees of the focus: the same samples that seats look at, and over a floor
 * the same at the height of somebody who stands there. A floor that is hidden hides nobody who
 * stands on it, and a bar that hides a pair of eyes hides no person: who stands on a sample counts
 * as seen when one of three points of the upright body is, at the eyes, three quarters and half as
 * high. */
#include "sightline/outlook/outlook.h"

#include <string.h>

typedef struct stage_job {
    const outlook_job *job;
    const sight_focus *focus;
    const gradin_mask_grid **grid; /* [1 + N_HEIGHT][n_area] of the areas, and over the floors */
    gradin_vec3 *standing_m;       /* [N_HEIGHT][n_sample] floors raised, all else as it is */
    gradin_mask_scratch *scratch;
    bool *clear; /* [n_sample] */
} stage_job;

enum { N_HEIGHT = 3 };
static const double HEIGHT[N_HEIGHT] = {1.0, 0.75, 0.5}; /* of the standing eye's */

static bool is_floor(const stage_job *s, int area) {
    return s->focus->area[area].kind == GRADIN_FOCUS_FLOOR;
}

/* The grids of all areas, their floors raised to one height. */
static bool raise_floors(gradin_arena *arena, stage_job *s, int height) {
    const sight_focus *f = s->focus;
    gradin_vec3 *raised_m = s->standing_m + (size_t)height * (size_t)f->n_sample;
    double up_m = HEIGHT[height] * s->job->model->audience.standing_eye_height_m;
    memcpy(raised_m, f->sample_m, (size_t)f->n_sample * sizeof *raised_m);
    for (int a = 0; a < f->n_area; a++) {
        int from = f->first_sample[a], to = f->first_sample[a + 1];
        for (int i = from; is_floor(s, a) && i < to; i++) raised_m[i].z += up_m;
        const gradin_mask_grid *made =
            gradin_mask_grid_create(arena, raised_m + from, to - from, f->lie);
        if (!made) return false;
        s->grid[(1 + height) * f->n_area + a] = made;
    }
    return true;
}

static bool make_ready(gradin_arena *arena, stage_job *s) {
    size_t n_area = (size_t)s->focus->n_area, n_sample = (size_t)s->focus->n_sample;
    s->grid = gradin_arena_alloc(arena, (1 + N_HEIGHT) * n_area, sizeof *s->grid);
    s->standing_m = gradin_arena_alloc(arena, N_HEIGHT * n_sample, sizeof *s->standing_m);
    s->clear = gradin_arena_alloc(arena, n_sample, sizeof *s->clear);
    if (!s->grid || !s->standing_m || !s->clear) return false;
    memcpy(s->grid, s->focus->grid, n_area * sizeof *s->grid);
    for (int h = 0; h < N_HEIGHT; h++)
        if (!raise_floors(arena, s, h)) return false;
    s->scratch = gradin_mask_scratch_create(arena, s->grid, (1 + N_HEIGHT) * s->focus->n_area);
    return s->scratch != NULL;
}

/* How many samples of an area show somebody who stands there; marks them in is_seen. */
static int count_standing(const stage_job *s, int area, gradin_vec3 eye_m, bool *is_seen) {
    int n = s->focus->first_sample[area + 1] - s->focus->first_sample[area], n_seen = 0;
    for (int h = 0; h < N_HEIGHT; h++) {
        gradin_mask_clear(s->job->mask_scene, s->grid[(1 + h) * s->focus->n_area + area], eye_m,
                          GRADIN_NO_OWNER, s->clear, s->scratch);
        for (int i = 0; i < n; i++) is_seen[i] = is_seen[i] || s->clear[i];
    }
    for (int i = 0; i < n; i++) n_seen += is_seen[i];
    return n_seen;
}

static void look(const stage_job *s, int point) {
    gradin_outlook *o = s->job->out;
    gradin_vec3 eye_m = o->outside->point[point].eye_m;
    for (int a = 0; a < o->n_area; a++) {
        int from = s->focus->first_sample[a], n = s->focus->first_sample[a + 1] - from;
        int at = point * o->n_area + a;
        bool *is_seen = o->is_spot_seen + (size_t)point * (size_t)o->n_spot + from;
        int n_area_seen = gradin_mask_clear(s->job->mask_scene, s->grid[a], eye_m, GRADIN_NO_OWNER,
                                            s->clear, s->scratch);
        if (!is_floor(s, a)) memcpy(is_seen, s->clear, (size_t)n * sizeof *is_seen);
        o->area[at] = (double)n_area_seen / n;
        o->standing[at] = is_floor(s, a) ? (double)count_standing(s, a, eye_m, is_seen) / n : NAN;
    }
}

bool outlook_stage(gradin_arena *arena, const outlook_job *job, const sight_focus *focus) {
    stage_job s = {.job = job, .focus = focus};
    gradin_outlook *o = job->out;
    size_t n_sample = (size_t)focus->n_sample;
    o->is_spot_seen =
        gradin_arena_alloc(arena, (size_t)o->n_point * n_sample, sizeof *o->is_spot_seen);
    if (!o->is_spot_seen || !make_ready(arena, &s)) return false;
    o->n_spot = focus->n_sample;
    o->first_spot = focus->first_sample;
    o->spot_m = s.standing_m;
    for (int p = 0; p < o->n_point; p++) look(&s, p);
    return true;
}
