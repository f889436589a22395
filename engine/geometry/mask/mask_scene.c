/* A scene and a thread made ready for masks. */
#include "geometry/mask/mask_scene.h"
#include "geometry/plan/plan.h"

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

static gradin_vec3 turn(gradin_vec3 p, gradin_vec2 along) {
    gradin_vec2 q = plan_into((gradin_vec2){p.x, p.y}, along);
    return (gradin_vec3){q.x, q.y, p.z};
}

static bool turn_prism(gradin_arena *arena, gradin_polygon *p, gradin_vec2 along) {
    gradin_vec2 *corner = gradin_arena_alloc(arena, (size_t)p->n_corner, sizeof *corner);
    for (int i = 0; corner && i < p->n_corner; i++) corner[i] = plan_into(p->corner_m[i], along);
    p->corner_m = corner;
    return corner != NULL;
}

/* Into the frame: the copy shows where the shadow lies, the caller's own settles its edge. */
static bool turn_shape(gradin_arena *arena, gradin_shape *s, gradin_vec2 along) {
    s->bound_centre_m = turn(s->bound_centre_m, along);
    switch (s->kind) {
    case GRADIN_SHAPE_ELLIPSOID:
    case GRADIN_SHAPE_BOX:
        s->as.solid.centre_m = turn(s->as.solid.centre_m, along);
        s->as.solid.forward = plan_into(s->as.solid.forward, along);
        return true;
    case GRADIN_SHAPE_CAPSULE:
        s->as.capsule.a_m = turn(s->as.capsule.a_m, along);
        s->as.capsule.b_m = turn(s->as.capsule.b_m, along);
        return true;
    case GRADIN_SHAPE_TRIANGLE:
        for (int i = 0; i < 3; i++)
            s->as.triangle.corner_m[i] = turn(s->as.triangle.corner_m[i], along);
        return true;
    case GRADIN_SHAPE_PRISM:
        break;
    }
    return turn_prism(arena, &s->as.prism.polygon, along);
}

/* All that the soup has not taken, in the caller's order: [i] is, or is a piece of, list[i]. */
typedef struct solids {
    gradin_occluder *occluder;
    int32_t *list;
    int n;
} solids;

static bool is_cut(const gradin_shape *s) {
    return s->kind == GRADIN_SHAPE_PRISM && s->as.prism.polygon.n_corner <= PLAN_CUT_CORNERS &&
           !gradin_polygon_is_convex(s->as.prism.polygon);
}

static void add_solid(solids *all, const gradin_occluder *o, int k) {
    all->occluder[all->n] = *o;
    all->list[all->n++] = k;
}

/* A concave prism as convex ones, whose shadows have straight edges without a notch. */
static bool add_pieces(gradin_arena *arena, const gradin_occluder *o, int k, solids *all) {
    gradin_polygon piece[PLAN_CUT_CORNERS];
    int n = plan_convex_pieces(arena, o->shape.as.prism.polygon, piece);
    for (int i = 0; i < n; i++) {
        gradin_occluder part = *o;
        part.shape = gradin_prism(piece[i], o->shape.as.prism.bottom_m, o->shape.as.prism.top_m);
        add_solid(all, &part, k);
    }
    if (n == 0) add_solid(all, o, k);
    return n >= 0;
}

static bool is_left(const gradin_occluder *o, bool has_soup) {
    return !has_soup || !soup_takes(o);
}

static bool gather_solids(gradin_arena *arena, const gradin_scene *scene, bool has_soup,
                          solids *all) {
    size_t n = 0;
    for (int k = 0; k < scene->n_occluder; k++) {
        const gradin_occluder *o = &scene->occluder[k];
        if (is_left(o, has_soup))
            n += is_cut(&o->shape) ? (size_t)o->shape.as.prism.polygon.n_corner : 1;
    }
    all->occluder = gradin_arena_alloc(arena, n, sizeof *all->occluder);
    all->list = gradin_arena_alloc(arena, n, sizeof *all->list);
    bool good = all->occluder && all->list;
    for (int k = 0; good && k < scene->n_occluder; k++) {
        const gradin_occluder *o = &scene->occluder[k];
        if (!is_left(o, has_soup)) continue;
        if (is_cut(&o->shape))
            good = add_pieces(arena, o, k, all);
        else
            add_solid(all, o, k);
    }
    return good;
}

static gradin_occluder *turn_solids(gradin_arena *arena, const solids *all, gradin_vec2 along) {
    gradin_occluder *turned = gradin_arena_alloc(arena, (size_t)all->n, sizeof *turned);
    for (int i = 0; turned && i < all->n; i++) {
        turned[i] = all->occluder[i];
        if (!turn_shape(arena, &turned[i].shape, along)) return NULL;
    }
    return turned;
}

/* The tree in the frame of the edges, from shapes turned there; then the copies in its order. */
static gradin_status order_solids(gradin_arena *arena, const solids *all,
                                  const gradin_scene *edgewise, struct gradin_mask_scene *s) {
    int n = all->n;
    gradin_occluder *copy = gradin_arena_alloc(arena, (size_t)n, sizeof *copy);
    s->original = gradin_arena_alloc(arena, (size_t)n, sizeof *s->original);
    if (!s->original || !copy) return GRADIN_NO_MEMORY;
    for (int i = 0; i < n; i++) s->original[i] = i;
    gradin_status status = gradin_bvh_build(arena, edgewise, s->original, n, 1, &s->tree);
    for (int i = 0; status == GRADIN_OK && i < n; i++) {
        copy[i] = all->occluder[s->original[i]];
        s->original[i] = all->list[s->original[i]];
        if (!turn_shape(arena, &copy[i].shape, s->along)) return GRADIN_NO_MEMORY;
    }
    s->scene = (gradin_scene){copy, n};
    return status;
}

static gradin_status copy_solids(gradin_arena *arena, const gradin_scene *scene,
                                 struct gradin_mask_scene *s) {
    solids all = {0};
    gradin_arena *brief = gradin_arena_create();
    gradin_status status = GRADIN_NO_MEMORY;
    gradin_scene edgewise = {NULL, 0};
    if (brief && gather_solids(brief, scene, s->soup.n_group > 0, &all))
        edgewise = (gradin_scene){turn_solids(brief, &all, s->lie.edge), all.n};
    if (edgewise.occluder) status = order_solids(arena, &all, &edgewise, s);
    gradin_arena_destroy(brief);
    return status;
}

gradin_mask_scene *gradin_mask_scene_create(gradin_arena *arena, const gradin_scene *scene,
                                            gradin_lie lie) {
    if (!arena || !scene || !plan_is_unit(lie.edge) || !plan_is_unit(lie.row)) return NULL;
    struct gradin_mask_scene *s = gradin_arena_alloc(arena, 1, sizeof *s);
    if (!s || gradin_soup_build(arena, scene, &s->soup) != GRADIN_OK) return NULL;
    s->exact = scene->occluder;
    s->lie = lie;
    s->along = gradin_mask_along(lie);
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
    s->most_m = gradin_arena_alloc(arena, n_word, sizeof *s->most_m);
    s->entry = gradin_arena_alloc(arena, 32 * n_word, sizeof *s->entry);
    s->holder = gradin_arena_alloc(arena, 32 * n_word, sizeof *s->holder);
    s->place = gradin_arena_alloc(arena, 32 * n_word, sizeof *s->place);
    bool is_whole = s->place && s->clear && s->open && s->near_m && s->far_m && s->most_m &&
                    s->entry && s->holder;
    return is_whole && make_bits(arena, n_word, &s->bits) && make_bits(arena, n_word, &s->past) &&
                   make_bits(arena, n_word, &s->level)
               ? s
               : NULL;
}
