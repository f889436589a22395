/* Plan polygons against arithmetic by hand and against each other. */
#include "base/faults.h"
#include "unit/geometry/random.h"

#include <criterion/criterion.h>
#include <string.h>

#define POLYGON(...)                                                                               \
    ((gradin_polygon){(const gradin_vec2[]){__VA_ARGS__},                                          \
                      (int)(sizeof((const gradin_vec2[]){__VA_ARGS__}) / sizeof(gradin_vec2))})

#define NEAR(a, b) cr_assert(fabs((a) - (b)) <= 1e-9, "%s = %.12f, not %.12f", #a, (a), (b))

/* An L: 4 x 4 without its upper right quarter. */
#define ELL POLYGON({0, 0}, {4, 0}, {4, 2}, {2, 2}, {2, 4}, {0, 4})
#define SQUARE POLYGON({0, 0}, {4, 0}, {4, 4}, {0, 4})
#define EAST ((gradin_vec2){1.0, 0.0})

Test(polygon, area_and_centroid_do_not_depend_on_winding_or_place) {
    gradin_polygon ell = ELL;
    gradin_vec2 back[6], far[6];
    for (int i = 0; i < 6; i++) {
        back[i] = ell.corner_m[5 - i];
        far[i] = (gradin_vec2){ell.corner_m[i].x + 5e5, ell.corner_m[i].y - 4e5};
    }
    NEAR(gradin_polygon_area_m2(ell), 12.0);
    NEAR(gradin_polygon_area_m2((gradin_polygon){back, 6}), 12.0);
    NEAR(gradin_polygon_area_m2((gradin_polygon){far, 6}), 12.0);
    /* by parts: 8 at (2, 1), 4 at (1, 3) */
    gradin_vec2 c = gradin_polygon_centroid_m((gradin_polygon){back, 6});
    NEAR(c.x, 5.0 / 3.0);
    NEAR(c.y, 5.0 / 3.0);
    c = gradin_polygon_centroid_m((gradin_polygon){far, 6});
    NEAR(c.x - 5e5, 5.0 / 3.0);
    c = gradin_polygon_centroid_m(POLYGON({0, 0}, {2, 2}, {4, 4}));
    NEAR(c.x, 2.0);
}

Test(polygon, is_the_same_from_any_corner_and_either_way) {
    const gradin_polygon ell = ELL, none = {NULL, 0};
    for (int first = 0; first < 6; first++)
        for (int way = -1; way <= 1; way += 2) {
            gradin_vec2 other[6];
            for (int i = 0; i < 6; i++) other[i] = ell.corner_m[(first + way * i + 6) % 6];
            other[2].x += 0.004;
            const gradin_polygon p = {other, 6};
            cr_assert(gradin_polygon_is_same(ell, p, 0.005), "from %d by %d", first, way);
            cr_assert(!gradin_polygon_is_same(ell, p, 0.003), "from %d by %d", first, way);
        }
    /* the same corners in an order of their own are another polygon */
    cr_assert(!gradin_polygon_is_same(SQUARE, POLYGON({0, 0}, {4, 4}, {4, 0}, {0, 4}), 0.005));
    cr_assert(!gradin_polygon_is_same(ell, SQUARE, 9.0));
    cr_assert(gradin_polygon_is_same(none, none, 0.0));
    cr_assert(!gradin_polygon_is_same(none, SQUARE, 9.0));
}

Test(polygon, contains_its_boundary_and_not_its_notch) {
    gradin_polygon ell = ELL;
    cr_assert(gradin_polygon_contains(ell, (gradin_vec2){1, 3}));
    cr_assert_not(gradin_polygon_contains(ell, (gradin_vec2){3, 3}));
    cr_assert(gradin_polygon_contains(ell, (gradin_vec2){3, 2}));
    cr_assert(gradin_polygon_contains(ell, (gradin_vec2){0, 0}));
    cr_assert(gradin_polygon_contains(ell, (gradin_vec2){4, 1}));
    cr_assert(gradin_polygon_contains(ell, (gradin_vec2){4 + 5e-10, 1}));
    cr_assert_not(gradin_polygon_contains(ell, (gradin_vec2){4 + 5e-9, 1}));
    cr_assert_not(gradin_polygon_contains(ell, (gradin_vec2){-1, 2}));
    cr_assert_not(gradin_polygon_contains(ell, (gradin_vec2){5, 2}));
}

Test(polygon, simplicity) {
    cr_assert(gradin_polygon_is_simple(ELL));
    cr_assert_not(gradin_polygon_is_simple(POLYGON({0, 0}, {4, 4}, {4, 0}, {0, 4})), "bow tie");
    cr_assert_not(gradin_polygon_is_simple(POLYGON({0, 0}, {4, 0}, {4, 0}, {0, 4})), "repeated");
    cr_assert_not(gradin_polygon_is_simple(POLYGON({0, 0}, {4, 0}, {2, 0}, {2, 4})), "spike");
    cr_assert_not(gradin_polygon_is_simple(POLYGON({0, 0}, {4, 0}, {4, 4}, {2, 0}, {0, 4})),
                  "a corner touches an edge");
    cr_assert_not(gradin_polygon_is_simple(POLYGON({0, 0}, {2, 2}, {4, 0}, {4, 4}, {2, 2}, {0, 4})),
                  "a corner twice, apart");
    cr_assert(gradin_polygon_is_simple(POLYGON({0, 0}, {2, 0}, {4, 0}, {4, 4})), "straight corner");
}

Test(polygon, nearest_and_edge) {
    int edge = -1;
    gradin_vec2 p = gradin_polygon_nearest_m(ELL, (gradin_vec2){3.1, 2.6}, &edge);
    NEAR(p.x, 3.1);
    NEAR(p.y, 2.0);
    cr_assert_eq(edge, 2);
    p = gradin_polygon_nearest_m(ELL, (gradin_vec2){6, -1}, NULL);
    NEAR(p.x, 4.0);
    NEAR(p.y, 0.0);
}

Test(polygon, ray) {
    double t = -1.0;
    cr_assert(gradin_polygon_ray_m(ELL, (gradin_vec2){3, 6}, (gradin_vec2){0, -1}, &t));
    NEAR(t, 4.0);
    cr_assert(gradin_polygon_ray_m(ELL, (gradin_vec2){3, 1}, (gradin_vec2){0, -1}, &t));
    NEAR(t, 0.0);
    cr_assert_not(gradin_polygon_ray_m(ELL, (gradin_vec2){3, 6}, (gradin_vec2){0, 1}, &t));
    cr_assert_not(gradin_polygon_ray_m(ELL, (gradin_vec2){5, 6}, (gradin_vec2){0, -1}, &t));
    cr_assert(gradin_polygon_ray_m(ELL, (gradin_vec2){-3, 4}, (gradin_vec2){1, 0}, &t), "along");
    NEAR(t, 3.0);
    cr_assert(gradin_polygon_ray_m(ELL, (gradin_vec2){3, 3}, (gradin_vec2){-1, 0}, &t), "notch");
    NEAR(t, 1.0);
}

Test(polygon, overlap_of_convex_pairs_is_exact_at_the_touch) {
    gradin_polygon square = SQUARE;
    cr_assert_not(gradin_polygon_overlap(square, POLYGON({4, 0}, {8, 0}, {8, 4}, {4, 4}), 0.0));
    cr_assert(gradin_polygon_overlap(square, POLYGON({3.9, 0}, {8, 0}, {8, 4}, {3.9, 4}), 0.05));
    cr_assert_not(
        gradin_polygon_overlap(square, POLYGON({3.9, 0}, {8, 0}, {8, 4}, {3.9, 4}), 0.15));
    cr_assert(gradin_polygon_overlap(square, POLYGON({1, 1}, {2, 1}, {2, 2}), 0.01), "inside");
    cr_assert(gradin_polygon_overlap(square, square, 0.01), "itself");
    cr_assert(gradin_polygon_overlap(POLYGON({-1, 1}, {9, 1}, {9, 2}, {-1, 2}), square, 0.01));
    /* bounding boxes meet, the diagonal keeps them apart */
    cr_assert_not(gradin_polygon_overlap(square, POLYGON({5, 3.5}, {5, 8}, {3.5, 5}), 0.0));
}

/* Two squares turned by 45 degrees share a whole edge; then one is pushed in. */
Test(polygon, overlap_of_turned_neighbours) {
    gradin_polygon left = POLYGON({0, 0}, {1, -1}, {2, 0}, {1, 1});
    for (int k = 0; k < 2; k++) {
        double push = k ? 0.002 : 0.0;
        gradin_polygon right = POLYGON({1 - push, 1 - push}, {2 - push, 0 - push},
                                       {3 - push, 1 - push}, {2 - push, 2 - push});
        cr_assert_eq(gradin_polygon_overlap(left, right, 1e-7), k == 1, "push %g", push);
        cr_assert_not(gradin_polygon_overlap(left, right, 0.003), "push %g", push);
    }
}

Test(polygon, overlap_of_a_concave_one) {
    gradin_polygon ell = ELL;
    cr_assert_not(gradin_polygon_overlap(ell, POLYGON({2, 2}, {4, 2}, {4, 4}, {2, 4}), 0.001),
                  "fills notch");
    cr_assert(gradin_polygon_overlap(ell, POLYGON({1.9, 1.9}, {4, 1.9}, {4, 4}, {1.9, 4}), 0.001));
    cr_assert(gradin_polygon_overlap(ell, ell, 0.001), "itself");
    cr_assert(gradin_polygon_overlap(ell, POLYGON({3, -1}, {3.5, -1}, {3.5, 5}, {3, 5}), 0.001));
    /* a cross: no corner of one lies in the other, only edges cross */
    cr_assert(gradin_polygon_overlap(POLYGON({-3, 1}, {0, 1.01}, {3, 1}, {3, 1.2}, {-3, 1.2}),
                                     POLYGON({0.4, -3}, {0.9, -3}, {0.9, 3}, {0.4, 3}), 0.001));
    cr_assert(gradin_polygon_overlap(ell, POLYGON({-1, -1}, {9, -1}, {9, 9}, {-1, 9}), 0.001));
}

Test(polygon, rectangle_corners) {
    gradin_vec2 corner[4];
    gradin_rectangle_corners((gradin_vec2){10, 20}, 90.0, 6.0, 2.0, corner);
    /* facing east: along is x, right is south */
    NEAR(corner[2].x, 13.0);
    NEAR(corner[2].y, 19.0);
    NEAR(corner[0].x, 7.0);
    NEAR(corner[0].y, 21.0);
    NEAR(gradin_polygon_area_m2((gradin_polygon){corner, 4}), 12.0);
}

Test(polygon, grid_has_enough_and_few_spare_samples_inside) {
    random_source r = {11};
    for (int trial = 0; trial < 40; trial++) {
        gradin_arena *arena = gradin_arena_create();
        gradin_vec2 corner[RANDOM_CORNERS], *point;
        gradin_polygon star =
            random_star(&r, (gradin_vec2){3, -40}, 1.0, 6.0, RANDOM_CORNERS, corner);
        int n_wanted = 1 + trial * 50, n;
        cr_assert_eq(gradin_polygon_grid(arena, star, EAST, n_wanted, &point, &n), GRADIN_OK);
        cr_assert(n >= n_wanted && n <= n_wanted + 20 + n_wanted / 20, "%d for %d", n, n_wanted);
        for (int i = 0; i < n; i++)
            cr_assert(gradin_polygon_contains(star, point[i]), "trial %d sample %d", trial, i);
        gradin_arena_destroy(arena);
    }
}

Test(polygon, grid_is_complete_and_even) {
    gradin_arena *arena = gradin_arena_create();
    gradin_vec2 *point;
    int n;
    cr_assert_eq(gradin_polygon_grid(arena, ELL, EAST, 1200, &point, &n), GRADIN_OK);
    int low = 0;
    gradin_vec2 mean = {0, 0};
    for (int i = 0; i < n; i++) {
        low += point[i].y < 2.0;
        mean = (gradin_vec2){mean.x + point[i].x / n, mean.y + point[i].y / n};
    }
    /* two thirds of the area, the centroid by parts; a row more or less is 2 % */
    cr_assert(fabs((double)low / n - 2.0 / 3.0) < 0.02, "%d of %d", low, n);
    cr_assert(fabs(mean.x - 5.0 / 3.0) < 0.02 && fabs(mean.y - 5.0 / 3.0) < 0.02);
    gradin_arena_destroy(arena);
}

Test(polygon, grid_mirrors) {
    random_source r = {5};
    gradin_arena *arena = gradin_arena_create();
    gradin_vec2 corner[RANDOM_CORNERS], mirror[RANDOM_CORNERS], *a, *b;
    int n_a, n_b;
    gradin_polygon star = random_star(&r, (gradin_vec2){3, 4}, 1.0, 6.0, RANDOM_CORNERS, corner);
    for (int i = 0; i < RANDOM_CORNERS; i++) mirror[i] = (gradin_vec2){-corner[i].x, corner[i].y};
    cr_assert_eq(gradin_polygon_grid(arena, star, EAST, 500, &a, &n_a), GRADIN_OK);
    cr_assert_eq(
        gradin_polygon_grid(arena, (gradin_polygon){mirror, RANDOM_CORNERS}, EAST, 500, &b, &n_b),
        GRADIN_OK);
    cr_assert_eq(n_a, n_b);
    double sum = 0.0;
    for (int i = 0; i < n_a; i++) sum += a[i].x + b[i].x;
    cr_assert(fabs(sum) < 1e-9 * n_a);
    gradin_arena_destroy(arena);
}

/* Moved, turned or mirrored corner by corner, a polygon takes its samples with it. */
Test(polygon, askew_grid_goes_with_the_polygon) {
    static const gradin_vec2 oblong[4] = {{1, 2}, {7, 2}, {7, 5}, {1, 5}};
    gradin_arena *arena = gradin_arena_create();
    gradin_vec2 turn = gradin_bearing_unit(53.0), moved[4], mirror[4], *a, *b, *c;
    int n_a, n_b, n_c;
    for (int i = 0; i < 4; i++) {
        gradin_vec2 p = oblong[i];
        moved[i] = (gradin_vec2){p.x * turn.x - p.y * turn.y + 300.0,
                                 p.x * turn.y + p.y * turn.x - 2000.0};
        mirror[i] = (gradin_vec2){-p.x, p.y};
    }
    gradin_polygon shape[3] = {{oblong, 4}, {moved, 4}, {mirror, 4}};
    gradin_vec2 along[3];
    for (int k = 0; k < 3; k++) along[k] = gradin_polygon_askew(shape[k]).row;
    cr_assert_eq(gradin_polygon_grid(arena, shape[0], along[0], 400, &a, &n_a), GRADIN_OK);
    cr_assert_eq(gradin_polygon_grid(arena, shape[1], along[1], 400, &b, &n_b), GRADIN_OK);
    cr_assert_eq(gradin_polygon_grid(arena, shape[2], along[2], 400, &c, &n_c), GRADIN_OK);
    cr_assert(n_a == n_b && n_a == n_c && n_a < 420, "%d %d %d", n_a, n_b, n_c);
    for (int i = 0; i < n_a; i++) {
        NEAR(b[i].x, a[i].x * turn.x - a[i].y * turn.y + 300.0);
        NEAR(b[i].y, a[i].x * turn.y + a[i].y * turn.x - 2000.0);
    }
    double off = 0.0; /* mirrored rows are swept the other way: compare without order */
    for (int i = 0; i < n_a; i++) {
        double nearest = INFINITY;
        for (int k = 0; k < n_a; k++)
            nearest = fmin(nearest, hypot(a[i].x + c[k].x, a[i].y - c[k].y));
        off = fmax(off, nearest);
    }
    cr_assert_lt(off, 1e-9);
    gradin_arena_destroy(arena);
}

/* Strips of every breadth along the edges, and along lines at 30, 45 and 60 degrees to them, hold
 * their share of the samples within an eighth of a row's worth, rms; rows along the edges are off
 * by a quarter of a row and more (a row is in or out as a whole: uniform error of up to half a row,
 * rms 1/sqrt(12) = 0.29). */
static double strip_rms_rows(gradin_vec2 along, double strip_deg) {
    gradin_arena *arena = gradin_arena_create();
    gradin_vec2 *point, normal = gradin_bearing_unit(strip_deg);
    double sum = 0.0;
    int n, n_strip = 0;
    cr_assert_eq(gradin_polygon_grid(arena, SQUARE, along, 1024, &point, &n), GRADIN_OK);
    /* within a disc of radius 1.9, so that all strips of one breadth are alike */
    for (double cut = -0.9; cut < 0.9; cut += 0.0173, n_strip++) {
        int count = 0;
        for (int i = 0; i < n; i++) {
            double x = point[i].x - 2.0, y = point[i].y - 2.0;
            double across = x * normal.x + y * normal.y, by = x * normal.y - y * normal.x;
            count += fabs(by) < 1.3 && across > cut && across < cut + 0.31;
        }
        double rows = (count - n * 2.6 * 0.31 / 16.0) / (2.6 / 4.0 * sqrt(n));
        sum += rows * rows;
    }
    gradin_arena_destroy(arena);
    return sqrt(sum / n_strip);
}

Test(polygon, no_strip_follows_a_row_of_an_askew_grid) {
    static const double bearing_deg[6] = {0, 90, 30, 60, 45, 135};
    for (int i = 0; i < 6; i++) {
        double rms = strip_rms_rows(gradin_polygon_askew(SQUARE).row, bearing_deg[i]);
        cr_assert_lt(rms, 0.125, "strip at %g degrees: rms %.3f rows", bearing_deg[i], rms);
    }
    cr_assert_gt(strip_rms_rows(EAST, 0.0), 0.25);
}

Test(polygon, grid_refuses) {
    gradin_arena *arena = gradin_arena_create();
    gradin_vec2 *point;
    int n;
    cr_assert_eq(gradin_polygon_grid(arena, SQUARE, EAST, 0, &point, &n), GRADIN_BAD_USE);
    cr_assert_eq(gradin_polygon_grid(arena, POLYGON({0, 0}, {1, 1}, {2, 2}), EAST, 9, &point, &n),
                 GRADIN_BAD_INPUT);
    cr_assert_eq(gradin_polygon_grid(arena, POLYGON({0, 0}, {NAN, 1}, {2, 0}), EAST, 9, &point, &n),
                 GRADIN_BAD_INPUT);
    cr_assert_eq(gradin_polygon_grid(arena, POLYGON({0, 0}, {1e6, 0}, {1e6, 1e-9}, {0, 1e-9}), EAST,
                                     9, &point, &n),
                 GRADIN_BAD_INPUT);
    cr_assert_eq(gradin_polygon_grid(arena, SQUARE, (gradin_vec2){1, 1}, 9, &point, &n),
                 GRADIN_BAD_USE);
    for (int k = 1; k <= 3; k++) {
        gradin_alloc_fail_at(k);
        cr_assert_eq(gradin_polygon_grid(arena, SQUARE, EAST, 10, &point, &n), GRADIN_NO_MEMORY);
    }
    gradin_alloc_fail_at(0);
    gradin_arena_destroy(arena);
}

/* Common areas by hand: squares that share a corner; an L over a square that covers its notch and
 * half of each arm; a triangle in a square; apart; and either order gives the same. */
Test(polygon, common_area) {
    gradin_vec2 unit[] = {{0, 0}, {2, 0}, {2, 2}, {0, 2}},
                moved[] = {{1, 1}, {3, 1}, {3, 3}, {1, 3}};
    gradin_vec2 bent[] = {{0, 0}, {3, 0}, {3, 1}, {1, 1}, {1, 3}, {0, 3}};
    gradin_vec2 back[] = {{0, 3}, {1, 3}, {1, 1}, {3, 1}, {3, 0}, {0, 0}};
    gradin_vec2 corner[] = {{0, 0}, {2, 0}, {0, 2}}, far[] = {{5, 5}, {6, 5}, {6, 6}};
    const struct {
        gradin_polygon a, b;
        double m2;
    } pair[] = {{{unit, 4}, {moved, 4}, 1.0},  {{unit, 4}, {unit, 4}, 4.0},
                {{bent, 6}, {unit, 4}, 3.0},   {{back, 6}, {unit, 4}, 3.0},
                {{bent, 6}, {moved, 4}, 0.0},  {{bent, 6}, {back, 6}, 5.0},
                {{unit, 4}, {corner, 3}, 2.0}, {{unit, 4}, {far, 3}, 0.0}};
    for (size_t i = 0; i < sizeof pair / sizeof *pair; i++) {
        cr_expect_float_eq(gradin_polygon_common_m2(pair[i].a, pair[i].b), pair[i].m2, 1e-12, "%zu",
                           i);
        cr_expect_float_eq(gradin_polygon_common_m2(pair[i].b, pair[i].a), pair[i].m2, 1e-12, "%zu",
                           i);
    }
}

/* Triangle of 3, 4 and 5; the side from the last corner to the first counts. */
Test(polygon, perimeter) {
    const gradin_vec2 corner_m[] = {{1.0, 1.0}, {4.0, 1.0}, {4.0, 5.0}};
    cr_expect_float_eq(gradin_polygon_perimeter_m((gradin_polygon){corner_m, 3}), 12.0, 1e-12);
    cr_expect_eq(gradin_polygon_perimeter_m((gradin_polygon){corner_m, 0}), 0.0);
}

static double triangle_m2(const gradin_vec2 *corner_m, const int *at) {
    gradin_vec2 a = corner_m[at[0]], b = corner_m[at[1]], c = corner_m[at[2]];
    return 0.5 * fabs((b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y));
}

/* The triangles' areas add up to the polygon's, and the middle of each lies in it: a square, an L
 * either way round, a comb, a square with a corner in the middle of a side. */
Test(polygon, triangles) {
    const gradin_vec2 bent[] = {{0, 0}, {3, 0}, {3, 1}, {1, 1}, {1, 3}, {0, 3}};
    const gradin_vec2 back[] = {{0, 3}, {1, 3}, {1, 1}, {3, 1}, {3, 0}, {0, 0}};
    const gradin_vec2 comb[] = {{0, 0}, {5, 0}, {5, 3}, {4, 3}, {4, 1}, {3, 1},
                                {3, 3}, {2, 3}, {2, 1}, {1, 1}, {1, 3}, {0, 3}};
    const gradin_vec2 side[] = {{0, 0}, {1, 0}, {2, 0}, {2, 2}, {0, 2}};
    const gradin_polygon polygon[] = {{bent, 6}, {back, 6}, {comb, 12}, {side, 5}, SQUARE};
    for (size_t i = 0; i < sizeof polygon / sizeof *polygon; i++) {
        int scratch[12], corner[36], n = gradin_polygon_triangles(polygon[i], scratch, corner);
        double sum_m2 = 0.0;
        cr_expect_eq(n, polygon[i].n_corner - 2);
        for (int k = 0; k < n; k++) {
            gradin_vec2 middle = {0.0, 0.0};
            for (int c = 0; c < 3; c++) {
                middle.x += polygon[i].corner_m[corner[3 * k + c]].x / 3.0;
                middle.y += polygon[i].corner_m[corner[3 * k + c]].y / 3.0;
            }
            cr_expect(gradin_polygon_contains(polygon[i], middle), "%zu, %d", i, k);
            sum_m2 += triangle_m2(polygon[i].corner_m, &corner[3 * k]);
        }
        cr_expect_float_eq(sum_m2, gradin_polygon_area_m2(polygon[i]), 1e-12, "%zu", i);
    }
    cr_expect_eq(gradin_polygon_triangles(SQUARE, NULL, NULL), 0);
}
