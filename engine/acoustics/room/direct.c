/* Direct field of the elements at a seat.
 *
 * Each element radiates the power it lets in as a Lambert surface into the room's half space:
 * p^2 = rho c W/S int cos phi/(pi r^2) dS over the part of it that the seat sees. The integral is
 * the solid angle of that part over pi, so it never exceeds 2/S. It is a sum over patches at most
 * half as large as their distance (16 x 16 at most). A patch hidden by structure or arch gives
 * nothing: diffraction round them is left to the reverberant field. */
#include "acoustics/room/room.h"

enum { MAX_DIVISION = 16, MAX_PATCH = MAX_DIVISION * MAX_DIVISION };

static const double patch_of_distance = 0.5;
static const double inside_m = 0.05; /* rays end off the glass: solids may touch the wall */
static const double least_distance_m = 0.1;

static bool is_obstacle(const gradin_occluder *occluder) {
    return occluder->cause == GRADIN_CAUSE_STRUCTURE || occluder->cause == GRADIN_CAUSE_ARCH;
}

gradin_status gradin_room_scene_make(gradin_arena *arena, const gradin_model *model,
                                     gradin_scene *scene, gradin_error *error) {
    int n = 0, k = 0;
    for (int i = 0; i < model->scene.n_occluder; i++) n += is_obstacle(&model->scene.occluder[i]);
    gradin_occluder *kept = gradin_arena_alloc(arena, (size_t)n, sizeof *kept);
    if (!kept) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    for (int i = 0; i < model->scene.n_occluder; i++)
        if (is_obstacle(&model->scene.occluder[i])) kept[k++] = model->scene.occluder[i];
    *scene = (gradin_scene){kept, n};
    return GRADIN_OK;
}

/* A seat in the frame of an element: along its base, up, and into the room. */
typedef struct local {
    double along_m, up_m, in_m;
} local;

static local to_local(const gradin_element *element, gradin_vec3 eye_m) {
    gradin_vec3 way = gradin_sub(eye_m, element->corner_m);
    return (local){way.x * element->along.x + way.y * element->along.y, way.z,
                   -(way.x * element->outward.x + way.y * element->outward.y)};
}

static double outside_m(double at_m, double length_m) {
    return fmax(fmax(-at_m, at_m - length_m), 0.0);
}

static int divisions(double length_m, double distance_m) {
    double n = ceil(length_m / (patch_of_distance * distance_m));
    return n < 1.0 ? 1 : n > MAX_DIVISION ? MAX_DIVISION : (int)n;
}

/* cos phi/(pi r^2) of a patch whose middle lies across_m, above_m from the foot of the seat. */
static double lambert_1m2(double across_m, double above_m, double in_m) {
    double r2 = across_m * across_m + above_m * above_m + in_m * in_m;
    r2 = fmax(r2, least_distance_m * least_distance_m);
    return in_m / sqrt(r2) / (GRADIN_PI * r2);
}

typedef struct patches {
    int n;
    gradin_vec3 end_m[MAX_PATCH]; /* where the ray from the seat ends */
    double part_1m2[MAX_PATCH];   /* what it gives when seen */
} patches;

static void lay_patches(const gradin_element *element, local eye, int n_along, int n_up,
                        patches *p) {
    p->n = n_along * n_up;
    for (int i = 0; i < p->n; i++) {
        double along_m = element->width_m * (i % n_along + 0.5) / n_along;
        double up_m = element->height_m * ((double)(i / n_along) + 0.5) / n_up;
        p->part_1m2[i] = lambert_1m2(eye.along_m - along_m, eye.up_m - up_m, eye.in_m) / p->n;
        p->end_m[i] = (gradin_vec3){
            element->corner_m.x + along_m * element->along.x - inside_m * element->outward.x,
            element->corner_m.y + along_m * element->along.y - inside_m * element->outward.y,
            element->corner_m.z + up_m};
    }
}

double gradin_direct_1m2(const gradin_element *element, gradin_vec3 eye_m,
                         const gradin_scene *scene, gradin_visibility_scratch *scratch) {
    local eye = to_local(element, eye_m);
    if (!(eye.in_m > 0.0)) return 0.0;
    double near_m = hypot(
        hypot(outside_m(eye.along_m, element->width_m), outside_m(eye.up_m, element->height_m)),
        fmax(eye.in_m, least_distance_m));
    patches p;
    int32_t first[MAX_PATCH];
    double sum_1m2 = 0.0, area_m2 = element->width_m * element->height_m;
    lay_patches(element, eye, divisions(element->width_m, near_m),
                divisions(element->height_m, near_m), &p);
    gradin_visibility(scene, eye_m, GRADIN_NO_OWNER, p.end_m, p.n, first, scratch);
    for (int i = 0; i < p.n; i++)
        if (first[i] == GRADIN_CLEAR) sum_1m2 += p.part_1m2[i];
    return area_m2 > 0.0 ? fmin(sum_1m2, 2.0 / area_m2) : sum_1m2;
}
