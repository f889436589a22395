/* The C-value on plans worked by hand, one for each form of hall and each thing to see over. The
 * plane formula and the scale are those of the Bath worksheet (P. Shepherd, 2012); distances by
 * Pythagoras from the plans in the comments. */
#include "support/formulas.h"
#include "unit/sightline/hall.h"

#include <criterion/criterion.h>

static hall h;

#define NEAR(a, b, slack)                                                                          \
    cr_assert(fabs((a) - (b)) <= (slack), "%s = %.9f, not %.9f", #a, (a), (double)(b))

static int seat_facing(double x, double y, double eye_z_m, double facing_deg) {
    int i = hall_seat(&h, x, y, eye_z_m);
    h.facing_deg[i] = gradin_wrap_360_deg(facing_deg);
    return i;
}

static gradin_sight compute(gradin_arena *arena) {
    return hall_compute(&h, arena, 16, false);
}

static void expect_case(const gradin_sight *s, int rear, gradin_c_case c_case, int front, double d,
                        double n, double r, double t) {
    cr_assert_eq(s->c_case[rear], c_case, "case %d, not %d", s->c_case[rear], c_case);
    cr_assert_eq(s->front_seat[rear], front);
    NEAR(s->d_m[rear], d, 1e-9);
    NEAR(s->n_m[rear], n, 1e-9);
    NEAR(s->r_m[rear], r, 1e-9);
    NEAR(s->t_m[rear], t, 1e-9);
    NEAR(s->c_m[rear], d * (n + r) / (d + t) - r, 1e-9);
}

/* A thrust 6 wide and 8 deep, centre (0, 0), 0.9 above the floor. Rows at its side look across it
 * at its long edge x = 3, rows at its end at y = -4. */
Test(c_forms, thrust_each_bank_looks_at_its_own_edge) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, 0.0, 6.0, 8.0, 0.9, 1.0);
    int side = seat_facing(5.0, 0.0, 1.3, 270.0), side_rear = seat_facing(5.9, 0.0, 1.6, 270.0);
    int end = seat_facing(0.0, -6.5, 1.2, 0.0), end_rear = seat_facing(0.0, -7.4, 1.45, 0.0);
    gradin_sight s = compute(arena);
    expect_case(&s, side_rear, GRADIN_C_ROW_IN_FRONT, side, 2.0, 0.3, 0.4, 0.9);
    expect_case(&s, end_rear, GRADIN_C_ROW_IN_FRONT, end, 2.5, 0.25, 0.3, 0.9);
    gradin_arena_destroy(arena);
}

/* In the round: a stage 4 by 4, curved rows of radius 6 and 7 about its centre. On the bearing 45
 * the plane of view meets the corner, 2 sqrt 2 from the centre. */
Test(c_forms, curved_rows_in_the_round_look_along_their_radius) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, 0.0, 4.0, 4.0, 0.0, 1.0);
    double at_deg[] = {0.0, 45.0, 135.0, 270.0};
    double edge_m[] = {2.0, 2.0 * sqrt(2.0), 2.0 * sqrt(2.0), 2.0};
    for (int k = 0; k < 4; k++) {
        gradin_vec2 out = gradin_bearing_unit(at_deg[k]);
        seat_facing(6.0 * out.x, 6.0 * out.y, 1.2, at_deg[k] + 180.0);
        seat_facing(7.0 * out.x, 7.0 * out.y, 1.5, at_deg[k] + 180.0);
    }
    gradin_sight s = compute(arena);
    for (int k = 0; k < 4; k++)
        expect_case(&s, 2 * k + 1, GRADIN_C_ROW_IN_FRONT, 2 * k, 6.0 - edge_m[k], 0.3, 1.2, 1.0);
    gradin_arena_destroy(arena);
}

/* Traverse: a strip 12 by 3 between two banks that face each other; nobody beyond the strip counts,
 * and each bank has its own near edge. */
Test(c_forms, traverse_banks_face_each_other_over_their_near_edges) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, 0.0, 12.0, 3.0, 0.2, 1.0);
    int north = seat_facing(0.0, 3.5, 1.2, 180.0), north_rear = seat_facing(0.0, 4.4, 1.5, 180.0);
    int south = seat_facing(0.0, -3.5, 1.2, 0.0), south_rear = seat_facing(0.0, -4.4, 1.6, 0.0);
    gradin_sight s = compute(arena);
    expect_case(&s, north_rear, GRADIN_C_ROW_IN_FRONT, north, 2.0, 0.3, 1.0, 0.9);
    expect_case(&s, south_rear, GRADIN_C_ROW_IN_FRONT, south, 2.0, 0.4, 1.0, 0.9);
    cr_assert_eq(s.c_case[north], GRADIN_C_NONE);
    gradin_arena_destroy(arena);
}

/* Rows turned by 30 degrees, seat straight behind seat along the facing, stage corner seen aslant:
 * T is the row depth over the cosine of the angle between the view and the facing. */
Test(c_forms, angled_rows_have_their_depth_along_the_view) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, 0.0, 2.0, 2.0, 0.0, 1.0);
    gradin_vec2 face = gradin_bearing_unit(210.0), side = gradin_bearing_unit(300.0);
    int rear = seat_facing(0.0, 10.0, 2.0, 210.0);
    /* 30 degrees off its facing the rear seat looks due south: 0.9 m of row, 0.9/cos 30 of view */
    double t = 0.9 / cos(GRADIN_PI / 6.0), across = -0.9 * tan(GRADIN_PI / 6.0);
    int front = seat_facing(0.9 * face.x + across * side.x, 10.0 + 0.9 * face.y + across * side.y,
                            1.7, 210.0);
    NEAR(h.eye_m[front].x, 0.0, 1e-12);
    gradin_sight s = compute(arena);
    expect_case(&s, rear, GRADIN_C_ROW_IN_FRONT, front, 9.0 - t, 0.3, 1.7, t);
    gradin_arena_destroy(arena);
}

/* A cross-aisle of 1.2 m behind a row 0.9 deep: the next eye is 2.1 m back. */
Test(c_forms, across_an_aisle) {
    for (int stated = 0, sheet = 0; stated < 2; stated++) {
        gradin_arena *arena = gradin_arena_create();
        hall_start(&h);
        hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 1.0);
        double t = stated ? 1.2 : 2.1; /* a narrow one is an aisle when the layout says so */
        gradin_vec2 corner[4] = {{-9.0, 6.5}, {9.0, 6.5}, {9.0, 6.7}, {-9.0, 6.7}};
        gradin_area aisle = {.name = "cross aisle", .polygon = {corner, 4}};
        int front = hall_seat(&h, 0.0, 6.0, 1.1), rear = hall_seat(&h, 0.0, 6.0 + t, 1.5);
        gradin_sight without = compute(arena);
        if (stated) {
            cr_assert_eq(without.c_case[rear], GRADIN_C_ROW_IN_FRONT);
            h.model.aisle = &aisle;
            h.model.n_aisle = 1;
            h.model.aisle_sheet = &sheet;
        }
        gradin_sight s = compute(arena);
        expect_case(&s, rear, GRADIN_C_ACROSS_AISLE, front, 6.0, 0.4, 1.1, t);
        gradin_arena_destroy(arena);
    }
}

/* Half-seat stagger, row depth 0.9, head 155 mm: 2 atan((seat - head)/(2 T)), 24.75 degrees at 550
 * mm a seat (derived). A head in the plane leaves nothing, a row's end has no window. */
Test(c_forms, window_between_two_heads) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 1.0);
    hall_seat(&h, -0.275, 6.0, 1.1);
    hall_seat(&h, 0.275, 6.0, 1.1);
    int between = hall_seat(&h, 0.0, 6.9, 1.35);
    gradin_sight s = compute(arena);
    cr_assert_eq(s.c_case[between], GRADIN_C_BETWEEN_HEADS);
    NEAR(s.window_deg[between], formula_window_deg(0.55, 0.155, 0.9), 1e-9);
    NEAR(s.window_deg[between], 24.75, 0.005);
    cr_assert(isnan(s.window_deg[0]));

    h.eye_m[between].x = 0.1; /* uneven: edges at 0.375 - 0.0775 and 0.175 - 0.0775, nearly */
    s = compute(arena);
    gradin_vec2 u = {-0.1 / hypot(0.1, 10.9), -10.9 / hypot(0.1, 10.9)};
    double sum_deg = 0.0;
    for (int k = 0; k < 2; k++) {
        double dx = h.eye_m[k].x - 0.1, dy = -0.9;
        sum_deg += gradin_deg(atan2(fabs(dx * u.y - dy * u.x) - 0.0775, dx * u.x + dy * u.y));
    }
    NEAR(s.window_deg[between], sum_deg, 1e-9);
    h.eye_m[between].x = 0.275;
    s = compute(arena);
    NEAR(s.window_deg[between], 0.0, 0.0);
    h.eye_m[between].x = 0.55; /* only one neighbour */
    s = compute(arena);
    cr_assert(isnan(s.window_deg[between]));
    gradin_arena_destroy(arena);
}

static gradin_vec3 rail_foot[2] = {{-5.0, 0.0, 0.0}, {5.0, 0.0, 0.0}};

static gradin_rail rail_at(double y, double foot_z, double height_m) {
    rail_foot[0].y = rail_foot[1].y = y;
    rail_foot[0].z = rail_foot[1].z = foot_z;
    return (gradin_rail){
        .name = "rail", .point_m = rail_foot, .n_point = 2, .height_m = height_m, .has_top = true};
}

/* On a tower: eye 4.2 m, rail top 3.8 m at 0.9 m, stage edge 12 m off at z = 0. The lowest height
 * seen at 12 m is e - (e - h) D/x = -1.1333 m (similar triangles, derived): below the stage edge,
 * so the rail is cleared, by 1.1333 * 0.9/12 = 85 mm. */
Test(c_forms, from_a_tower_over_its_own_rail) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 1.0);
    int seat = hall_seat(&h, 0.0, 12.0, 4.2);
    gradin_rail rail[3];
    rail[1] = rail_at(11.1, 3.0, 0.8);
    rail[0] = rail[2] = rail[1];
    rail[0].height_m = 0.3;  /* lower: it leaves more */
    rail[2].has_top = false; /* posts alone */
    rail[2].height_m = 2.0;
    h.model.rail = rail;
    h.model.n_rail = 3;
    gradin_sight s = compute(arena);
    cr_assert_eq(s.rail[seat], 1);
    NEAR(s.over_rail.c_m[seat], 1.13333333 * 0.9 / 12.0, 1e-8);
    NEAR(s.over_rail.d_m[seat], 11.1, 1e-9);
    NEAR(s.over_rail.n_m[seat], 0.4, 1e-9);
    NEAR(s.over_rail.r_m[seat], 3.8, 1e-9);
    NEAR(s.over_rail.t_m[seat], 0.9, 1e-9);
    cr_assert_eq(s.c_case[seat], GRADIN_C_NONE);
    rail[1].height_m = 1.1; /* eye 4.2, top 4.1: the ray passes 215 mm below it */
    s = compute(arena);
    NEAR(s.over_rail.c_m[seat], 4.2 - 4.2 * 0.9 / 12.0 - 4.1, 1e-9);
    gradin_arena_destroy(arena);
}

/* A rail on a gallery overhead, behind the seat, beyond the focus or beside the plane is not looked
 * over. */
Test(c_forms, rails_that_the_view_does_not_cross) {
    double y[] = {6.0, 13.0, -9.0}, foot_z[] = {5.0, 0.0, 0.0};
    for (int k = 0; k < 3; k++) {
        gradin_arena *arena = gradin_arena_create();
        hall_start(&h);
        hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 1.0);
        int seat = hall_seat(&h, 0.0, 12.0, 2.0);
        gradin_rail rail = rail_at(y[k], foot_z[k], 1.0);
        h.model.rail = &rail;
        h.model.n_rail = 1;
        gradin_sight s = compute(arena);
        cr_assert_eq(s.rail[seat], -1, "rail %d", k);
        cr_assert(isnan(s.over_rail.c_m[seat]));
        gradin_arena_destroy(arena);
    }
}

/* A wheelchair place 1.3 m behind a row whose floor is 0.6 m lower: D 6, standing eye 1.57 m above
 * that floor. Somebody in a wheelchair in front does not stand up: the row beyond counts. */
Test(c_forms, wheelchair_place_behind_a_standing_row) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 1.0);
    int beyond = hall_seat(&h, 0.0, 5.0, 1.1), front = hall_seat(&h, 0.0, 6.0, 1.2);
    int place = hall_seat(&h, 0.0, 7.3, 1.75);
    h.kind[place] = GRADIN_SEAT_WHEELCHAIR;
    gradin_sight s = compute(arena);
    NEAR(s.over_standing.d_m[place], 6.0, 1e-9);
    NEAR(s.over_standing.t_m[place], 1.3, 1e-9);
    NEAR(s.over_standing.r_m[place], 1.57, 1e-9);
    NEAR(s.over_standing.n_m[place], 0.18, 1e-9);
    NEAR(s.over_standing.c_m[place], 6.0 * 1.75 / 7.3 - 1.57, 1e-9);
    NEAR(s.c_m[place], 6.0 * 1.75 / 7.3 - 1.2, 1e-9);
    cr_assert(isnan(s.over_standing.c_m[front]), "only wheelchair places are asked");
    h.kind[front] = GRADIN_SEAT_WHEELCHAIR;
    s = compute(arena);
    NEAR(s.over_standing.t_m[place], 2.3, 1e-9);
    NEAR(s.over_standing.r_m[place], h.floor_m[beyond].z + 1.57, 1e-9);
    gradin_arena_destroy(arena);
}
