/* geometry/mask/mask_ray.h: segments of one eye, one by one. */
#ifndef GRADIN_GEOMETRY_MASK_RAY_H
#define GRADIN_GEOMETRY_MASK_RAY_H

#include "geometry/mask/mask_scene.h"

typedef struct ray_job {
    const gradin_mask_scene *scene;
    const mask_table *table;
    gradin_vec3 eye_m;          /* as the caller has it */
    gradin_vec3 edgewise_eye_m; /* in the frame of the edges, in which the tree lies */
    soup_eye eye;               /* the same for boxes */
    soup_job soup;
    int owner;
    bool is_any; /* whatever hides, not what hides first */
    int last;    /* occluder in the order of the tree that ended a ray last; -1 */
} ray_job;

/* One segment on its way. */
typedef struct ray_search {
    const ray_job *job;
    gradin_vec3 target_m;
    soup_ray ray;   /* in the frame of the edges */
    int holder;     /* occluder in the order of the tree that hides so far; -1 */
    double nearest; /* its entry */
    int n_left;
    struct {
        float enter;
        int32_t child;
    } left[SOUP_STACK]; /* nearest last */
} ray_search;

ray_job gradin_ray_job(const gradin_mask_scene *scene, gradin_vec3 eye_m, int owner, bool is_any);

/* The first occluder on the way (any, when the job says so), by its index in the caller's scene;
 * GRADIN_CLEAR when there is none. */
int32_t gradin_ray_first(ray_job *job, gradin_vec3 target_m);

/* The steps of it. */
void gradin_ray_start(ray_search *search, const ray_job *job, gradin_vec3 target_m);
/* Holds occluder k of the tree when it is met before what is held. */
void gradin_ray_meet(ray_search *search, int k);
void gradin_ray_search_tree(ray_search *search);
/* What the tree or the soup has first, and its entry when that is wanted (INFINITY: none). */
int32_t gradin_ray_end(const ray_search *search, double *entry);

#endif
