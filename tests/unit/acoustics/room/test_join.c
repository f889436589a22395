/* Small faces of one plane join into one patch, whichever side the next one lies on. */
#include "acoustics/patches/patch.h"

#include <criterion/criterion.h>

/* 1 m by 1 m in the plane x = 0, its lowest corner at y, z. */
static gradin_rectangle square_at(double y_m, double z_m) {
    return (gradin_rectangle){.corner_m = {0.0, y_m, z_m},
                              .along_m = {0.0, 1.0, 0.0},
                              .up_m = {0.0, 0.0, 1.0},
                              .normal = {1.0, 0.0, 0.0}};
}

Test(join, on_every_side) {
    static const double at[4][2] = {{1.0, 0.0}, {-1.0, 0.0}, {0.0, 1.0}, {0.0, -1.0}};
    for (int i = 0; i < 4; i++) {
        gradin_arena *arena = gradin_arena_create();
        gradin_patch_maker maker = {.arena = arena, .size_m = 2.0};
        gradin_patch_add(&maker, square_at(0.0, 0.0), GRADIN_PATCH_WALL, -1);
        gradin_patch_add(&maker, square_at(at[i][0], at[i][1]), GRADIN_PATCH_WALL, -1);
        cr_assert_eq(maker.n, 1, "%d: %d patches", i, maker.n);
        const gradin_rectangle *r = &maker.patch[0].rectangle;
        cr_expect_float_eq(r->corner_m.y, fmin(at[i][0], 0.0), 1e-12, "%d", i);
        cr_expect_float_eq(r->corner_m.z, fmin(at[i][1], 0.0), 1e-12, "%d", i);
        cr_expect_float_eq(r->along_m.y, 1.0 + fabs(at[i][0]), 1e-12, "%d", i);
        cr_expect_float_eq(r->up_m.z, 1.0 + fabs(at[i][1]), 1e-12, "%d", i);
        gradin_arena_destroy(arena);
    }
}

/* Not beyond the size asked for, of another kind, or of another plane. */
Test(join, only_what_belongs_together) {
    gradin_arena *arena = gradin_arena_create();
    gradin_patch_maker maker = {.arena = arena, .size_m = 1.5};
    gradin_patch_add(&maker, square_at(0.0, 0.0), GRADIN_PATCH_WALL, -1);
    gradin_patch_add(&maker, square_at(1.0, 0.0), GRADIN_PATCH_WALL, -1);
    cr_assert_eq(maker.n, 2);
    maker.size_m = 4.0;
    gradin_patch_add(&maker, square_at(2.0, 0.0), GRADIN_PATCH_FLOOR, -1);
    cr_assert_eq(maker.n, 3);
    gradin_rectangle before = square_at(2.0, 1.0);
    before.corner_m.x = 0.1;
    gradin_patch_add(&maker, before, GRADIN_PATCH_WALL, -1);
    cr_assert_eq(maker.n, 4);
    gradin_arena_destroy(arena);
}
