/* Rays through the model's own walls, prisms and elements. Reflection is Lambert's, absorption
 * takes its share of a walk's power, air its e^(-m r). What a walk sends from each point straight
 * to a seat is cos/(pi r2) of its power, as far as nothing stands between (gradin_visibility).
 * Chances come from a counter (splitmix64: Steele, Lea, Flood, OOPSLA 2014), so a walk is the same
 * in any order. */
#include "trace.h"

#include <criterion/criterion.h>

#include "acoustics/envelope/element.h"
#include "acoustics/room/room.h"

enum { MOST_STEPS = 400, MOST_SEATS = 32 };

static const double lift_m = 1e-4, least_power = 1e-3, near_m = 1e-5;

typedef struct tracer {
    const gradin_model *model;
    gradin_shade_state state;
    int band;
    gradin_scene scene;
    gradin_visibility_scratch *scratch;
    double air_1m, extra; /* absorption that hangs evenly on ceiling and walls */
    uint64_t counter;
    gradin_vec3 ear_m[MOST_SEATS];
    int n_ear;
} tracer;

typedef struct spot {
    gradin_vec3 at_m, normal;
    double alpha;
} spot;

static double chance(tracer *t) {
    uint64_t z = (t->counter += 0x9E3779B97F4A7C15ULL);
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    return (double)((z ^ (z >> 31)) >> 11) / 9007199254740992.0;
}

static gradin_vec3 unit(gradin_vec3 a) {
    return gradin_scale(a, 1.0 / gradin_norm(a));
}

static gradin_vec3 scatter(tracer *t, gradin_vec3 normal) {
    double u = chance(t), turn = 2.0 * GRADIN_PI * chance(t);
    gradin_vec3 other = fabs(normal.z) < 0.9 ? (gradin_vec3){0, 0, 1} : (gradin_vec3){1, 0, 0};
    gradin_vec3 x = unit(gradin_cross(normal, other)), y = gradin_cross(normal, x);
    return gradin_add(
        gradin_scale(normal, sqrt(1.0 - u)),
        gradin_add(gradin_scale(x, sqrt(u) * cos(turn)), gradin_scale(y, sqrt(u) * sin(turn))));
}

/* Windows and doors before opaque elements; -1: none. */
static int element_at(const gradin_model *m, gradin_vec3 at_m, gradin_vec3 normal) {
    int found = -1;
    for (int e = 0; e < m->n_element; e++) {
        const gradin_element *w = &m->element[e];
        gradin_frame f = gradin_element_frame(w);
        gradin_vec3 way = gradin_sub(at_m, w->corner_m);
        double u_m = gradin_dot(way, f.along), v_m = gradin_dot(way, f.up);
        if (gradin_dot(normal, f.outward) > -0.99 || fabs(gradin_dot(way, f.outward)) > 0.1 ||
            !(w->width_m > 0.0) || u_m < 0.0 || u_m > w->width_m || v_m < 0.0 || v_m > w->height_m)
            continue;
        if (!gradin_element_is_opaque(w)) return e;
        found = e;
    }
    return found;
}

static double outer_alpha(const tracer *t, gradin_vec3 at_m, gradin_vec3 normal, int surface) {
    int e = element_at(t->model, at_m, normal);
    if (e < 0) return t->model->surface[surface].absorption[t->band] + t->extra;
    const gradin_element *element = &t->model->element[e];
    return gradin_element_absorption(t->model, element, t->state, t->band, 1.0) +
           (gradin_element_is_opaque(element) ? t->extra : 0.0);
}

static double floor_alpha(const tracer *t, gradin_vec3 at_m) {
    const gradin_seats *s = &t->model->seats;
    for (int i = 0; i < s->n_seat; i++) {
        gradin_vec2 ahead = gradin_bearing_unit(s->facing_deg[i]);
        double x = at_m.x - s->floor_m[i].x, y = at_m.y - s->floor_m[i].y;
        if (fabs(at_m.z - s->floor_m[i].z) < 0.1 &&
            fabs(x * ahead.x + y * ahead.y) <= 0.5 * s->depth_m[i] &&
            fabs(x * ahead.y - y * ahead.x) <= 0.5 * s->width_m[i])
            return t->model->surface[GRADIN_SURFACE_SEATING].absorption[t->band];
    }
    return t->model->surface[GRADIN_SURFACE_FLOOR].absorption[t->band];
}

static gradin_vec3 upright_normal(gradin_polygon plan, int edge, gradin_vec3 way) {
    gradin_vec2 a = plan.corner_m[edge], b = plan.corner_m[(edge + 1) % plan.n_corner];
    gradin_vec3 n = unit((gradin_vec3){b.y - a.y, a.x - b.x, 0.0});
    return gradin_dot(n, way) > 0.0 ? gradin_scale(n, -1.0) : n;
}

/* Nearest of floor, ceiling and walls; how far. */
static double meet_shell(const tracer *t, gradin_vec3 from_m, gradin_vec3 way, spot *hit) {
    const gradin_model *m = t->model;
    double far_m = way.z > 0.0   ? (m->ceiling_m - from_m.z) / way.z
                   : way.z < 0.0 ? -from_m.z / way.z
                                 : INFINITY;
    int wall = -1;
    for (int i = 0; i < m->footprint.n_corner; i++) {
        gradin_vec2 a = m->footprint.corner_m[i];
        gradin_vec2 b = m->footprint.corner_m[(i + 1) % m->footprint.n_corner];
        double ex = b.x - a.x, ey = b.y - a.y, det = ex * way.y - ey * way.x;
        if (det == 0.0) continue;
        double px = from_m.x - a.x, py = from_m.y - a.y;
        double along = (px * way.y - py * way.x) / det, r_m = (px * ey - py * ex) / det;
        if (along < 0.0 || along > 1.0 || r_m <= near_m || r_m >= far_m) continue;
        far_m = r_m;
        wall = i;
    }
    hit->at_m = gradin_add(from_m, gradin_scale(way, far_m));
    if (wall >= 0) {
        hit->normal = upright_normal(m->footprint, wall, way);
        hit->alpha = outer_alpha(t, hit->at_m, hit->normal, GRADIN_SURFACE_WALL);
    } else {
        hit->normal = (gradin_vec3){0.0, 0.0, way.z > 0.0 ? -1.0 : 1.0};
        hit->alpha = way.z > 0.0 ? outer_alpha(t, hit->at_m, hit->normal, GRADIN_SURFACE_CEILING)
                                 : floor_alpha(t, hit->at_m);
    }
    return far_m;
}

static void meet_prism(const tracer *t, const gradin_shape *prism, gradin_vec3 at_m,
                       gradin_vec3 way, spot *hit) {
    int edge;
    hit->at_m = at_m;
    if (way.z < 0.0 && fabs(at_m.z - prism->as.prism.top_m) < near_m) {
        hit->normal = (gradin_vec3){0.0, 0.0, 1.0};
        hit->alpha = floor_alpha(t, at_m);
        return;
    }
    gradin_polygon_nearest_m(prism->as.prism.polygon, (gradin_vec2){at_m.x, at_m.y}, &edge);
    hit->normal = way.z > 0.0 && fabs(at_m.z - prism->as.prism.bottom_m) < near_m
                      ? (gradin_vec3){0.0, 0.0, -1.0}
                      : upright_normal(prism->as.prism.polygon, edge, way);
    hit->alpha = t->model->surface[GRADIN_SURFACE_WALL].absorption[t->band] + t->extra;
}

/* Where the way ends, and its length. */
static double step(const tracer *t, gradin_vec3 from_m, gradin_vec3 way, spot *hit) {
    double far_m = meet_shell(t, from_m, way, hit), nearest = 1.0, entry;
    gradin_vec3 end_m = gradin_add(from_m, gradin_scale(way, far_m));
    const gradin_shape *met = NULL;
    for (int k = 0; k < t->scene.n_occluder; k++) {
        const gradin_shape *shape = &t->scene.occluder[k].shape;
        if (shape->kind != GRADIN_SHAPE_PRISM || !gradin_shape_hit(shape, from_m, end_m, &entry) ||
            entry >= nearest)
            continue;
        nearest = entry;
        met = shape;
    }
    if (met) meet_prism(t, met, gradin_add(from_m, gradin_scale(way, nearest * far_m)), way, hit);
    hit->alpha = fmin(fmax(hit->alpha, 0.0), 1.0);
    return nearest * far_m;
}

/* What a power that leaves the spot sends straight to each ear, added to heard[n_ear]. */
static void tell(tracer *t, const spot *from, double power, double *heard) {
    gradin_vec3 start_m = gradin_add(from->at_m, gradin_scale(from->normal, 0.02));
    int32_t first[MOST_SEATS];
    gradin_visibility(&t->scene, start_m, GRADIN_NO_OWNER, t->ear_m, t->n_ear, first, t->scratch);
    for (int k = 0; k < t->n_ear; k++) {
        gradin_vec3 way = gradin_sub(t->ear_m[k], from->at_m);
        double r_m = gradin_norm(way), up_m = gradin_dot(way, from->normal);
        if (first[k] == GRADIN_CLEAR && up_m > 0.0)
            heard[k] += power * up_m / (GRADIN_PI * r_m * r_m * r_m) * exp(-t->air_1m * r_m);
    }
}

static void walk(tracer *t, int element, double u, double v, double *heard) {
    const gradin_element *e = &t->model->element[element];
    gradin_frame f = gradin_element_frame(e);
    spot at = {gradin_element_point_m(e, u * e->width_m, v * e->height_m),
               gradin_scale(f.outward, -1.0), 0.0};
    double power = 1.0, air_1m = t->air_1m;
    t->air_1m = 0.0; /* the engine's direct field leaves air out */
    tell(t, &at, power, heard);
    t->air_1m = air_1m;
    for (int n = 0; n < MOST_STEPS && power > 0.0; n++) {
        gradin_vec3 way = scatter(t, at.normal);
        gradin_vec3 from_m = gradin_add(at.at_m, gradin_scale(at.normal, lift_m));
        double r_m = step(t, from_m, way, &at);
        power *= exp(-t->air_1m * r_m) * (1.0 - at.alpha);
        if (power < least_power) power = chance(t) < power / least_power ? least_power : 0.0;
        if (power > 0.0) tell(t, &at, power, heard);
    }
}

static double extra_of(const gradin_model *m, int band) {
    double extra_m2 = 0.0, bare_m2 = m->surface[GRADIN_SURFACE_CEILING].area_m2 +
                                     m->surface[GRADIN_SURFACE_WALL].area_m2;
    for (int e = 0; e < m->n_element; e++)
        if (gradin_element_is_opaque(&m->element[e]))
            bare_m2 += gradin_element_area_m2(&m->element[e]);
    for (int i = GRADIN_N_SURFACE; i < m->n_surface; i++)
        extra_m2 += m->surface[i].area_m2 * m->surface[i].absorption[band];
    return extra_m2 / bare_m2;
}

void trace_element(const gradin_model *model, gradin_shade_state state, int band, int element,
                   int n_walk, const int *seat, int n_seat, double *square, double *error) {
    gradin_arena *arena = gradin_arena_create();
    tracer t = {.model = model,
                .state = state,
                .band = band,
                .air_1m = gradin_room_air_4m(gradin_band_mid_hz(band)) / 4.0,
                .extra = extra_of(model, band),
                .n_ear = n_seat};
    cr_assert(arena && n_seat <= MOST_SEATS);
    cr_assert(gradin_room_scene_make(arena, model, &t.scene, NULL) == GRADIN_OK);
    t.scratch = gradin_visibility_scratch_create(arena, &t.scene);
    cr_assert(t.scratch != NULL);
    for (int k = 0; k < n_seat; k++) {
        t.ear_m[k] = model->seats.eye_m[seat[k]];
        square[k] = error[k] = 0.0;
    }
    for (int w = 0; w < n_walk; w++) {
        double heard[MOST_SEATS] = {0.0};
        t.counter = (uint64_t)w << 32;
        double u = (w % 16 + chance(&t)) / 16.0, v = (w / 16 % 16 + chance(&t)) / 16.0;
        walk(&t, element, u, v, heard);
        for (int k = 0; k < n_seat; k++) {
            square[k] += heard[k];
            error[k] += heard[k] * heard[k];
        }
    }
    for (int k = 0; k < n_seat; k++) {
        square[k] /= n_walk;
        error[k] = sqrt(fmax(error[k] / n_walk - square[k] * square[k], 0.0) / n_walk);
    }
    gradin_arena_destroy(arena);
}
