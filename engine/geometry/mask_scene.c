/* A scene and a thread made ready for masks. */
#include "geometry/mask_scene.h"

static bool keep_ellipsoids(gradin_arena *arena, struct gradin_mask_scene *s) {
    int n = 0;
    for (int k = 0; k < s->scene.n_occluder; k++)
        n += s->scene.occluder[k].shape.kind == GRADIN_SHAPE_ELLIPSOID;
    s->slot = gradin_arena_alloc(arena, (size_t)s->scene.n_occluder, sizeof *s->slot);
    s->ellipsoid = gradin_arena_alloc(arena, (size_t)n, sizeof *s->ellipsoid);
    if (!s->slot || !s->ellipsoid) return false;
    n = 0;
    for (int k = 0; k < s->scene.n_occluder; k++) {
        const gradin_shape *shape = &s->scene.occluder[k].shape;
        if (shape->kind != GRADIN_SHAPE_ELLIPSOID) continue;
        s->slot[k] = n;
        s->ellipsoid[n++] = gradin_mask_ellipsoid(shape);
    }
    return true;
}

gradin_mask_scene *gradin_mask_scene_create(gradin_arena *arena, const gradin_scene *scene) {
    struct gradin_mask_scene *s = gradin_arena_alloc(arena, 1, sizeof *s);
    if (!s) return NULL;
    s->scene = *scene;
    if (!keep_ellipsoids(arena, s)) return NULL;
    return gradin_bvh_build(arena, scene, &s->tree) == GRADIN_OK ? s : NULL;
}

gradin_mask_scratch *gradin_mask_scratch_create(gradin_arena *arena,
                                                const gradin_mask_grid *const *grid, int n_grid) {
    size_t n_word = 0, n_place = 0;
    for (int i = 0; i < n_grid; i++) {
        size_t words = (size_t)grid[i]->n_strip * (size_t)grid[i]->n_stride;
        size_t places = (size_t)grid[i]->n_column * (size_t)grid[i]->n_row;
        n_word = words > n_word ? words : n_word;
        n_place = places > n_place ? places : n_place;
    }
    gradin_mask_scratch *s = gradin_arena_alloc(arena, 1, sizeof *s);
    if (!s) return NULL;
    s->clear = gradin_arena_alloc(arena, n_word, sizeof *s->clear);
    s->bits.sure = gradin_arena_alloc(arena, n_word, sizeof *s->bits.sure);
    s->bits.doubt = gradin_arena_alloc(arena, n_word, sizeof *s->bits.doubt);
    s->near_m = gradin_arena_alloc(arena, n_place, sizeof *s->near_m);
    s->far_m = gradin_arena_alloc(arena, n_place, sizeof *s->far_m);
    s->entry = gradin_arena_alloc(arena, n_place, sizeof *s->entry);
    bool is_whole = s->clear && s->bits.sure && s->bits.doubt && s->near_m && s->far_m && s->entry;
    return is_whole ? s : NULL;
}
