/* The scenes that are timed. */
#include "hall.h"
#include "gradin/files.h"
#include "support/formulas.h"

#include <string.h>

enum { SIDE = 32, N_RAIL = 4 };

static bool set_samples(gradin_arena *arena, bench_hall *hall, int n_area) {
    hall->n_area = n_area;
    hall->sample_m = gradin_arena_alloc(arena, (size_t)n_area, sizeof *hall->sample_m);
    hall->n_sample = gradin_arena_alloc(arena, (size_t)n_area, sizeof(int));
    return hall->sample_m && hall->n_sample;
}

/* All areas have the rows of the first. */
static bool lay_samples(gradin_arena *arena, gradin_polygon area, double z_m, int n_wanted,
                        bench_hall *hall, int a) {
    gradin_vec2 *p;
    int n;
    if (a == 0) hall->lie = gradin_polygon_askew(area);
    if (gradin_polygon_grid(arena, area, hall->lie.row, n_wanted, &p, &n) != GRADIN_OK)
        return false;
    gradin_vec3 *sample = gradin_arena_alloc(arena, (size_t)n, sizeof *sample);
    if (!sample) return false;
    for (int i = 0; i < n; i++) sample[i] = (gradin_vec3){p[i].x, p[i].y, z_m};
    hall->sample_m[a] = sample;
    hall->n_sample[a] = n;
    return true;
}

static gradin_occluder occluder(gradin_shape shape, int owner) {
    return (gradin_occluder){shape, 0, owner, 0};
}

bool bench_rows(gradin_arena *arena, int n_row, int n_across, double riser_m, bench_hall *hall) {
    static const gradin_vec2 soffit[4] = {{-12.0, 12.0}, {12.0, 12.0}, {12.0, 22.0}, {-12.0, 22.0}};
    int n_seat = n_row * n_across, n = 0;
    gradin_vec3 *eye = gradin_arena_alloc(arena, (size_t)n_seat, sizeof *eye);
    gradin_occluder *o = gradin_arena_alloc(arena, (size_t)n_seat + N_RAIL + 1, sizeof *o);
    if (!eye || !o || !set_samples(arena, hall, 1)) return false;
    const gradin_vec2 floor[4] = {{-5.0, -10.0}, {5.0, -10.0}, {5.0, 0.0}, {-5.0, 0.0}};
    if (!lay_samples(arena, (gradin_polygon){floor, 4}, 0.9, SIDE * SIDE, hall, 0)) return false;
    for (; n < n_seat; n++) {
        int row = n / n_across, k = n % n_across;
        eye[n] = (gradin_vec3){(k - 0.5 * (n_across - 1)) * 0.55 + (row % 2 ? 0.275 : 0.0),
                               3.0 + 0.9 * row, 1.2 + riser_m * row};
        gradin_vec3 middle = {eye[n].x, eye[n].y + 0.08, eye[n].z};
        o[n] = occluder(formula_sphere(middle, 0.115), n);
    }
    for (int k = 0; k < N_RAIL; k++) {
        double x = -8.0 + 4.0 * k;
        o[n++] = occluder(
            gradin_capsule((gradin_vec3){x, 2.0, 1.0}, (gradin_vec3){x + 3.8, 2.0, 1.0}, 0.025),
            GRADIN_NO_OWNER);
    }
    double under = 1.2 + riser_m * 20 + 1.5;
    o[n++] =
        occluder(gradin_prism((gradin_polygon){soffit, 4}, under, under + 0.3), GRADIN_NO_OWNER);
    hall->scene = (gradin_scene){o, n};
    hall->eye_m = eye;
    hall->n_seat = n_seat;
    return true;
}

bool bench_layout(gradin_arena *arena, const char *path, int n_wanted, bench_hall *hall) {
    gradin_model *model = gradin_arena_alloc(arena, 1, sizeof *model);
    if (!model || gradin_model_read(arena, path, model, NULL) != GRADIN_OK) return false;
    if (!set_samples(arena, hall, model->n_focus)) return false;
    for (int a = 0; a < model->n_focus; a++)
        if (!lay_samples(arena, model->focus[a].polygon, model->focus[a].z_m,
                         n_wanted / model->n_focus, hall, a))
            return false;
    hall->scene = model->scene;
    hall->eye_m = model->seats.eye_m;
    hall->n_seat = model->seats.n_seat;
    return true;
}

static gradin_vec3 cloth_point(gradin_vec3 low, gradin_vec3 high, double u, double v) {
    double fold = 0.25 * sin(40.0 * u) + 0.08 * sin(90.0 * u + 14.0 * v);
    return (gradin_vec3){low.x + (high.x - low.x) * u,
                         low.y + (high.y - low.y) * (0.55 + 0.15 * v) + fold,
                         low.z + 0.02 + 3.5 * v};
}

bool bench_add_cloth(gradin_arena *arena, int n, bench_hall *hall) {
    int n_old = hall->scene.n_occluder, k = n_old;
    gradin_occluder *o =
        gradin_arena_alloc(arena, (size_t)n_old + 2 * (size_t)n * (size_t)n, sizeof *o);
    if (!o) return false;
    memcpy(o, hall->scene.occluder, (size_t)n_old * sizeof *o);
    gradin_vec3 low = hall->sample_m[0][0], high = low;
    for (int i = 0; i < hall->n_sample[0]; i++) {
        gradin_vec3 p = hall->sample_m[0][i];
        low = (gradin_vec3){fmin(low.x, p.x), fmin(low.y, p.y), p.z};
        high = (gradin_vec3){fmax(high.x, p.x), fmax(high.y, p.y), p.z};
    }
    for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++) {
            double u = (double)i / n, v = (double)j / n, step = 1.0 / n;
            if (i * 12 / n % 3 == 1) continue;
            gradin_vec3 a = cloth_point(low, high, u, v), b = cloth_point(low, high, u + step, v);
            gradin_vec3 c = cloth_point(low, high, u + step, v + step);
            gradin_vec3 d = cloth_point(low, high, u, v + step);
            o[k++] = occluder(gradin_triangle(a, b, c), GRADIN_NO_OWNER);
            o[k++] = occluder(gradin_triangle(a, c, d), GRADIN_NO_OWNER);
        }
    hall->scene = (gradin_scene){o, k};
    return true;
}
