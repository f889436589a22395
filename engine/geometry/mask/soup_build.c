/* Puts the triangles of a scene into groups. */
#include "geometry/mask/soup.h"

#include <float.h>

/* A triangle seen by 1e-9 rad hides nothing (hit_box.c); ten times as much to be sure. */
#define EDGE_ON 1e-8
#define LAST 65535.0

static double along(gradin_vec3 p, int axis) {
    return axis == 0 ? p.x : axis == 1 ? p.y : p.z;
}

/* Box of the group's corners, widened to what the steps cover. */
static void size_group(const soup_set *s, const int32_t *index, int n, soup_group *group) {
    for (int a = 0; a < 3; a++) {
        double low = INFINITY, high = -INFINITY;
        for (int k = 0; k < n; k++)
            for (int c = 0; c < 3; c++) {
                double at = along(s->occluder[index[k]].shape.as.triangle.corner_m[c], a);
                low = fmin(low, at);
                high = fmax(high, at);
            }
        group->low_m[a] = nextafterf((float)low, -FLT_MAX);
        group->step_m[a] = nextafterf((float)((high - (double)group->low_m[a]) / LAST), FLT_MAX);
    }
}

static void fill_group(const soup_set *s, const int32_t *index, int n, soup_group *group) {
    size_group(s, index, n, group);
    for (int k = 0; k < n; k++) {
        const gradin_shape *shape = &s->occluder[index[k]].shape;
        const gradin_vec3 *corner = shape->as.triangle.corner_m;
        for (int c = 0; c < 3; c++)
            for (int a = 0; a < 3; a++) {
                double off = along(corner[c], a) - (double)group->low_m[a];
                double place = nearbyint(off / (double)group->step_m[a]);
                group->at[a][c][k] = (uint16_t)fmin(fmax(place, 0.0), LAST);
            }
        double twice = gradin_norm(
            gradin_cross(gradin_sub(corner[1], corner[0]), gradin_sub(corner[2], corner[0])));
        group->edge_on_m2 = fmaxf(group->edge_on_m2, (float)(EDGE_ON * twice));
        group->used |= (uint16_t)(1u << k);
        if (gradin_cull_is_thin(shape)) group->thin |= (uint16_t)(1u << k);
    }
}

gradin_status gradin_soup_build(gradin_arena *arena, const gradin_scene *scene, soup_set *s) {
    int n = 0;
    *s = (soup_set){.occluder = scene->occluder};
    for (int k = 0; k < scene->n_occluder; k++) n += soup_takes(&scene->occluder[k]);
    if (n < SOUP_LEAST) return GRADIN_OK;
    s->n_group = (n + SOUP_WIDTH - 1) / SOUP_WIDTH;
    s->group = gradin_arena_alloc(arena, (size_t)s->n_group, sizeof *s->group);
    s->original = gradin_arena_alloc(arena, (size_t)n, sizeof *s->original);
    if (!s->group || !s->original) return GRADIN_NO_MEMORY;
    n = 0;
    for (int k = 0; k < scene->n_occluder; k++)
        if (soup_takes(&scene->occluder[k])) s->original[n++] = k;
    gradin_status status = gradin_bvh_build(arena, scene, s->original, n, SOUP_WIDTH, &s->tree);
    for (int g = 0; status == GRADIN_OK && g < s->n_group; g++) {
        int from = SOUP_WIDTH * g, left = n - from;
        fill_group(s, s->original + from, left < SOUP_WIDTH ? left : SOUP_WIDTH, &s->group[g]);
    }
    return status;
}
