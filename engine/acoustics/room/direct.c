/* Direct field of the elements at a seat.
 *
 * Each element radiates the power it lets in as a Lambert surface into the room's half space:
 * (1) p^2 = rho c W/S int cos phi/(pi r^2) dS over the part of it that the seat sees. cos phi/r^2
 * dS is the solid angle of dS at the seat, so a patch in view gives Omega/(pi S) exactly, however
 * near, and a whole element never more than 2/S. The patches, at most a quarter as large as their
 * distance (16 x 16 at most), only tell what is in view. A patch hidden by structure or arch gives
 * nothing: diffraction round them is left to the reverberant field. A vent is a point: (2) cos
 * phi/(pi r^2). Air absorption on the way is left out (about 1 dB in 25 m at 5 kHz, on the safe
 * side). */
#include "acoustics/room/room.h"

enum { MAX_DIVISION = 16, MAX_PATCH = MAX_DIVISION * MAX_DIVISION };

static const double patch_of_distance = 0.25;
static const double inside_m = 0.05; /* rays end off the glass: solids may touch the wall */
static const double least_distance_m = 0.1;
static const double wall_reach_m = 100.0; /* above and below the room, past any pit */

/* Triangles of models are left out: what is fine enough for the eye is not for these bands. */
static bool is_obstacle(const gradin_occluder *occluder) {
    return (occluder->cause == GRADIN_CAUSE_STRUCTURE || occluder->cause == GRADIN_CAUSE_ARCH) &&
           occluder->shape.kind != GRADIN_SHAPE_TRIANGLE;
}

static gradin_vec2 edge(gradin_polygon plan, int i) {
    gradin_vec2 from = plan.corner_m[i], to = plan.corner_m[(i + 1) % plan.n_corner];
    return (gradin_vec2){to.x - from.x, to.y - from.y};
}

/* The room's own walls, two triangles each: wall[2 * n_corner]. */
static void add_walls(const gradin_model *model, gradin_occluder *wall) {
    for (int i = 0; i < model->footprint.n_corner; i++) {
        gradin_vec2 from = model->footprint.corner_m[i], way = edge(model->footprint, i);
        gradin_vec3 low_m = {from.x, from.y, -wall_reach_m};
        gradin_vec3 high_m = {from.x, from.y, model->ceiling_m + wall_reach_m};
        gradin_vec3 along_m = {way.x, way.y, 0.0};
        gradin_vec3 far_low_m = gradin_add(low_m, along_m), far_m = gradin_add(high_m, along_m);
        wall[2 * i].shape = gradin_triangle(low_m, far_low_m, far_m);
        wall[2 * i + 1].shape = gradin_triangle(low_m, far_m, high_m);
        wall[2 * i].cause = wall[2 * i + 1].cause = GRADIN_CAUSE_STRUCTURE;
        wall[2 * i].owner = wall[2 * i + 1].owner = GRADIN_NO_OWNER;
    }
}

gradin_status gradin_room_scene_make(gradin_arena *arena, const gradin_model *model,
                                     gradin_scene *scene, gradin_error *error) {
    int n = 0, k = 0;
    bool has_corner_inside = !gradin_polygon_is_convex(model->footprint);
    for (int i = 0; i < model->scene.n_occluder; i++) n += is_obstacle(&model->scene.occluder[i]);
    if (has_corner_inside) n += 2 * model->footprint.n_corner;
    gradin_occluder *kept = gradin_arena_alloc(arena, (size_t)n, sizeof *kept);
    if (!kept) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    for (int i = 0; i < model->scene.n_occluder; i++)
        if (is_obstacle(&model->scene.occluder[i])) kept[k++] = model->scene.occluder[i];
    if (has_corner_inside) add_walls(model, kept + k);
    *scene = (gradin_scene){kept, n};
    return GRADIN_OK;
}

gradin_mask_scene *gradin_room_sight_make(gradin_arena *arena, const gradin_model *model,
                                          const gradin_scene *scene) {
    return gradin_mask_scene_create(arena, scene, gradin_polygon_askew(model->footprint));
}

/* A seat in the frame of an element: along its base, up, and into the room. */
typedef struct local {
    double along_m, up_m, in_m;
} local;

static local to_local(const gradin_element *element, gradin_vec3 eye_m) {
    gradin_vec3 way = gradin_sub(eye_m, element->corner_m);
    gradin_frame f = gradin_element_frame(element);
    return (local){gradin_dot(way, f.along), gradin_dot(way, f.up), -gradin_dot(way, f.outward)};
}

static double outside_m(double at_m, double length_m) {
    return fmax(fmax(-at_m, at_m - length_m), 0.0);
}

static int divisions(double length_m, double distance_m) {
    double n = ceil(length_m / (patch_of_distance * distance_m));
    return n < 1.0 ? 1 : n > MAX_DIVISION ? MAX_DIVISION : (int)n;
}

/* Solid angle of the quarter 0..x, 0..y of a plane at distance z. */
static double corner_sr(double x, double y, double z) {
    return atan2(x * y, z * sqrt(x * x + y * y + z * z));
}

double gradin_rectangle_sr(double x0, double x1, double y0, double y1, double z) {
    return corner_sr(x1, y1, z) - corner_sr(x0, y1, z) - corner_sr(x1, y0, z) +
           corner_sr(x0, y0, z);
}

typedef struct patches {
    int n_along, n_up;
    gradin_vec3 end_m[MAX_PATCH]; /* where the ray from the seat ends */
} patches;

static gradin_vec3 point_inside(const gradin_element *element, double along_m, double up_m) {
    gradin_vec3 inward = gradin_scale(gradin_element_frame(element).outward, -inside_m);
    return gradin_add(gradin_element_point_m(element, along_m, up_m), inward);
}

static void lay_patches(const gradin_element *element, local eye, patches *p) {
    double near_m = hypot(
        hypot(outside_m(eye.along_m, element->width_m), outside_m(eye.up_m, element->height_m)),
        fmax(eye.in_m, least_distance_m));
    p->n_along = divisions(element->width_m, near_m);
    p->n_up = divisions(element->height_m, near_m);
    for (int j = 0; j < p->n_up; j++)
        for (int i = 0; i < p->n_along; i++)
            p->end_m[j * p->n_along + i] =
                point_inside(element, element->width_m * (i + 0.5) / p->n_along,
                             element->height_m * (j + 0.5) / p->n_up);
}

/* Solid angle of the patches in view. */
static double seen_sr(const gradin_element *element, local eye, const patches *p,
                      const bool *is_clear) {
    double step_x = element->width_m / p->n_along, step_y = element->height_m / p->n_up, sum = 0.0;
    for (int j = 0; j < p->n_up; j++)
        for (int i = 0; i < p->n_along; i++) {
            if (!is_clear[j * p->n_along + i]) continue;
            double x = i * step_x - eye.along_m, y = j * step_y - eye.up_m;
            sum += gradin_rectangle_sr(x, x + step_x, y, y + step_y, eye.in_m);
        }
    return sum;
}

static double vent_1m2(local eye) {
    double r_m = hypot(hypot(eye.along_m, eye.up_m), eye.in_m);
    r_m = fmax(r_m, least_distance_m);
    return eye.in_m / (GRADIN_PI * r_m * r_m * r_m); /* (2) */
}

double gradin_direct_1m2(const gradin_element *element, gradin_vec3 eye_m,
                         const gradin_mask_scene *scene) {
    local eye = to_local(element, eye_m);
    double area_m2 = element->width_m * element->height_m;
    patches p;
    bool is_clear[MAX_PATCH];
    if (!(eye.in_m > 0.0)) return 0.0; /* behind its wall */
    lay_patches(element, eye, &p);
    gradin_rays_clear(scene, eye_m, GRADIN_NO_OWNER, p.end_m, p.n_along * p.n_up, is_clear);
    if (area_m2 > 0.0) return seen_sr(element, eye, &p, is_clear) / (GRADIN_PI * area_m2); /* (1) */
    return is_clear[0] ? vent_1m2(eye) : 0.0;
}
