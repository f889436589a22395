/* Faces cut into rectangles of the size asked for; small ones of one plane join, so that a platform
 * of many parts stays few rectangles. */
#include "acoustics/patches/patch.h"

enum { JOIN_REACH = 96 };

static const double same_plane_m = 0.02;

static bool is_one_plane(const gradin_rectangle *a, const gradin_rectangle *b) {
    gradin_vec3 way = gradin_sub(b->corner_m, a->corner_m);
    return gradin_dot(a->normal, b->normal) > 0.9999 &&
           fabs(gradin_dot(way, a->normal)) < same_plane_m;
}

/* Widens a to hold b too, when it stays within size_m. */
static bool join(gradin_rectangle *a, const gradin_rectangle *b, double size_m) {
    double u_m = gradin_norm(a->along_m), v_m = gradin_norm(a->up_m);
    gradin_vec3 u = gradin_scale(a->along_m, 1.0 / u_m), v = gradin_scale(a->up_m, 1.0 / v_m);
    double low_u = 0.0, high_u = u_m, low_v = 0.0, high_v = v_m;
    for (int i = 0; i < 4; i++) {
        gradin_vec3 way = gradin_sub(gradin_rectangle_at_m(b, i % 2, i / 2), a->corner_m);
        low_u = fmin(low_u, gradin_dot(way, u)), high_u = fmax(high_u, gradin_dot(way, u));
        low_v = fmin(low_v, gradin_dot(way, v)), high_v = fmax(high_v, gradin_dot(way, v));
    }
    if (high_u - low_u > size_m + 1e-9 || high_v - low_v > size_m + 1e-9) return false;
    a->corner_m =
        gradin_add(a->corner_m, gradin_add(gradin_scale(u, low_u), gradin_scale(v, low_v)));
    a->along_m = gradin_scale(u, high_u - low_u);
    a->up_m = gradin_scale(v, high_v - low_v);
    return true;
}

static bool joined(gradin_patch_maker *maker, const gradin_rectangle *piece,
                   gradin_patch_kind kind) {
    for (int i = maker->n - 1, tried = 0; i >= 0 && tried < JOIN_REACH; i--, tried++) {
        gradin_patch *patch = &maker->patch[i];
        if (patch->kind == kind && patch->element < 0 && is_one_plane(&patch->rectangle, piece) &&
            join(&patch->rectangle, piece, maker->size_m))
            return true;
    }
    return false;
}

static void add_piece(gradin_patch_maker *maker, gradin_rectangle piece, gradin_patch_kind kind,
                      int element) {
    if (element < 0 && joined(maker, &piece, kind)) return;
    if (gradin_arena_grow(maker->arena, (void **)&maker->patch, maker->n, &maker->capacity,
                          sizeof *maker->patch) != GRADIN_OK) {
        maker->is_out_of_memory = true;
        return;
    }
    maker->patch[maker->n++] = (gradin_patch){.rectangle = piece, .kind = kind, .element = element};
}

void gradin_patch_add(gradin_patch_maker *maker, gradin_rectangle face, gradin_patch_kind kind,
                      int element) {
    double n_u = fmax(ceil(gradin_norm(face.along_m) / maker->size_m - 1e-9), 1.0);
    double n_v = fmax(ceil(gradin_norm(face.up_m) / maker->size_m - 1e-9), 1.0);
    gradin_rectangle piece = {.along_m = gradin_scale(face.along_m, 1.0 / n_u),
                              .up_m = gradin_scale(face.up_m, 1.0 / n_v),
                              .normal = face.normal};
    if (!(n_u * n_v <= GRADIN_MAX_CUT)) n_u = n_v = GRADIN_MAX_CUT; /* refused by the caller */
    for (int j = 0; j < n_v && maker->n <= GRADIN_MAX_CUT; j++)
        for (int i = 0; i < n_u && maker->n <= GRADIN_MAX_CUT; i++) {
            piece.corner_m = gradin_rectangle_at_m(&face, i / n_u, j / n_v);
            add_piece(maker, piece, kind, element);
        }
}
