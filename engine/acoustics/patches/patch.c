/* The room's inner surface in rectangles.
 *
 * faces.c lists the faces and cut.c cuts them. Of each rectangle a grid of points tells what is
 * bare: air before it and something solid behind it. People are laid flat on their treads: the
 * share of the bare points that lies under a seat is seating. */
#include "acoustics/patches/patch.h"
#include "acoustics/envelope/element.h"

#include <omp.h>

enum { MOST_POINTS = 16 };

static const double point_step_m = 0.15;
static const double ahead_m = 0.02, behind_m[2] = {0.02, 0.06}; /* columns are not quite hexagons */
static const double opening_plane_m = 0.1, seat_drop_m = 0.1;
static const double edge_m = 1e-6;   /* more than an edge is wide */
static const double least_m2 = 0.05; /* smaller bare rests are left out */

typedef struct around {
    const gradin_model *model;
    const gradin_occluder **prism; /* near the patch */
    gradin_box2 *plan;             /* round them */
    int n_prism;
    int *seat; /* near the patch */
    int n_seat;
    struct opening *open; /* [n_element] room for those in the patch's plane */
} around;

static bool in_section(const gradin_section *s, gradin_vec3 at_m) {
    return at_m.x >= fmin(s->corner_m[0].x, s->corner_m[2].x) &&
           at_m.x <= fmax(s->corner_m[0].x, s->corner_m[2].x) &&
           at_m.y >= fmin(s->corner_m[0].y, s->corner_m[2].y) &&
           at_m.y <= fmax(s->corner_m[0].y, s->corner_m[2].y);
}

/* Below the floor only a sunken lift leaves air. */
static bool is_ground(const gradin_model *model, gradin_vec3 at_m) {
    for (int i = 0; i < model->n_section; i++)
        if (model->section[i].machine->setting.position < -ahead_m &&
            in_section(&model->section[i], at_m))
            return at_m.z < model->section[i].machine->setting.position;
    return true;
}

static bool is_within(gradin_box2 box, gradin_vec2 at_m) {
    return at_m.x >= box.x_min_m - edge_m && at_m.x <= box.x_max_m + edge_m &&
           at_m.y >= box.y_min_m - edge_m && at_m.y <= box.y_max_m + edge_m;
}

static bool is_solid(const around *near, gradin_vec3 at_m) {
    gradin_vec2 plan = {at_m.x, at_m.y};
    if (at_m.z >= near->model->ceiling_m) return true;
    if (!gradin_polygon_contains(near->model->footprint, plan)) return true;
    if (at_m.z <= 0.0 && is_ground(near->model, at_m)) return true;
    for (int i = 0; i < near->n_prism; i++) {
        const gradin_shape *s = &near->prism[i]->shape;
        if (at_m.z >= s->as.prism.bottom_m && at_m.z <= s->as.prism.top_m &&
            is_within(near->plan[i], plan) && gradin_polygon_contains(s->as.prism.polygon, plan))
            return true;
    }
    return false;
}

static bool is_bare(const around *near, const gradin_patch *patch, gradin_vec3 at_m) {
    gradin_vec3 normal = patch->rectangle.normal;
    if (is_solid(near, gradin_add(at_m, gradin_scale(normal, ahead_m)))) return false;
    if (patch->element >= 0) return true;
    return is_solid(near, gradin_add(at_m, gradin_scale(normal, -behind_m[0]))) ||
           is_solid(near, gradin_add(at_m, gradin_scale(normal, -behind_m[1])));
}

static bool is_under_seat(const around *near, gradin_vec3 at_m) {
    const gradin_seats *s = &near->model->seats;
    for (int i = 0; i < near->n_seat; i++) {
        int seat = near->seat[i];
        gradin_vec2 ahead = gradin_bearing_unit(s->facing_deg[seat]);
        double x = at_m.x - s->floor_m[seat].x, y = at_m.y - s->floor_m[seat].y;
        if (fabs(x * ahead.x + y * ahead.y) <= 0.5 * s->depth_m[seat] &&
            fabs(x * ahead.y - y * ahead.x) <= 0.5 * s->width_m[seat])
            return true;
    }
    return false;
}

/* Half the extent of a rectangle along an axis, and as far as points behind it are asked for. */
static double half_m(double along_m, double up_m) {
    return 0.5 * (fabs(along_m) + fabs(up_m)) + behind_m[1];
}

static bool is_near(const gradin_patch *patch, const gradin_shape *prism, gradin_box2 plan) {
    gradin_vec3 a = patch->rectangle.along_m, u = patch->rectangle.up_m, at_m = patch->middle_m;
    double x_m = half_m(a.x, u.x), y_m = half_m(a.y, u.y), z_m = half_m(a.z, u.z);
    return at_m.x - x_m <= plan.x_max_m && at_m.x + x_m >= plan.x_min_m &&
           at_m.y - y_m <= plan.y_max_m && at_m.y + y_m >= plan.y_min_m &&
           at_m.z - z_m <= prism->as.prism.top_m && at_m.z + z_m >= prism->as.prism.bottom_m;
}

static void gather(const gradin_patch_maker *maker, const gradin_patch *patch, around *near) {
    const gradin_seats *s = &maker->model->seats;
    double radius_m = gradin_rectangle_radius_m(&patch->rectangle) + behind_m[1];
    near->n_prism = near->n_seat = 0;
    for (int i = 0; i < maker->n_prism; i++)
        if (is_near(patch, &maker->prism[i]->shape, maker->plan[i])) {
            near->plan[near->n_prism] = maker->plan[i];
            near->prism[near->n_prism++] = maker->prism[i];
        }
    if (patch->kind != GRADIN_PATCH_FLOOR || !s->floor_m || !s->depth_m) return;
    for (int i = 0; i < s->n_seat; i++) {
        gradin_vec3 way = gradin_sub(s->floor_m[i], patch->middle_m);
        if (fabs(way.z) < seat_drop_m &&
            hypot(way.x, way.y) <= radius_m + s->width_m[i] + s->depth_m[i])
            near->seat[near->n_seat++] = i;
    }
}

static int points(double length_m) {
    double n = ceil(length_m / point_step_m);
    return n < 2.0 ? 2 : n > MOST_POINTS ? MOST_POINTS : (int)n;
}

/* The bare point nearest to each of the places asked for. */
typedef struct nearest {
    gradin_vec3 wanted_m, found_m;
    double apart_m;
} nearest;

static void offer(nearest *n, gradin_vec3 at_m) {
    double apart_m = gradin_norm(gradin_sub(at_m, n->wanted_m));
    if (apart_m >= n->apart_m) return;
    n->apart_m = apart_m;
    n->found_m = at_m;
}

/* On no line parallel to a side lie two, so an edge that hides part of a patch along a side is
 * found to a quarter; point q is opposite point GRADIN_PATCH_SIGHT - 1 - q. */
static const double sight_at[GRADIN_PATCH_SIGHT][2] = {
    {0.375, 0.125}, {0.875, 0.375}, {0.125, 0.625}, {0.625, 0.875}};

static void choose_sight(gradin_patch *patch, const gradin_vec3 *bare_m, int n) {
    gradin_vec3 lift = gradin_scale(patch->rectangle.normal, ahead_m), sum = {0.0, 0.0, 0.0};
    nearest want[GRADIN_PATCH_SIGHT + 1];
    for (int k = 0; k < n; k++) sum = gradin_add(sum, bare_m[k]);
    patch->middle_m = gradin_scale(sum, 1.0 / n);
    want[GRADIN_PATCH_SIGHT] = (nearest){.wanted_m = patch->middle_m, .apart_m = INFINITY};
    for (int q = 0; q < GRADIN_PATCH_SIGHT; q++)
        want[q] = (nearest){
            .wanted_m = gradin_rectangle_at_m(&patch->rectangle, sight_at[q][0], sight_at[q][1]),
            .apart_m = INFINITY};
    for (int q = 0; q <= GRADIN_PATCH_SIGHT; q++)
        for (int k = 0; k < n; k++) offer(&want[q], bare_m[k]);
    for (int q = 0; q < GRADIN_PATCH_SIGHT; q++)
        patch->sight_m[q] = gradin_add(want[q].found_m, lift);
    patch->eye_m = gradin_add(want[GRADIN_PATCH_SIGHT].found_m, lift);
}

static void measure(const gradin_patch_maker *maker, gradin_patch *patch, around *near) {
    gradin_vec3 bare_m[MOST_POINTS * MOST_POINTS];
    int n_u = points(gradin_norm(patch->rectangle.along_m));
    int n_v = points(gradin_norm(patch->rectangle.up_m)), n = 0, n_seated = 0;
    patch->middle_m = gradin_rectangle_at_m(&patch->rectangle, 0.5, 0.5);
    gather(maker, patch, near);
    for (int j = 0; j < n_v; j++)
        for (int i = 0; i < n_u; i++) {
            gradin_vec3 at_m =
                gradin_rectangle_at_m(&patch->rectangle, (i + 0.5) / n_u, (j + 0.5) / n_v);
            if (!is_bare(near, patch, at_m)) continue;
            bare_m[n++] = at_m;
            if (near->n_seat > 0) n_seated += is_under_seat(near, at_m);
        }
    patch->exposed = (double)n / (n_u * n_v);
    patch->area_m2 = patch->exposed * gradin_rectangle_m2(&patch->rectangle);
    patch->seated = n > 0 ? (double)n_seated / n : 0.0;
    if (n > 0) choose_sight(patch, bare_m, n);
}

/* An element in the plane of a patch, in the patch's own coordinates, 0..1 along its sides. */
typedef struct opening {
    gradin_vec3 corner_m, along, up;
    double width_m, height_m;
} opening;

/* Which elements take something of the patch: a wall or ceiling gives up what windows, doors and
 * opaque elements have of it, an opaque element what windows and doors have. */
static int gather_openings(const gradin_model *model, const gradin_patch *patch, opening *found) {
    double reach_m = gradin_rectangle_radius_m(&patch->rectangle);
    gradin_vec3 middle_m = gradin_rectangle_at_m(&patch->rectangle, 0.5, 0.5);
    int n = 0;
    for (int e = 0; e < model->n_element; e++) {
        const gradin_element *w = &model->element[e];
        if (patch->element >= 0 && gradin_element_is_opaque(w)) continue;
        gradin_frame f = gradin_element_frame(w);
        gradin_vec3 way = gradin_sub(middle_m, w->corner_m);
        if (gradin_dot(patch->rectangle.normal, f.outward) > -0.99 ||
            fabs(gradin_dot(way, f.outward)) > opening_plane_m + reach_m)
            continue;
        double u_m = gradin_dot(way, f.along), v_m = gradin_dot(way, f.up);
        if (u_m < -reach_m || u_m > w->width_m + reach_m || v_m < -reach_m ||
            v_m > w->height_m + reach_m || !(w->width_m > 0.0))
            continue;
        found[n++] = (opening){w->corner_m, f.along, f.up, w->width_m, w->height_m};
    }
    return n;
}

static bool is_opening(const opening *open, int n, gradin_vec3 at_m) {
    for (int k = 0; k < n; k++) {
        const opening *w = &open[k];
        gradin_vec3 way = gradin_sub(at_m, w->corner_m);
        double u_m = gradin_dot(way, w->along), v_m = gradin_dot(way, w->up);
        gradin_vec3 off =
            gradin_sub(way, gradin_add(gradin_scale(w->along, u_m), gradin_scale(w->up, v_m)));
        if (gradin_norm(off) < opening_plane_m && u_m >= 0.0 && u_m <= w->width_m && v_m >= 0.0 &&
            v_m <= w->height_m)
            return true;
    }
    return false;
}

static bool gives_way(const gradin_model *model, const gradin_patch *patch) {
    if (patch->kind == GRADIN_PATCH_ELEMENT)
        return gradin_element_is_opaque(&model->element[patch->element]);
    return patch->kind == GRADIN_PATCH_CEILING ||
           (patch->kind == GRADIN_PATCH_WALL && fabs(patch->rectangle.normal.z) < 0.5);
}

static void cut_openings(const gradin_model *model, gradin_patch *patch, opening *open) {
    const int n = 2 * MOST_POINTS;
    int n_free = 0, n_open = gives_way(model, patch) ? gather_openings(model, patch, open) : 0;
    if (n_open == 0) return;
    for (int j = 0; j < n; j++)
        for (int i = 0; i < n; i++)
            n_free +=
                !is_opening(open, n_open,
                            gradin_rectangle_at_m(&patch->rectangle, (i + 0.5) / n, (j + 0.5) / n));
    patch->exposed *= (double)n_free / (n * n);
    patch->area_m2 *= (double)n_free / (n * n);
}

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

static bool is_obstacle(const gradin_occluder *o) {
    bool stands = o->cause == GRADIN_CAUSE_STRUCTURE || o->cause == GRADIN_CAUSE_ARCH;
    return stands && o->shape.kind == GRADIN_SHAPE_PRISM;
}

/* Counted first: a scene of millions of triangles has few prisms. */
static bool gather_prisms(gradin_patch_maker *maker) {
    const gradin_scene *scene = &maker->model->scene;
    size_t n = 0;
    for (int i = 0; i < scene->n_occluder; i++) n += is_obstacle(&scene->occluder[i]);
    maker->prism = gradin_arena_alloc(maker->arena, n + 1, sizeof *maker->prism);
    maker->plan = gradin_arena_alloc(maker->arena, n + 1, sizeof *maker->plan);
    if (!maker->prism || !maker->plan) return false;
    for (int i = 0; i < scene->n_occluder; i++) {
        const gradin_occluder *o = &scene->occluder[i];
        if (!is_obstacle(o)) continue;
        maker->plan[maker->n_prism] = gradin_polygon_bounds(o->shape.as.prism.polygon);
        maker->prism[maker->n_prism++] = o;
    }
    return true;
}

static around *alloc_around(const gradin_patch_maker *maker, int n_thread) {
    around *near = gradin_arena_alloc(maker->arena, (size_t)n_thread, sizeof *near);
    size_t n_seat = (size_t)maker->model->seats.n_seat, n_prism = (size_t)maker->n_prism;
    size_t n_element = (size_t)maker->model->n_element;
    for (int i = 0; near && i < n_thread; i++) {
        near[i].model = maker->model;
        near[i].prism = gradin_arena_alloc(maker->arena, n_prism + 1, sizeof *near->prism);
        near[i].plan = gradin_arena_alloc(maker->arena, n_prism + 1, sizeof *near->plan);
        near[i].seat = gradin_arena_alloc(maker->arena, n_seat + 1, sizeof *near->seat);
        near[i].open = gradin_arena_alloc(maker->arena, n_element + 1, sizeof *near->open);
        if (!near[i].prism || !near[i].plan || !near[i].seat || !near[i].open) return NULL;
    }
    return near;
}

/* Each patch on its own, then those that are left move up. */
static gradin_status measure_all(gradin_patch_maker *maker, gradin_patches *patches,
                                 gradin_error *error) {
    int n_thread = omp_get_max_threads();
    around *near = alloc_around(maker, n_thread);
    if (!near) return out_of_memory(error);
#pragma omp parallel for num_threads(n_thread) schedule(dynamic, 16)
    for (int i = 0; i < maker->n; i++) {
        around *own = &near[omp_get_thread_num()];
        measure(maker, &maker->patch[i], own);
        cut_openings(maker->model, &maker->patch[i], own->open);
    }
    *patches = (gradin_patches){.patch = maker->patch};
    for (int i = 0; i < maker->n; i++) {
        gradin_patch patch = maker->patch[i];
        if (patch.area_m2 >= least_m2 || (patch.element >= 0 && patch.area_m2 > 0.0))
            patches->patch[patches->n++] = patch;
    }
    return GRADIN_OK;
}

static gradin_status too_many(gradin_error *error) {
    return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                            "the room's surface makes more than %d patches; a larger "
                            "room_patch gives fewer, room_method: diffuse needs none",
                            (int)GRADIN_MAX_PATCH);
}

static gradin_status cut_all(gradin_patch_maker *maker, gradin_error *error) {
    if (!gather_prisms(maker)) return out_of_memory(error);
    gradin_patch_faces(maker);
    if (maker->is_out_of_memory) return out_of_memory(error);
    return maker->n > GRADIN_MAX_CUT ? too_many(error) : GRADIN_OK;
}

static gradin_status keep_bare(gradin_patch_maker *maker, gradin_patches *patches,
                               gradin_error *error) {
    gradin_status status = measure_all(maker, patches, error);
    return status == GRADIN_OK && patches->n > GRADIN_MAX_PATCH ? too_many(error) : status;
}

gradin_status gradin_patches_make(gradin_arena *arena, const gradin_model *model, double size_m,
                                  gradin_patches *patches, gradin_error *error) {
    gradin_patch_maker maker = {.arena = arena, .model = model, .size_m = size_m};
    gradin_status status = cut_all(&maker, error);
    return status == GRADIN_OK ? keep_bare(&maker, patches, error) : status;
}

gradin_status gradin_patches_refuse(gradin_arena *arena, const gradin_model *model, double size_m,
                                    gradin_error *error) {
    gradin_patch_maker maker = {.arena = arena, .model = model, .size_m = size_m};
    gradin_patches patches;
    gradin_status status = cut_all(&maker, error);
    if (status != GRADIN_OK || maker.n <= GRADIN_MAX_PATCH) return status;
    return keep_bare(&maker, &patches, error);
}
