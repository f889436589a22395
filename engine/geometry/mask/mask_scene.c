/* A scene and a thread made ready for masks. */
#include "geometry/mask/mask_scene.h"

static bool keep_ellipsoids(gradin_arena *arena, struct gradin_mask_scene *s) {
    size_t n = (size_t)s->scene.n_occluder;
    s->kind = gradin_arena_alloc(arena, n, sizeof *s->kind);
    s->ellipsoid = gradin_arena_alloc(arena, n, sizeof *s->ellipsoid);
    if (!s->kind || !s->ellipsoid) return false;
    for (size_t k = 0; k < n; k++) {
        const gradin_shape *shape = &s->scene.occluder[k].shape;
        s->kind[k] = (uint8_t)shape->kind;
        if (shape->kind == GRADIN_SHAPE_ELLIPSOID) s->ellipsoid[k] = gradin_mask_ellipsoid(shape);
    }
    return true;
}

/* All that the soup has not taken. */
static gradin_status copy_solids(gradin_arena *arena, const gradin_scene *scene,
                                 struct gradin_mask_scene *s) {
    int n = 0;
    bool has_soup = s->soup.n_group > 0;
    for (int k = 0; k < scene->n_occluder; k++) n += !(has_soup && soup_takes(&scene->occluder[k]));
    s->original = gradin_arena_alloc(arena, (size_t)n, sizeof *s->original);
    gradin_occluder *copy = gradin_arena_alloc(arena, (size_t)n, sizeof *copy);
    if (!s->original || !copy) return GRADIN_NO_MEMORY;
    n = 0;
    for (int k = 0; k < scene->n_occluder; k++)
        if (!(has_soup && soup_takes(&scene->occluder[k]))) s->original[n++] = k;
    gradin_status status = gradin_bvh_build(arena, scene, s->original, n, 1, &s->tree);
    for (int i = 0; status == GRADIN_OK && i < n; i++) copy[i] = scene->occluder[s->original[i]];
    s->scene = (gradin_scene){copy, n};
    return status;
}

gradin_mask_scene *gradin_mask_scene_create(gradin_arena *arena, const gradin_scene *scene) {
    if (!arena || !scene) return NULL;
    struct gradin_mask_scene *s = gradin_arena_alloc(arena, 1, sizeof *s);
    if (!s || gradin_soup_build(arena, scene, &s->soup) != GRADIN_OK) return NULL;
    return copy_solids(arena, scene, s) == GRADIN_OK && keep_ellipsoids(arena, s) ? s : NULL;
}

static bool make_bits(gradin_arena *arena, size_t n_word, mask_bits *bits) {
    bits->sure = gradin_arena_alloc(arena, n_word, sizeof *bits->sure);
    bits->doubt = gradin_arena_alloc(arena, n_word, sizeof *bits->doubt);
    return bits->sure && bits->doubt;
}

gradin_mask_scratch *gradin_mask_scratch_create(gradin_arena *arena,
                                                const gradin_mask_grid *const *grid, int n_grid) {
    if (!arena || !grid) return NULL;
    size_t n_word = 0;
    for (int i = 0; i < n_grid; i++) {
        size_t words = (size_t)grid[i]->n_strip * (size_t)grid[i]->n_stride;
        n_word = words > n_word ? words : n_word;
    }
    gradin_mask_scratch *s = gradin_arena_alloc(arena, 1, sizeof *s);
    if (!s) return NULL;
    s->clear = gradin_arena_alloc(arena, n_word, sizeof *s->clear);
    s->open = gradin_arena_alloc(arena, n_word, sizeof *s->open);
    s->near_m = gradin_arena_alloc(arena, 32 * n_word, sizeof *s->near_m);
    s->far_m = gradin_arena_alloc(arena, 32 * n_word, sizeof *s->far_m);
    s->entry = gradin_arena_alloc(arena, 32 * n_word, sizeof *s->entry);
    s->holder = gradin_arena_alloc(arena, 32 * n_word, sizeof *s->holder);
    s->place = gradin_arena_alloc(arena, 32 * n_word, sizeof *s->place);
    bool is_whole =
        s->place && s->clear && s->open && s->near_m && s->far_m && s->entry && s->holder;
    return is_whole && make_bits(arena, n_word, &s->bits) && make_bits(arena, n_word, &s->past) &&
                   make_bits(arena, n_word, &s->level)
               ? s
               : NULL;
}
