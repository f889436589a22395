/* Walls, roofs and rooflights as a venue's file states them, and what is left open of the envelope.
 */
#include "small_hall.h"

#include <criterion/criterion.h>
#include <string.h>

/* The small hall: 12 x 12 m, 8 m high, 24 m2 of glass in the west, a door of 2 m2 in the south. */
static const double plan_m2 = 144.0, walls_m2 = 4.0 * 12.0 * 8.0;

static double area_m2(const gradin_element *e) {
    return e->width_m * e->height_m * (1.0 - e->taken);
}

/* Of all elements of an entry; *n gets their number. */
static double entry_m2(const gradin_model *m, const char *entry, int *n) {
    double sum_m2 = 0.0;
    *n = 0;
    for (int i = 0; i < m->n_element; i++)
        if (strcmp(m->element[i].entry, entry) == 0) {
            sum_m2 += area_m2(&m->element[i]);
            (*n)++;
        }
    return sum_m2;
}

static hall *open_with(const char *keys, change second) {
    hall *h = hall_open((change){"venue", "  doors:\n", keys}, second);
    cr_assert(h->status == GRADIN_OK, "%s", hall_first(h));
    return h;
}

#define GENERIC                                                                                    \
    (change) {                                                                                     \
        "venue", "  shades:\n", "    - {name: slab, generic: concrete_150}\n  shades:\n"           \
    }

Test(envelope, unstated_it_is_open) {
    hall *h = hall_open((change){0}, (change){0});
    cr_assert_eq(h->status, GRADIN_OK);
    cr_expect_float_eq(h->model.open_roof_m2, plan_m2, 1e-9);
    cr_expect_float_eq(h->model.open_wall_m2, walls_m2 - 26.0, 1e-9);
    hall_close(h);
}

Test(envelope, walls_and_roof_close_it) {
    int n_wall, n_roof;
    hall *h = open_with("  walls:\n    - {name: walls, buildup: slab}\n  roofs:\n"
                        "    - {name: roof, buildup: slab}\n  doors:\n",
                        GENERIC);
    const gradin_model *m = &h->model;
    cr_expect_float_eq(entry_m2(m, "walls", &n_wall), walls_m2 - 26.0, 1e-9);
    cr_expect_eq(n_wall, 4);
    cr_expect_float_eq(entry_m2(m, "roof", &n_roof), plan_m2, 1e-9);
    cr_expect_eq(n_roof, 1);
    cr_expect_float_eq(m->open_roof_m2, 0.0, 1e-9);
    cr_expect_float_eq(m->open_wall_m2, 0.0, 1e-9);
    cr_expect_eq(m->surface[GRADIN_SURFACE_CEILING].area_m2, 0.0);
    cr_expect_float_eq(m->surface[GRADIN_SURFACE_WALL].area_m2, 0.0, 1e-9);
    const gradin_element *roof = &m->element[m->n_element - 1];
    cr_expect_eq(gradin_element_frame(roof).outward.z, 1.0);
    cr_expect_eq(roof->absorption[0], 0.3, "the ceiling's");
    cr_expect_eq(m->element[m->n_element - 2].absorption[0], 0.2, "the walls'");
    hall_close(h);
}

/* Five corners of the plan and one that turns in: three pieces. */
Test(envelope, a_roof_follows_a_plan_with_wings) {
    int n;
    change plan = {"venue", "[12, 12], [0, 12]", "[12, 11], [9, 11], [9, 12], [0, 12]"};
    hall *h =
        open_with("  walls:\n    - {name: walls}\n  roofs:\n    - {name: roof}\n  doors:\n", plan);
    cr_expect_float_eq(entry_m2(&h->model, "roof", &n), plan_m2 - 3.0, 1e-9);
    cr_expect_eq(n, 3);
    cr_expect_float_eq(entry_m2(&h->model, "walls", &n), walls_m2 - 26.0, 1e-9);
    cr_expect_eq(n, 6);
    cr_expect_float_eq(h->model.open_roof_m2, plan_m2 - 3.0, 1e-9, "no build-up: still open");
    hall_close(h);
}

Test(envelope, a_rooflight_takes_from_the_roof) {
    int n;
    change light = {"venue", "  glazing:\n",
                    "  glazing:\n    - {name: light, start: [3, 3], bearing_deg: 0, count: 2,\n"
                    "       width: 1.5, height: 2, sill: 8, tilt_deg: 90, buildup: pane}\n"};
    hall *h = open_with("  roofs:\n    - {name: roof}\n  doors:\n", light);
    cr_expect_float_eq(entry_m2(&h->model, "light", &n), 6.0, 1e-12);
    cr_expect_float_eq(entry_m2(&h->model, "roof", &n), plan_m2 - 6.0, 1e-9);
    cr_expect_float_eq(h->model.open_roof_m2, plan_m2 - 6.0, 1e-9);
    cr_expect_float_eq(h->model.surface[GRADIN_SURFACE_WALL].area_m2, walls_m2 - 26.0, 1e-9);
    gradin_vec3 far_m = gradin_element_point_m(&h->model.element[0], 1.5, 2.0);
    cr_expect_float_eq(far_m.x, 5.0, 1e-12, "to the right of its bearing");
    cr_expect_float_eq(far_m.y, 4.5, 1e-12);
    cr_expect_float_eq(far_m.z, 8.0, 1e-12);
    hall_close(h);
}

Test(envelope, a_named_wall_and_the_rest) {
    int n;
    hall *h = open_with("  walls:\n    - {name: all, buildup: slab}\n"
                        "    - {name: west wall, from: [0, 10], to: [0, 1], buildup: slab,\n"
                        "       absorption: [0.9, 0.8, 0.7, 0.6, 0.5, 0.4]}\n  doors:\n",
                        GENERIC);
    cr_expect_float_eq(entry_m2(&h->model, "west wall", &n), 9.0 * 8.0 - 24.0, 1e-9);
    cr_expect_eq(h->model.element[h->model.n_element - 1].absorption[20], 0.4);
    cr_expect_float_eq(entry_m2(&h->model, "all", &n), 39.0 * 8.0 - 2.0, 1e-9);
    cr_expect_eq(n, 5, "the west wall leaves two pieces");
    cr_expect_float_eq(h->model.open_wall_m2, 0.0, 1e-9);
    hall_close(h);
}

/* Leaning glass: its frame, and its place in the room's account of surfaces. */
Test(envelope, tilted_glass_leans_in) {
    change lean = {"venue", "sill: 1, buildup: pane", "sill: 1, tilt_deg: 30, buildup: pane"};
    hall *h = open_with("  doors:\n", lean);
    gradin_frame f = gradin_element_frame(&h->model.element[0]);
    cr_expect_float_eq(f.outward.x, -sqrt(0.75), 1e-12);
    cr_expect_float_eq(f.outward.z, 0.5, 1e-12);
    cr_expect_float_eq(f.up.x, 0.5, 1e-12);
    cr_expect_float_eq(f.up.z, sqrt(0.75), 1e-12);
    cr_expect(!gradin_element_is_overhead(&h->model.element[0]));
    hall_close(h);
}
