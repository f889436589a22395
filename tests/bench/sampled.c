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

static void add_area(sampled_hall *hall, gradin_focus area) {
    hall->focus[hall->model.n_focus++] = area;
    hall->model.focus = hall->focus;
}

static bool add_floor(gradin_arena *arena, const gradin_vec2 *corner, int n, double z_m,
                      double weight, sampled_hall *hall) {
    gradin_vec2 *copy = gradin_arena_alloc(arena, (size_t)n, sizeof *copy);
    if (!copy) return false;
    memcpy(copy, corner, (size_t)n * sizeof *copy);
    add_area(hall, (gradin_focus){.polygon = {copy, n}, .z_m = z_m, .weight = weight});
    return true;
}

static bool add_upright(gradin_arena *arena, gradin_vec2 from, gradin_vec2 to, double bottom_m,
                        double top_m, double weight, sampled_hall *hall) {
    gradin_vec2 *line = gradin_arena_alloc(arena, 2, sizeof *line);
    if (!line) return false;
    line[0] = from;
    line[1] = to;
    add_area(hall, (gradin_focus){.kind = GRADIN_FOCUS_UPRIGHT,
                                  .line_m = line,
                                  .n_line = 2,
                                  .bottom_m = bottom_m,
                                  .top_m = top_m,
                                  .weight = weight});
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
    return add_floor(arena, floor, 4, 0.9, 1.0, hall);
}

enum { N_EYE = 300, N_SHAPE = 120, N_CORNER = 6 };

/* An area of 3 to 7 m about the middle, eyes 9 to 20 m off and above it, shapes up to 1 m in
 * between. */
static bool open_random(gradin_arena *arena, random_source *source, sampled_hall *hall) {
    random_source r = *source;
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
    *source = r;
    return add_floor(arena, star, N_CORNER, 0.0, 1.0, hall);
}

/* As at random, with a second floor of 1 to 2.5 m and a screen, each with a weight of its own. */
static bool open_areas(gradin_arena *arena, random_source r, sampled_hall *hall) {
    gradin_vec2 star[N_CORNER], at = {random_between(&r, -4.0, 4.0), random_between(&r, -4.0, 4.0)};
    double heavy = random_between(&r, 0.1, 2.0), light = random_between(&r, 0.1, 1.0);
    double aside = random_between(&r, -2.0, 2.0), top_m = random_between(&r, 2.5, 5.0);
    random_star(&r, at, 1.0, 2.5, N_CORNER, star);
    return open_random(arena, &r, hall) && add_floor(arena, star, N_CORNER, 0.0, heavy, hall) &&
           add_upright(arena, (gradin_vec2){-3.0, aside}, (gradin_vec2){3.0, -aside}, 2.0, top_m,
                       light, hall);
}

/* A floor 10 m wide and 8 m deep behind y = 0, before it a parapet all along that hides the same
 * depth of it from all of one eye's directions: eyes 2 to 16 m behind the parapet and above it, so
 * that the depth is up to a quarter of the floor's. */
static bool open_strips(gradin_arena *arena, random_source r, sampled_hall *hall) {
    const gradin_vec2 floor[4] = {{-5.0, -8.0}, {5.0, -8.0}, {5.0, 0.0}, {-5.0, 0.0}};
    gradin_vec3 *eye = gradin_arena_alloc(arena, N_EYE, sizeof *eye);
    gradin_occluder *o = gradin_arena_alloc(arena, 1, sizeof *o);
    if (!eye || !o) return false;
    *o = (gradin_occluder){gradin_box((gradin_vec3){0.0, 1.05, 0.5}, 0.0, 0.05, 30.0, 0.5), 0,
                           GRADIN_NO_OWNER, 0};
    for (int i = 0; i < N_EYE; i++) {
        double y = random_between(&r, 3.0, 17.0), hidden_to_m = random_between(&r, 0.0, 2.0);
        /* over the parapet's top at z = 1, y = 1 and down to the floor at y = -hidden_to_m */
        eye[i] = (gradin_vec3){random_between(&r, -12.0, 12.0), y,
                               (y + hidden_to_m) / (1.0 + hidden_to_m)};
    }
    hall->limit_rms = LIMIT;
    hall->model.scene = (gradin_scene){o, 1};
    hall->model.seats.eye_m = eye;
    hall->model.seats.n_seat = N_EYE;
    return add_floor(arena, floor, 4, 0.0, 1.0, hall);
}

static random_source seeded(const char *seed) {
    return (random_source){strtoull(seed, NULL, 10) * 0x9E3779B97F4A7C15ULL + 1};
}

bool sampled_open(gradin_arena *arena, const char *what, sampled_hall *hall) {
    *hall = (sampled_hall){0};
    if (strncmp(what, "rows:", 5) == 0) return open_rows(arena, strtod(what + 5, NULL), hall);
    if (strncmp(what, "random:", 7) == 0) {
        random_source r = seeded(what + 7);
        return open_random(arena, &r, hall);
    }
    if (strncmp(what, "areas:", 6) == 0) return open_areas(arena, seeded(what + 6), hall);
    if (strncmp(what, "strips:", 7) == 0) return open_strips(arena, seeded(what + 7), hall);
    return open_layout(arena, what, hall);
}
