/* The largest rectangle of free floor, by shapes whose answer is known: of an L the larger leg, of
 * a right-angled triangle the one with half its legs (half its area, elementary), and beside a
 * column. */
#include "studies/draft/draft.h"

#include <criterion/criterion.h>

static gradin_box2 floor_of(gradin_vec2 *corner_m, int n, const gradin_solid *solid, int n_solid) {
    gradin_arena *arena = gradin_arena_create();
    const gradin_venue hall = {.footprint = {corner_m, n}, .solid = solid, .n_solid = n_solid};
    draft_job job = {.arena = arena, .hall = &hall};
    cr_assert(draft_find_floor(&job));
    gradin_arena_destroy(arena);
    return job.floor_box;
}

static void expect_box(gradin_box2 b, double x0, double y0, double x1, double y1, double near_m) {
    cr_expect_float_eq(b.x_min_m, x0, near_m, "%g", b.x_min_m);
    cr_expect_float_eq(b.y_min_m, y0, near_m, "%g", b.y_min_m);
    cr_expect_float_eq(b.x_max_m, x1, near_m, "%g", b.x_max_m);
    cr_expect_float_eq(b.y_max_m, y1, near_m, "%g", b.y_max_m);
}

Test(room, an_l_has_its_larger_leg) {
    gradin_vec2 corner_m[] = {{0, 0}, {18, 0}, {18, 8}, {11, 8}, {11, 16}, {0, 16}};
    expect_box(floor_of(corner_m, 6, NULL, 0), 0, 0, 11, 16, 1e-6);
}

Test(room, a_triangle_has_half_its_area) {
    gradin_vec2 corner_m[] = {{0, 0}, {12, 0}, {0, 9}};
    gradin_box2 b = floor_of(corner_m, 3, NULL, 0);
    double area_m2 = (b.x_max_m - b.x_min_m) * (b.y_max_m - b.y_min_m);
    cr_expect(area_m2 <= 27.0 + 1e-9 && area_m2 > 25.5, "%g", area_m2); /* cells of 0.1 m */
}

Test(room, a_column_is_left_beside_it_and_a_high_one_is_none) {
    gradin_vec2 corner_m[] = {{0, 0}, {10, 0}, {10, 6}, {0, 6}};
    gradin_vec2 column_m[] = {{2, 2}, {2.4, 2}, {2.4, 2.4}, {2, 2.4}};
    gradin_solid solid = {.name = "column", .polygon = {column_m, 4}, .top_m = 6.0};
    expect_box(floor_of(corner_m, 4, &solid, 1), 2.4, 0, 10, 6, 0.11);
    solid.bottom_m = 3.0; /* a beam overhead */
    expect_box(floor_of(corner_m, 4, &solid, 1), 0, 0, 10, 6, 1e-6);
}

/* Drafts stand at 0: a part of the floor that slopes, or lies higher, is left beside it. */
Test(room, a_floor_that_is_not_at_0_is_left_beside_it) {
    gradin_vec2 corner_m[] = {{0, 0}, {10, 0}, {10, 6}, {0, 6}};
    gradin_vec2 rake_m[] = {{0, 0}, {4, 0}, {4, 6}, {0, 6}}, seat_m[] = {{3, 1}, {5, 1}, {5, 2}};
    const double slope_z_m[] = {0.8, 0, 0, 0.8}, level_z_m[] = {0.3, 0.3, 0.3, 0.3},
                 none_z_m[] = {0, 0, 0, 0};
    const double *z_m[] = {slope_z_m, level_z_m, none_z_m};
    for (int i = 0; i < 3; i++) {
        gradin_floor_region region = {.name = "rake", .polygon = {rake_m, 4}, .corner_z_m = z_m[i]};
        gradin_venue hall = {.footprint = {corner_m, 4}, .floor = &region, .n_floor = 1};
        gradin_arena *arena = gradin_arena_create();
        draft_job job = {.arena = arena, .hall = &hall};
        bool is_off = i < 2;
        cr_assert(draft_find_floor(&job));
        expect_box(job.floor_box, is_off ? 4 : 0, 0, 10, 6, 0.11);
        cr_expect_eq(draft_fixed_name(&hall, (gradin_polygon){seat_m, 3}, 1.0) != NULL, is_off);
        gradin_arena_destroy(arena);
    }
}
