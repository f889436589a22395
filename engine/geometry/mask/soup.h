/* geometry/mask/soup.h: triangles that hide from every eye, kept apart from the other occluders:
 * groups of sixteen neighbours, rounded to 16 bits within the group's box, under a tree of boxes of
 * their own. A group takes a tenth of the memory of its occluders and is asked in one go; whatever
 * the rounding leaves open goes to gradin_shape_hit() with the caller's own triangle. */
#ifndef GRADIN_GEOMETRY_SOUP_H
#define GRADIN_GEOMETRY_SOUP_H

#include "geometry/scene/bvh.h"

enum { SOUP_WIDTH = 16 };

typedef struct soup_group {
    uint16_t at[3][3][SOUP_WIDTH]; /* [axis][corner][triangle]: low + step * at */
    float low_m[3], step_m[3];
    float edge_on_m2; /* seen with less than this (twice the area) a triangle may hide nothing */
    uint16_t used;    /* bit k: triangle k is there */
    uint16_t thin;    /* bit k: too thin for single precision */
} soup_group;

typedef struct soup_set {
    bvh tree;          /* its leaves are groups */
    soup_group *group; /* [n_group] */
    int32_t *original; /* [n_group][16] index in the caller's scene */
    int n_group;
    const gradin_occluder *occluder; /* caller's */
} soup_set;

/* What a soup would take, and how many at least: fewer throw their shadows one by one. */
static inline bool soup_takes(const gradin_occluder *o) {
    return o->shape.kind == GRADIN_SHAPE_TRIANGLE && o->owner == GRADIN_NO_OWNER;
}
enum { SOUP_LEAST = 1024 };

/* Empty when there are fewer. */
gradin_status gradin_soup_build(gradin_arena *arena, const gradin_scene *scene, soup_set *soup);

typedef struct soup_eye {
    gradin_vec3 eye_m;
    double at_m[3];
    float low_m[3], high_m[3]; /* with slack */
} soup_eye;

/* For a tree of boxes that reaches so far from the origin. */
soup_eye gradin_soup_eye(float reach_m, gradin_vec3 eye_m);

/* One segment from the eye, made ready for boxes and groups. */
typedef struct soup_ray {
    float inverse[3];
    int x, y, z; /* axes; the way is longest along z */
    float shear_x, shear_y, reach_m, forward;
    float limit; /* contacts beyond this fraction of the way do not count */
} soup_ray;

soup_ray gradin_soup_ray(gradin_vec3 eye_m, gradin_vec3 target_m);
/* What boxes need of it. */
soup_ray gradin_soup_way(gradin_vec3 eye_m, gradin_vec3 target_m);

/* Triangles of one group and one ray. */
typedef struct soup_met {
    uint32_t sure, doubt;                    /* bit k: triangle k is met, may be met */
    float near[SOUP_WIDTH], far[SOUP_WIDTH]; /* bounds of its entry */
} soup_met;

typedef struct soup_job {
    const soup_set *soup;
    const struct mask_table *table;
    soup_eye eye;
    bool is_any; /* whichever triangle is found, not the first */
} soup_job;

/* Places left to visit: below each node fifteen more than before. */
enum { SOUP_STACK = 128 };

/* The way of one segment through the tree, one place per step, so that several can take turns while
 * memory is fetched. */
typedef struct soup_search {
    gradin_vec3 target_m;
    soup_ray ray;
    int32_t first;   /* index in the caller's scene, GRADIN_CLEAR when there is none */
    float near, far; /* bounds of its entry */
    double t;        /* its entry, NAN when not computed */
    int32_t number;  /* caller's */
    int n_left;
    struct {
        float enter;
        int32_t child;
    } left[SOUP_STACK]; /* nearest last */
} soup_search;

void gradin_soup_start(soup_search *search, const soup_job *job, gradin_vec3 target_m);
/* False when there is nowhere left to go. */
bool gradin_soup_step(soup_search *search, const soup_job *job);
double gradin_soup_entry(const soup_search *search, const soup_job *job, int32_t index);

#endif
