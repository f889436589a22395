/* Halls to try samples on: layouts, the rows that are timed, scenes at random. The direction of the
 * rows of samples was chosen on the five layouts of the demo's first hall; the others were not
 * looked at for it. */
#include "sampled.h"
#include "gradin/files.h"
#include "hall.h"
#include "unit/geometry/random.h"

#include <stdlib.h>
#include <string.h>

/* Where many small round shadows lie on the floor, as of heads on a flat floor, outlines are longer
 * by far. */
static const double LIMIT = 0.15, LIMIT_ROUND = 0.30;

static bool open_layout(gradin_arena *arena, const char *path, sampled_hall *hall) {
    hall->is_layout = true;
    hall->limit_rms = strstr(path, "flat_floor") ? LIMIT_ROUND : LIMIT;
    return gradin_model_read(arena, path, &hall->model, NULL) == GRADIN_OK;
}

/* A model of one floor. */
static bool set_floor(gradin_arena *arena, const gradin_vec2 *corner, int n, double z_m,
                      gradin_model *model) {
    gradin_focus *focus = gradin_arena_alloc(arena, 1, sizeof *focus);
    gradin_vec2 *copy = gradin_arena_alloc(arena, (size_t)n, sizeof *copy);
    if (!focus || !copy) return false;
    memcpy(copy, corner, (size_t)n * sizeof *copy);
    *focus = (gradin_focus){.polygon = {copy, n}, .z_m = z_m, .weight = 1.0};
    model->focus = focus;
    model->n_focus = 1;
    return true;
}

static bool open_rows(gradin_arena *arena, double riser_m, sampled_hall *hall) {
    const gradin_vec2 floor[4] = {{-5.0, -10.0}, {5.0, -10.0}, {5.0, 0.0}, {-5.0, 0.0}};
    bench_hall rows;
    if (!bench_rows(arena, 20, 30, riser_m, &rows)) return false;
    hall->limit_rms = LIMIT_ROUND;
    hall->model.scene = rows.scene;
    hall->model.seats.eye_m = (gradin_vec3 *)rows.eye_m;
    hall->model.seats.n_seat = rows.n_seat;
    return set_floor(arena, floor, 4, 0.9, &hall->model);
}

enum { N_EYE = 300, N_SHAPE = 120, N_CORNER = 6 };

/* An area of 3 to 7 m about the middle, eyes 9 to 20 m off and above it, shapes up to 1 m in
 * between. */
static bool open_random(gradin_arena *arena, uint64_t seed, sampled_hall *hall) {
    random_source r = {seed * 0x9E3779B97F4A7C15ULL + 1};
    gradin_vec2 star[N_CORNER];
    gradin_vec3 *eye = gradin_arena_alloc(arena, N_EYE, sizeof *eye);
    gradin_occluder *o = gradin_arena_alloc(arena, N_SHAPE, sizeof *o);
    gradin_vec2 *corner = gradin_arena_alloc(arena, N_SHAPE * RANDOM_CORNERS, sizeof *corner);
    if (!eye || !o || !corner) return false;
    random_star(&r, (gradin_vec2){0.0, 0.0}, 3.0, 7.0, N_CORNER, star);
    for (int i = 0; i < N_EYE; i++) {
        double angle = random_between(&r, 0.0, 2.0 * GRADIN_PI),
               off = random_between(&r, 9.0, 20.0);
        eye[i] = (gradin_vec3){off * cos(angle), off * sin(angle), random_between(&r, 1.0, 6.0)};
    }
    for (int k = 0; k < N_SHAPE; k++) {
        gradin_shape_kind kind = (gradin_shape_kind)(k % (GRADIN_SHAPE_TRIANGLE + 1));
        gradin_shape shape = random_shape(&r, kind, 8.0, 0.5, corner + k * RANDOM_CORNERS);
        o[k] = (gradin_occluder){shape, 0, GRADIN_NO_OWNER, 0};
    }
    hall->limit_rms = LIMIT_ROUND;
    hall->model.scene = (gradin_scene){o, N_SHAPE};
    hall->model.seats.eye_m = eye;
    hall->model.seats.n_seat = N_EYE;
    return set_floor(arena, star, N_CORNER, 0.0, &hall->model);
}

bool sampled_open(gradin_arena *arena, const char *what, sampled_hall *hall) {
    *hall = (sampled_hall){0};
    if (strncmp(what, "rows:", 5) == 0) return open_rows(arena, strtod(what + 5, NULL), hall);
    if (strncmp(what, "random:", 7) == 0)
        return open_random(arena, strtoull(what + 7, NULL, 10), hall);
    return open_layout(arena, what, hall);
}
