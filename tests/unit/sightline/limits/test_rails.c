/* Rails and overhangs against similar triangles, and against what the real kernel hides. */
#include "unit/sightline/hall.h"

#include <criterion/criterion.h>

static hall h;
static gradin_vec3 foot[2];
static gradin_rail rail;

#define NEAR(a, b, slack)                                                                          \
    cr_assert(fabs((a) - (b)) <= (slack), "%s = %.9f, not %.9f", #a, (double)(a), (double)(b))

/* A rail across the view at y, 0.9 m before the eye at (0, y + x). */
static void put_rail(double y, double foot_z, double thickness_m) {
    foot[0] = (gradin_vec3){-20.0, y, foot_z};
    foot[1] = (gradin_vec3){20.0, y, foot_z};
    rail = (gradin_rail){.name = "rail",
                         .point_m = foot,
                         .n_point = 2,
                         .height_m = 0.5,
                         .thickness_m = thickness_m,
                         .has_top = true};
    h.model.rail = &rail;
    h.model.n_rail = 1;
}

static gradin_rail_limits compute(gradin_arena *arena) {
    gradin_rail_limits limits;
    cr_assert_eq(gradin_rail_limits_compute(arena, &h.model, &limits, NULL), GRADIN_OK);
    return limits;
}

/* e - (e - h) D/x, the lowest height seen over a rail (derived, similar triangles): a focus whose
 * near edge lies there is whole up to just that rail. */
Test(rail_limits, the_lowest_seen_over_a_rail_turned_round) {
    static const double scene[][5] = {{4.2, 3.8, 0.9, 12.0, -1.1333},
                                      {5.12, 4.66, 0.7, 15.0, -4.7371},
                                      {1.2, 1.1, 0.9, 8.0, -0.1333 + 0.4444},
                                      {1.2, 0.8, 0.9, 8.0, -2.3556}};
    for (int k = 0; k < 4; k++) {
        const double *s = scene[k];
        gradin_arena *arena = gradin_arena_create();
        hall_start(&h);
        hall_focus(&h, 0.0, -4.0, 2.0, 8.0, s[4], 1.0);
        hall_seat(&h, 0.0, s[3], s[0]);
        put_rail(s[3] - s[2], 0.0, 0.0);
        gradin_rail_limits limits = compute(arena);
        cr_assert_eq(limits.rail[0], 0);
        NEAR(limits.whole_m[0], s[1], 0.0001);
        /* the far edge is 8 m farther */
        NEAR(limits.lost_m[0], s[0] - (s[0] - s[4]) * s[2] / (s[3] + 8.0), 1e-9);
        gradin_arena_destroy(arena);
    }
}

static double hidden(double top_m, double foot_z, double thickness_m, gradin_arena *arena) {
    h.model.scene.n_occluder = 0;
    hall_occluder(&h,
                  gradin_box((gradin_vec3){0.0, foot[0].y, foot_z + 0.5 * top_m}, 90.0, 20.0,
                             0.5 * thickness_m, 0.5 * top_m),
                  GRADIN_CAUSE_RAIL, 1);
    gradin_sight s = hall_compute(&h, arena, 4096, false);
    return s.hidden[GRADIN_CAUSE_RAIL];
}

/* A panel of that height hides nothing, one slightly higher hides something; at the upper limit all
 * is hidden, slightly below it is not. Samples are up to half a cell inside the edge: 5 mm. */
Test(rail_limits, the_kernel_agrees) {
    for (int k = 0; k < 2; k++) {
        double thickness = k ? 0.10 : 0.04;
        gradin_arena *arena = gradin_arena_create();
        hall_start(&h);
        hall_focus(&h, 2.0, -4.0, 12.0, 8.0, 0.0, 1.0);
        hall_seat(&h, 0.0, 12.0, 4.2);
        put_rail(11.1, 3.0, thickness);
        gradin_rail_limits limits = compute(arena);
        double whole = limits.whole_m[0], lost = limits.lost_m[0];
        NEAR(hidden(whole - 1e-6, 3.0, thickness, arena), 0.0, 0.0);
        cr_assert_gt(hidden(whole + 0.005, 3.0, thickness, arena), 0.0);
        cr_assert_lt(hidden(lost - 0.005, 3.0, thickness, arena), 1.0);
        NEAR(hidden(lost + 1e-6, 3.0, thickness, arena), 1.0, 1e-12);
        gradin_arena_destroy(arena);
    }
}

Test(rail_limits, the_rail_with_least_to_spare_counts) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, -4.0, 4.0, 8.0, 0.0, 1.0);
    hall_seat(&h, 0.0, 12.0, 4.2);
    put_rail(11.1, 3.0, 0.0);
    gradin_rail two[3] = {rail, rail, rail};
    gradin_vec3 aside[2] = {{0.5, 8.0, 0.0}, {0.5, 11.0, 0.0}}, above[2] = {{-9, 6, 7}, {9, 6, 7}};
    two[1].point_m = aside; /* before a part of the focus: it can never hide all */
    h.model.rail = two + 1; /* alone, to find the height that leaves it 0.1 m */
    two[1].height_m = 0.1;
    two[1].height_m = compute(arena).whole_m[0] - 0.1;
    two[2].point_m = above; /* the view passes under it */
    two[2].height_m = 9.0;
    h.model.rail = two;
    h.model.n_rail = 3;
    gradin_rail_limits limits = compute(arena);
    cr_assert_eq(limits.rail[0], 1);
    cr_assert(isnan(limits.lost_m[0]));
    h.model.n_rail = 1;
    two[0].has_top = false;
    limits = compute(arena);
    cr_assert_eq(limits.rail[0], -1);
    cr_assert(isnan(limits.whole_m[0]));
    gradin_arena_destroy(arena);
}

static gradin_rail panel(int name, gradin_vec3 *foot_m, double y, double height_m) {
    foot_m[0] = (gradin_vec3){-20.0, y, 3.0};
    foot_m[1] = (gradin_vec3){20.0, y, 3.0};
    gradin_vec3 middle = {0.0, y, 3.0 + 0.5 * height_m};
    hall_occluder(&h, gradin_box(middle, 90.0, 20.0, 0.0005, 0.5 * height_m), GRADIN_CAUSE_RAIL,
                  name);
    return (gradin_rail){.name = h.model.occluder_name[name],
                         .point_m = foot_m,
                         .n_point = 2,
                         .height_m = height_m,
                         .has_top = true};
}

/* Eye 4.2 m up, focus from 12 to 20 m off, level. A ray to D m passes the near rail, 0.9 m off, at
 * 4.2 - 3.78/D and the far one, 1.5 m off, at 4.2 - 6.3/D (similar triangles). Near top 3.95: D up
 * to 15.12 m hidden, 39 % of the focus. Far top 3.70: D up to 12.6 m, 7.5 %, all behind the near
 * rail, so it meets no ray first; and the near one alone away gives back 31.5 %, and may be as high
 * as 4.2 - 3.78/12.6 = 3.90 m. */
Test(rail_limits, what_a_rail_hides_with_the_others_as_they_are) {
    gradin_arena *arena = gradin_arena_create();
    gradin_vec3 feet[2][2];
    hall_start(&h);
    hall_focus(&h, 0.0, -4.0, 4.0, 8.0, 0.0, 1.0);
    hall_seat(&h, 0.0, 12.0, 4.2);
    gradin_rail rails[2] = {panel(1, feet[0], 10.5, 0.70), panel(2, feet[1], 11.1, 0.95)};
    h.model.rail = rails;
    h.model.n_rail = 2;
    gradin_rail_limits limits = compute(arena);
    cr_assert_eq(limits.n_line, 1);
    cr_assert(limits.line[0].seat == 0 && limits.line[0].rail == 1);
    NEAR(limits.line[0].hides, 0.39, 0.003);
    NEAR(limits.line[0].gives_back, 0.315, 0.004);
    NEAR(limits.line[0].whole_m, 0.90, 0.003);
    cr_assert_eq(limits.rail[0], 1);
    NEAR(limits.whole_m[0], limits.line[0].whole_m, 0.0);
    /* the near one lower than all rays */
    h.model.scene.n_occluder = 0;
    rails[0] = panel(1, feet[0], 10.5, 0.78);
    rails[1] = panel(2, feet[1], 11.1, 0.60);
    limits = compute(arena);
    cr_assert_eq(limits.n_line, 1);
    cr_assert_eq(limits.rail[0], 0);
    NEAR(limits.line[0].hides, (15.0 - 12.0) / 8.0, 0.003);
    NEAR(limits.line[0].gives_back, limits.line[0].hides, 0.0);
    NEAR(limits.line[0].whole_m, 0.675, 0.001);
    gradin_arena_destroy(arena);
}

static int block[HALL_SEATS], row[HALL_SEATS];
static gradin_vec2 header_corner[4];
static gradin_solid header;

static void put_header(double at_m, double trim_m, gradin_solid_kind kind) {
    gradin_rectangle_corners((gradin_vec2){0.0, at_m}, 90.0, 10.0, 0.4, header_corner);
    bool is_arch = kind == GRADIN_SOLID_ARCH;
    header = (gradin_solid){.name = "header",
                            .kind = kind,
                            .polygon = {header_corner, 4},
                            .bottom_m = is_arch ? trim_m : 0.0,
                            .top_m = is_arch ? 20.0 : trim_m};
    h.model.solid = &header;
    h.model.n_solid = 1;
    h.model.seats.block = block;
    h.model.seats.row = row;
}

/* e + (s - e) D/x, the highest height seen under a soffit (derived, similar triangles). */
Test(overhangs, the_highest_seen_under_a_soffit) {
    static const double scene[][5] = {
        {1.2, 3.0, 6.0, 15.0, 5.7}, {1.2, 2.8, 8.0, 20.0, 5.2}, {2.0, 3.5, 5.0, 18.0, 7.4}};
    for (int k = 0; k < 6; k++) {
        const double *s = scene[k / 2];
        gradin_top top = k % 2 ? GRADIN_TOP_SET : GRADIN_TOP_ARCH;
        gradin_solid_kind kind = k % 2 ? GRADIN_SOLID_SET : GRADIN_SOLID_ARCH;
        gradin_overhangs o;
        gradin_arena *arena = gradin_arena_create();
        hall_start(&h);
        hall_focus(&h, 0.0, -4.0, 4.0, 4.0, 0.0, 1.0);
        hall_seat(&h, 0.0, 20.0, s[0]);
        /* the soffit reaches from its edge back over the seat, 40 m wide */
        hall_solid(&h, 0.0, 20.0 - s[2] + 5.0, 40.0, 10.0, s[1], s[1] + 0.3, GRADIN_CAUSE_STRUCTURE,
                   2);
        put_header(20.0 - s[3], s[4] + 1.0, kind);
        cr_assert_eq(gradin_overhangs_compute(arena, &h.model, &o, NULL), GRADIN_OK);
        cr_assert_eq(o.n_row, 1);
        cr_assert(o.has[top] && !o.has[!top]);
        cr_assert_eq(o.row[0].n_lost[top], 1);
        NEAR(o.row[0].seen_m[top], s[4], 1e-6);
        cr_assert_eq(o.row[0].occluder[top], 0);
        cr_assert(isnan(o.row[0].seen_m[!top]));
        put_header(20.0 - s[3], s[4] - 0.01, kind);
        cr_assert_eq(gradin_overhangs_compute(arena, &h.model, &o, NULL), GRADIN_OK);
        cr_assert_eq(o.row[0].n_lost[top], 0);
        NEAR(o.row[0].seen_m[top], s[4] - 0.01, 1e-12);
        gradin_arena_destroy(arena);
    }
}

Test(overhangs, what_stands_below_the_eye_is_none) {
    gradin_overhangs o;
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, -4.0, 4.0, 4.0, 0.0, 1.0);
    hall_seat(&h, 0.0, 20.0, 1.2);
    hall_solid(&h, 0.0, 15.0, 40.0, 1.0, 0.0, 9.0, GRADIN_CAUSE_STRUCTURE, 2); /* a wall */
    put_header(5.0, 6.0, GRADIN_SOLID_ARCH);
    cr_assert_eq(gradin_overhangs_compute(arena, &h.model, &o, NULL), GRADIN_OK);
    cr_assert_eq(o.row[0].n_lost[GRADIN_TOP_ARCH], 0);
    gradin_arena_destroy(arena);
}
