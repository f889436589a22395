/* What each point outside sees of the focus: the same samples that seats look at, and over a floor
 * the same once more at the height of standing eyes, since a floor that is hidden hides nobody who
 * stands on it. */
#include "sightline/outlook/outlook.h"

#include <string.h>

typedef struct stage_job {
    const outlook_job *job;
    const sight_focus *focus;
    const gradin_mask_grid **grid; /* [2][n_area] of the areas, and of who stands there */
    gradin_vec3 *standing_m;       /* [n_sample] floors raised, all else as it is */
    gradin_mask_scratch *scratch;
} stage_job;

static bool make_ready(gradin_arena *arena, stage_job *s) {
    const sight_focus *f = s->focus;
    int n_area = f->n_area;
    s->grid = gradin_arena_alloc(arena, 2 * (size_t)n_area, sizeof *s->grid);
    s->standing_m = gradin_arena_alloc(arena, (size_t)f->n_sample, sizeof *s->standing_m);
    if (!s->grid || !s->standing_m) return false;
    memcpy(s->standing_m, f->sample_m, (size_t)f->n_sample * sizeof *s->standing_m);
    for (int a = 0; a < n_area; a++) {
        int from = f->first_sample[a], to = f->first_sample[a + 1];
        bool is_floor = f->area[a].kind == GRADIN_FOCUS_FLOOR;
        for (int i = from; is_floor && i < to; i++)
            s->standing_m[i].z += s->job->model->audience.standing_eye_height_m;
        s->grid[a] = f->grid[a];
        s->grid[n_area + a] =
            gradin_mask_grid_create(arena, s->standing_m + from, to - from, f->lie);
        if (!s->grid[n_area + a]) return false;
    }
    s->scratch = gradin_mask_scratch_create(arena, s->grid, 2 * n_area);
    return s->scratch != NULL;
}

static double share_seen(const stage_job *s, int grid, int n, gradin_vec3 eye_m, bool *clear) {
    return (double)gradin_mask_clear(s->job->mask_scene, s->grid[grid], eye_m, GRADIN_NO_OWNER,
                                     clear, s->scratch) /
           n;
}

static void look(const stage_job *s, int point) {
    gradin_outlook *o = s->job->out;
    gradin_vec3 eye_m = o->outside->point[point].eye_m;
    for (int a = 0; a < o->n_area; a++) {
        int from = s->focus->first_sample[a], n = s->focus->first_sample[a + 1] - from;
        int at = point * o->n_area + a;
        bool *clear = o->is_spot_seen + (size_t)point * (size_t)o->n_spot + from;
        bool is_floor = s->focus->area[a].kind == GRADIN_FOCUS_FLOOR;
        double standing = share_seen(s, o->n_area + a, n, eye_m, clear);
        o->area[at] = is_floor ? share_seen(s, a, n, eye_m, NULL) : standing;
        o->standing[at] = is_floor ? standing : NAN;
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
