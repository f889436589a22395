/* Solid angles against the closed form of a rectangle, and the cut of a plane with holes against
 * its area. */
#include "sightline/outlook/outlook.h"

#include <criterion/criterion.h>

#define NEAR(a, b, slack)                                                                          \
    cr_assert(fabs((a) - (b)) <= (slack), "%s = %.12f, not %.12f", #a, (double)(a), (double)(b))

static const gradin_vec3 north = {0.0, 1.0, 0.0}, origin = {0.0, 0.0, 0.0};

/* A rectangle of a by b seen square on over its corner at the distance d (A. Khadjavi, "Calculation
 * of solid angle subtended by rectangular apertures", J. Opt. Soc. Am. 58 (1968) 1417; from
 * memory): atan(ab/(d sqrt(a^2 + b^2 + d^2))). Odd in a and b, so sums of it give any rectangle. */
static double over_corner_sr(double a, double b, double d) {
    return atan(a * b / (d * sqrt(a * a + b * b + d * d)));
}

static double closed_form_sr(double x0, double x1, double z0, double z1, double d) {
    return over_corner_sr(x1, z1, d) - over_corner_sr(x0, z1, d) - over_corner_sr(x1, z0, d) +
           over_corner_sr(x0, z0, d);
}

static double upright_sr(double x0, double x1, double z0, double z1, double y, gradin_vec3 ahead) {
    const gradin_vec3 corner_m[4] = {{x0, y, z0}, {x1, y, z0}, {x1, y, z1}, {x0, y, z1}};
    return outlook_solid_angle_sr(origin, ahead, corner_m, 4);
}

Test(outlook_solid_angle, is_that_of_the_closed_form) {
    static const double of[][5] = {{0.0, 1.0, 0.0, 1.0, 1.0},
                                   {-0.5, 0.5, -0.5, 0.5, 2.0},
                                   {3.0, 4.5, 0.6, 8.8, 0.7},
                                   {-9.0, -8.0, -3.0, 1.0, 5.0},
                                   {-50.0, 70.0, -2.0, 90.0, 0.01}};
    for (int i = 0; i < 5; i++) {
        const double *p = of[i];
        NEAR(upright_sr(p[0], p[1], p[2], p[3], p[4], north),
             closed_form_sr(p[0], p[1], p[2], p[3], p[4]), 1e-12);
    }
}

/* Six alike faces of a cube fill the sphere: each 4 pi / 6 (derived). */
Test(outlook_solid_angle, of_a_cubes_face_from_its_middle) {
    NEAR(upright_sr(-1.0, 1.0, -1.0, 1.0, 1.0, north), 4.0 * GRADIN_PI / 6.0, 1e-12);
}

/* What lies behind the plane through the eye does not count: nothing of a pane behind, the right
 * half of one that stands square on beside the way the seat faces, three quarters of the half
 * sphere's quarter ... by closed form of the part that is left. */
Test(outlook_solid_angle, ends_at_the_plane_through_the_eye) {
    gradin_vec3 south = {0.0, -1.0, 0.0}, east = {1.0, 0.0, 0.0};
    NEAR(upright_sr(-1.0, 1.0, 0.0, 2.0, 1.0, south), 0.0, 1e-15);
    NEAR(upright_sr(-1.0, 3.0, 0.0, 2.0, 1.0, east), closed_form_sr(0.0, 3.0, 0.0, 2.0, 1.0),
         1e-12);
    /* facing 45 degrees off: the pane is cut along x = -1 */
    gradin_vec3 north_east = {sqrt(0.5), sqrt(0.5), 0.0};
    NEAR(upright_sr(-4.0, 2.0, -1.0, 2.0, 1.0, north_east),
         closed_form_sr(-1.0, 2.0, -1.0, 2.0, 1.0), 1e-12);
    /* one corner cut off leaves five */
    const gradin_vec3 level[4] = {
        {-1.0, -1.0, -1.0}, {3.0, -1.0, -1.0}, {3.0, 3.0, -1.0}, {-1.0, 3.0, -1.0}};
    const gradin_vec3 cut[5] = {{1.0, -1.0, -1.0},
                                {3.0, -1.0, -1.0},
                                {3.0, 3.0, -1.0},
                                {-1.0, 3.0, -1.0},
                                {-1.0, 1.0, -1.0}};
    NEAR(outlook_solid_angle_sr(origin, north_east, level, 4),
         outlook_solid_angle_sr(origin, (gradin_vec3){0.0, 0.0, -1.0}, cut, 5), 1e-12);
}

static double strips_m2(gradin_polygon outline, const outlook_quad *hole, int n_hole) {
    gradin_arena *arena = gradin_arena_create();
    outlook_strip *strip;
    int n;
    double m2 = 0.0;
    cr_assert(outlook_cut(arena, outline, hole, n_hole, &strip, &n));
    for (int i = 0; i < n; i++)
        m2 += 0.5 * (strip[i].x[1] - strip[i].x[0]) *
              (strip[i].high[0] - strip[i].low[0] + strip[i].high[1] - strip[i].low[1]);
    gradin_arena_destroy(arena);
    return m2;
}

static outlook_quad rectangle(double x0, double y0, double x1, double y1) {
    return (outlook_quad){{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}};
}

/* Areas by hand: an L of 10 x 10 less 5 x 5; holes side by side, over each other, one beyond the
 * edge, one turned. */
Test(outlook_cut, leaves_the_outline_less_its_holes) {
    const gradin_vec2 ell[6] = {{0.0, 0.0}, {10.0, 0.0}, {10.0, 5.0},
                                {5.0, 5.0}, {5.0, 10.0}, {0.0, 10.0}};
    gradin_polygon outline = {ell, 6};
    NEAR(strips_m2(outline, NULL, 0), 75.0, 1e-9);
    outlook_quad hole[5] = {rectangle(1.0, 1.0, 2.0, 3.0), rectangle(2.0, 1.0, 3.0, 2.0),
                            rectangle(1.0, 6.0, 3.0, 8.0), rectangle(2.0, 7.0, 4.0, 9.0),
                            rectangle(8.0, 4.0, 12.0, 6.0)};
    NEAR(strips_m2(outline, hole, 2), 75.0 - 3.0, 1e-9);
    NEAR(strips_m2(outline, hole, 4), 75.0 - 3.0 - 7.0, 1e-9);
    NEAR(strips_m2(outline, hole, 5), 75.0 - 3.0 - 7.0 - 2.0, 1e-9);
    outlook_quad diamond = {{{7.0, 1.0}, {8.0, 2.0}, {7.0, 3.0}, {6.0, 2.0}}};
    NEAR(strips_m2(outline, &diamond, 1), 75.0 - 2.0, 1e-9);
}
