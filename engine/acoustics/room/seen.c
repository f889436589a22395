/* What seats see of the room's patches: their solid angles, cut by sampled rays and scaled to 4 pi,
 * which patches cut by sampling miss by little. */
#include "acoustics/room/seen.h"

#include <omp.h>
#include <string.h>

typedef struct own_rays {
    gradin_vec3 *end_m; /* [n_patch * GRADIN_PATCH_SIGHT] */
    int32_t *first;
    int *to; /* [n_patch] that face the seat */
    gradin_visibility_scratch *scratch;
} own_rays;

struct gradin_seat_rays {
    const gradin_scene *scene;
    int n_thread;
    own_rays *own; /* [n_thread] */
};

gradin_seat_rays *gradin_seat_rays_alloc(gradin_arena *arena, const gradin_scene *scene,
                                         int n_patch, int n_thread) {
    size_t n_ray = (size_t)n_patch * GRADIN_PATCH_SIGHT;
    gradin_seat_rays *rays = gradin_arena_alloc(arena, 1, sizeof *rays);
    if (!rays) return NULL;
    *rays = (gradin_seat_rays){scene, n_thread, NULL};
    rays->own = gradin_arena_alloc(arena, (size_t)n_thread, sizeof *rays->own);
    for (int i = 0; rays->own && i < n_thread; i++) {
        own_rays *own = &rays->own[i];
        own->end_m = gradin_arena_alloc(arena, n_ray, sizeof *own->end_m);
        own->first = gradin_arena_alloc(arena, n_ray, sizeof *own->first);
        own->to = gradin_arena_alloc(arena, (size_t)n_patch, sizeof *own->to);
        own->scratch = gradin_visibility_scratch_create(arena, scene);
        if (!own->end_m || !own->first || !own->to || !own->scratch) return NULL;
    }
    return rays->own ? rays : NULL;
}

/* Solid angles of the patches that face the seat, and the ends of the rays to them; their count. */
static int face_seat(const gradin_patches *patches, gradin_vec3 eye_m, const own_rays *own,
                     double *seen) {
    int n_to = 0;
    for (int j = 0; j < patches->n; j++) {
        const gradin_patch *p = &patches->patch[j];
        seen[j] = gradin_rectangle_seen_sr(eye_m, &p->rectangle) * p->exposed;
        if (!(seen[j] > 0.0)) continue;
        memcpy(&own->end_m[n_to * GRADIN_PATCH_SIGHT], p->sight_m, sizeof p->sight_m);
        own->to[n_to++] = j;
    }
    return n_to;
}

static void look(const gradin_scene *scene, const gradin_patches *patches, gradin_vec3 eye_m,
                 const own_rays *own, double *seen) {
    double sum_sr = 0.0;
    int n_to = face_seat(patches, eye_m, own, seen);
    if (n_to == 0) return;
    gradin_visibility(scene, eye_m, GRADIN_NO_OWNER, own->end_m, n_to * GRADIN_PATCH_SIGHT,
                      own->first, own->scratch);
    for (int k = 0; k < n_to; k++) {
        int through = 0;
        for (int q = 0; q < GRADIN_PATCH_SIGHT; q++)
            through += own->first[k * GRADIN_PATCH_SIGHT + q] == GRADIN_CLEAR;
        seen[own->to[k]] *= (double)through / GRADIN_PATCH_SIGHT;
        sum_sr += seen[own->to[k]];
    }
    for (int j = 0; j < patches->n && sum_sr > 0.0; j++)
        seen[j] *= 4.0 / sum_sr; /* Omega_j/pi of 4 pi */
}

void gradin_seats_look(gradin_seat_rays *rays, const gradin_patches *patches,
                       const gradin_vec3 *eye_m, int n_seat, double *seen) {
#pragma omp parallel for num_threads(rays->n_thread) schedule(dynamic, 4)
    for (int k = 0; k < n_seat; k++)
        look(rays->scene, patches, eye_m[k], &rays->own[omp_get_thread_num()],
             seen + (size_t)k * (size_t)patches->n);
}
