/* Focus areas of three kinds as files have them. */
#include "gradin/files.h"
#include "unit/files/same_focus.h"

#include <criterion/criterion.h>

static void same_points(const gradin_vec2 *a, const gradin_vec2 *b, int n) {
    for (int i = 0; i < n; i++) cr_assert(a[i].x == b[i].x && a[i].y == b[i].y);
}

void same_focus(const gradin_focus *a, const gradin_focus *b) {
    cr_assert_str_eq(a->name, b->name);
    cr_assert(a->kind == b->kind && a->weight == b->weight && a->n_line == b->n_line &&
              a->polygon.n_corner == b->polygon.n_corner && a->slope == b->slope &&
              a->bottom_m == b->bottom_m && a->top_m == b->top_m);
    if (a->kind != GRADIN_FOCUS_UPRIGHT) cr_assert_eq(a->z_m, b->z_m);
    if (a->slope > 0.0) cr_assert_eq(a->uphill_deg, b->uphill_deg);
    if (a->kind == GRADIN_FOCUS_POINT) same_points(&a->point_m, &b->point_m, 1);
    same_points(a->polygon.corner_m, b->polygon.corner_m, a->polygon.n_corner);
    same_points(a->line_m, b->line_m, a->n_line);
}

/* What a layout in feet looks at, in metres. */
Test(focus, is_read_in_feet) {
    static gradin_model model;
    gradin_arena *arena = gradin_arena_create();
    gradin_error error = {0};
    const gradin_model *m = &model;
    const char *path = GRADIN_SOURCE_DIR "/tests/unit/files/rich/layout.yaml";
    cr_assert_eq(gradin_model_read(arena, path, &model, &error), GRADIN_OK);
    const double foot_m = 0.3048; /* exact by definition */
    cr_assert_float_eq(m->c_line->point_m[1].x, 13.0 * foot_m, 1e-12);
    cr_assert_float_eq(m->c_line->z_m, 1.3 * foot_m, 1e-12);
    cr_assert_eq(m->n_focus, 5);
    const gradin_focus *raked = &m->focus[2], *screen = &m->focus[3], *face = &m->focus[4];
    cr_assert(raked->kind == GRADIN_FOCUS_FLOOR && screen->kind == GRADIN_FOCUS_UPRIGHT &&
              face->kind == GRADIN_FOCUS_POINT);
    cr_assert(raked->slope == 0.0417 && raked->uphill_deg == 350.0);
    cr_assert_float_eq(screen->line_m[1].y, 46.1 * foot_m, 1e-12);
    cr_assert_float_eq(screen->top_m, 14.3 * foot_m, 1e-12);
    cr_assert_float_eq(face->point_m.y, 40.7 * foot_m, 1e-12);
    cr_assert_float_eq(face->z_m, 6.1 * foot_m, 1e-12);
    gradin_arena_destroy(arena);
}
