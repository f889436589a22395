/* Areas cut into triangles: they add up to the area by the shoelace formula (plane geometry), and
 * all look up. */
#include <criterion/criterion.h>

#include "render/export/solids.h"

static double area_m2(const solids *s) {
    double sum = 0.0;
    for (int i = 0; i < s->n; i += 3) {
        gradin_vec3 a = s->vertex[i];
        gradin_vec3 n =
            gradin_cross(gradin_sub(s->vertex[i + 1], a), gradin_sub(s->vertex[i + 2], a));
        cr_assert_gt(n.z, 0.0);
        sum += 0.5 * n.z;
    }
    return sum;
}

static solids covered(gradin_polygon outer, const gradin_polygon *hole, int n_hole) {
    solids s = {.arena = gradin_arena_create()};
    solids_cover(&s, outer, hole, n_hole, (slope_plane){.z_m = 1.5}, true);
    cr_assert(!s.failed);
    for (int i = 0; i < s.n; i++) cr_assert_float_eq(s.vertex[i].z, 1.5, 0.0);
    return s;
}

Test(solids, a_concave_area) {
    static const gradin_vec2 u[] = {{0, 0}, {6, 0}, {6, 4}, {4, 4}, {4, 1}, {2, 1}, {2, 4}, {0, 4}};
    solids s = covered((gradin_polygon){u, 8}, NULL, 0);
    cr_assert_float_eq(area_m2(&s), 6.0 + 2.0 * 6.0, 1e-9);
    gradin_arena_destroy(s.arena);
}

/* Two that share a side, one on a corner of them, one turned, one run the other way. */
Test(solids, holes_that_touch) {
    static const gradin_vec2 square[] = {{0, 0}, {10, 0}, {10, 10}, {0, 10}};
    static const gradin_vec2 a[] = {{1, 1}, {3, 1}, {3, 3}, {1, 3}},
                             b[] = {{3, 1}, {3, 3}, {5, 3}, {5, 1}},
                             c[] = {{5, 3}, {6, 3}, {6, 4}, {5, 4}},
                             d[] = {{7, 6}, {8, 7}, {7, 8}, {6, 7}};
    const gradin_polygon hole[] = {{a, 4}, {b, 4}, {c, 4}, {d, 4}};
    solids s = covered((gradin_polygon){square, 4}, hole, 4);
    cr_assert_float_eq(area_m2(&s), 100.0 - 4.0 - 4.0 - 1.0 - 2.0, 1e-9);
    gradin_arena_destroy(s.arena);
}

/* The bounds of a bar are those of its capsule less the round ends, and it is closed: by the
 * divergence theorem its volume is that of the prism of eight sides, 2 sqrt(2) r^2 l. */
Test(solids, a_bar_is_closed) {
    solids s = {.arena = gradin_arena_create()};
    gradin_shape bar = {.kind = GRADIN_SHAPE_CAPSULE};
    bar.as.capsule.a_m = (gradin_vec3){1, 2, 1};
    bar.as.capsule.b_m = (gradin_vec3){1, 5, 1};
    bar.as.capsule.radius_m = 0.05;
    solids_shape(&s, &bar);
    double volume_m3 = 0.0;
    for (int i = 0; i < s.n; i += 3)
        volume_m3 += gradin_dot(s.vertex[i], gradin_cross(s.vertex[i + 1], s.vertex[i + 2])) / 6.0;
    cr_assert_float_eq(volume_m3, 2.0 * sqrt(2.0) * 0.05 * 0.05 * 3.0, 1e-9);
    gradin_arena_destroy(s.arena);
}
