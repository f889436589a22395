/* What a rail without a foot stands on, and the shape of a panel on a slope. */
#include "small_hall.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static const char *const stated =
    "  - {name: back, kind: bar, path: [[4.1, 2.05], [7.9, 2.05]],\n     height: 1.1}\n";

static hall *open_with(const char *solids, const char *rail) {
    return hall_open((change){"venue", "facade:\n", solids}, (change){"layout", stated, rail});
}

static const gradin_rail *rail_of(const hall *h, const char *name) {
    cr_assert_eq(h->status, GRADIN_OK, "%s", hall_first(h));
    for (int i = 0; i < h->model.n_rail; i++)
        if (strcmp(h->model.rail[i].name, name) == 0) return &h->model.rail[i];
    cr_assert_fail("no rail %s", name);
    return NULL;
}

static const char *const balcony =
    "  solids:\n    - {name: balcony, kind: slab, bottom: 3, top: 3.2,\n"
    "       polygon: [[0, 9], [2, 9], [2, 11], [0, 11]]}\nfacade:\n";

/* Over it, and 0.2 m before its edge: both could be its own parapet. */
Test(rail_foot, a_balcony_s_rail_does_not_stand_on_the_floor_unasked) {
    static const char *const path[] = {"[[1, 9.5], [1, 10.5]]", "[[2.2, 9.5], [2.2, 10.5]]"};
    for (int i = 0; i < 2; i++) {
        char rail[128];
        snprintf(rail, sizeof rail, "  - {name: r, kind: bar, path: %s, height: 1.1}\n", path[i]);
        hall *h = open_with(balcony, rail);
        cr_expect_eq(h->status, GRADIN_BAD_INPUT, "path %s", path[i]);
        cr_expect_str_eq(hall_first(h),
                         "layout.yaml:24:5: rails[1]: rail r could stand at 0.00 m or on balcony; "
                         "give its foot, or the level of the seats that it guards");
        hall_close(h);
    }
}

static void expect_foot(const char *solids, const char *rail, double foot_m) {
    hall *h = open_with(solids, rail);
    cr_expect_eq(rail_of(h, "r")->point_m[0].z, foot_m, "%s: %.3f", rail,
                 rail_of(h, "r")->point_m[0].z);
    hall_close(h);
}

Test(rail_foot, stands_on_what_rests_on_the_floor) {
    static const char *const stack =
        "  solids:\n    - {name: base, kind: slab, bottom: 0, top: 0.4,\n"
        "       polygon: [[0, 9], [2, 9], [2, 11], [0, 11]]}\n"
        "    - {name: plinth, kind: set, bottom: 0.4, top: 0.9,\n"
        "       polygon: [[0, 9], [1, 9], [1, 11], [0, 11]]}\nfacade:\n";
    expect_foot(stack, "  - {name: r, kind: bar, path: [[1.5, 9.5], [1.5, 10.5]], height: 1.1}\n",
                0.4);
    expect_foot(stack, "  - {name: r, kind: bar, path: [[0.5, 9.5], [0.5, 10.5]], height: 1.1}\n",
                0.9);
    expect_foot(stack, "  - {name: r, kind: bar, path: [[2.2, 9.5], [2.2, 10.5]], height: 1.1}\n",
                0.0);
    expect_foot(balcony,
                "  - {name: r, kind: bar, path: [[1, 9.5], [1, 10.5]], height: 1.1, foot: 3.2}\n",
                3.2);
}

/* 0.2 m off each side of a set piece that stands free: near enough to stand on it, so asked for. */
Test(rail_foot, a_surface_is_near_on_every_side) {
    static const char *const block =
        "  solids:\n    - {name: plinth, kind: slab, bottom: 3, top: 3.2,\n"
        "       polygon: [[1, 9], [2, 9], [2, 10], [1, 10]]}\nfacade:\n";
    static const char *const near[] = {"[[1.4, 8.8], [1.6, 8.8]]", "[[1.4, 10.2], [1.6, 10.2]]",
                                       "[[0.8, 9.4], [0.8, 9.6]]", "[[2.2, 9.4], [2.2, 9.6]]"};
    static const char *const off[] = {"[[1.4, 8.5], [1.6, 8.5]]", "[[1.4, 10.5], [1.6, 10.5]]",
                                      "[[0.5, 9.4], [0.5, 9.6]]", "[[2.5, 9.4], [2.5, 9.6]]"};
    for (int i = 0; i < 4; i++) {
        char rail[128];
        snprintf(rail, sizeof rail, "  - {name: r, kind: bar, path: %s, height: 1.1}\n", near[i]);
        hall *h = open_with(block, rail);
        cr_expect_eq(h->status, GRADIN_BAD_INPUT, "path %s", near[i]);
        hall_close(h);
        snprintf(rail, sizeof rail, "  - {name: r, kind: bar, path: %s, height: 1.1}\n", off[i]);
        expect_foot(block, rail, 0.0);
    }
}

static bool is_hidden(const hall *h, gradin_vec3 eye, gradin_vec3 point) {
    double t;
    for (int k = 0; k < h->model.scene.n_occluder; k++) {
        const gradin_occluder *o = &h->model.scene.occluder[k];
        if (strcmp(h->model.occluder_name[o->name], "r") == 0 &&
            gradin_shape_hit(&o->shape, eye, point, &t))
            return true;
    }
    return false;
}

/* The panel stands in the plane x = 6 between two treads: a ray is hidden where it meets that plane
 * between the sloped foot and 1 m above it (similar triangles). */
Test(rail_foot, a_panel_on_a_slope_is_sheared) {
    hall *h = open_with("facade:\n", "  - {name: r, kind: solid, path: [[6, 5.5], [6, 2.5]],\n"
                                     "     height: 1.0, thickness: 0.02}\n");
    const gradin_vec3 *foot = rail_of(h, "r")->point_m;
    cr_assert_gt(foot[1].z, foot[0].z + 0.15, "%.2f to %.2f", foot[0].z, foot[1].z);
    int n_hidden = 0, n_clear = 0;
    for (int i = 0; i <= 40; i++)
        for (int k = 0; k <= 60; k++) {
            gradin_vec3 eye = {4.0, 4.0, 1.5}, point = {8.0, 1.0 + 0.15 * i, -0.5 + 0.06 * k};
            double y = 0.5 * (eye.y + point.y), z = 0.5 * (eye.z + point.z);
            double share = (5.5 - y) / 3.0, above = z - foot[0].z - share * (foot[1].z - foot[0].z);
            double off = fmin(fabs(above), fabs(above - 1.0));
            if (off < 0.02 || fabs(share) < 0.02 || fabs(share - 1.0) < 0.02) continue;
            bool is_behind = share > 0.0 && share < 1.0 && above > 0.0 && above < 1.0;
            cr_assert_eq(is_hidden(h, eye, point), is_behind, "y %.2f z %.2f", y, z);
            n_hidden += is_behind;
            n_clear += !is_behind;
        }
    cr_assert(n_hidden > 300 && n_clear > 300, "%d %d", n_hidden, n_clear);
    hall_close(h);
}
