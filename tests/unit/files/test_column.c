/* A round column is read as a prism that hides what a round one would. */
#include "small_hall.h"

#include "gradin/geometry.h"

#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

#define RADIUS_M 0.3
static const gradin_vec2 middle = {6.0, 7.0};

static const change column = {
    "venue", "facade:\n",
    "  solids:\n"
    "    - {name: column, kind: column, centre: [6, 7], diameter: 0.6, bottom: 0, top: 6}\n"
    "facade:\n"};

static gradin_polygon outline(const hall *h) {
    for (int i = 0; i < h->model.n_solid; i++)
        if (strcmp(h->model.solid[i].name, "column") == 0) return h->model.solid[i].polygon;
    cr_assert_fail("no column: %s", hall_first(h));
    return (gradin_polygon){0};
}

/* Breadth as seen from far away in the direction. */
static double breadth(gradin_polygon p, double bearing_deg) {
    gradin_vec2 unit = gradin_bearing_unit(bearing_deg);
    double low = INFINITY, high = -INFINITY;
    for (int i = 0; i < p.n_corner; i++) {
        double at = p.corner_m[i].x * unit.x + p.corner_m[i].y * unit.y;
        low = fmin(low, at);
        high = fmax(high, at);
    }
    return high - low;
}

Test(column, its_breadth_is_the_diameter_from_every_side) {
    hall *h = hall_open(column, (change){0});
    gradin_polygon p = outline(h);
    double sum = 0.0, least = INFINITY, most = 0.0;
    for (int i = 0; i < 3600; i++) {
        double b = breadth(p, 0.1 * i) / (2.0 * RADIUS_M);
        sum += b;
        least = fmin(least, b);
        most = fmax(most, b);
    }
    cr_expect(fabs(sum / 3600.0 - 1.0) < 2e-5, "mean %.6f", sum / 3600.0);
    cr_expect(least > 1.0 - 0.0033 && most < 1.0 + 0.0017, "%.5f to %.5f", least, most);
    hall_close(h);
}

/* The true column: a capsule whose ends are far above and below, so that rays meet its cylinder. */
static gradin_shape cylinder(void) {
    return gradin_capsule((gradin_vec3){middle.x, middle.y, -100.0},
                          (gradin_vec3){middle.x, middle.y, 100.0}, RADIUS_M);
}

/* Rays from an eye 4 m off to points along a line 3 m behind the column, 1 mm apart. */
static int hidden_mm(gradin_shape shape, double bearing_deg) {
    gradin_vec2 to = gradin_bearing_unit(bearing_deg),
                along = gradin_bearing_unit(bearing_deg + 90);
    gradin_vec3 eye = {middle.x - 4.0 * to.x, middle.y - 4.0 * to.y, 2.0};
    int n = 0;
    for (int i = -1000; i <= 1000; i++) {
        double aside = 0.001 * i, t;
        gradin_vec3 point = {middle.x + 3.0 * to.x + aside * along.x,
                             middle.y + 3.0 * to.y + aside * along.y, 1.0};
        n += gradin_shape_hit(&shape, eye, point, &t);
    }
    return n;
}

/* Tangents from the eye: the shadow's half breadth is 7 m tan asin(r / 4 m), 1,053 mm in all. */
Test(column, it_hides_what_a_cylinder_hides) {
    hall *h = hall_open(column, (change){0});
    gradin_shape prism = gradin_prism(outline(h), 0.0, 6.0);
    double tangents_mm = 2.0 * 7000.0 * tan(asin(RADIUS_M / 4.0)), sum = 0.0;
    for (int i = 0; i < 30; i++) {
        int exact = hidden_mm(cylinder(), 11.0 * i), ours = hidden_mm(prism, 11.0 * i);
        cr_expect(fabs(exact - tangents_mm) <= 2.0, "%d mm by the cylinder", exact);
        cr_expect(abs(ours - exact) <= 6, "%d mm where a cylinder hides %d", ours, exact);
        sum += ours - exact;
    }
    cr_expect(fabs(sum / 30.0) < 1.0, "%.2f mm on average", sum / 30.0);
    hall_close(h);
}
