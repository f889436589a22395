/* Whose head stands in front: each branch of reference/whose-head from just inside and just beyond.
 * The distances are conventions of this project; common practice, no source. Places are 0.55 m wide
 * and 0.9 m deep, the seat asked looks due south along x = 0 unless said. */
#include "unit/sightline/hall.h"

#include <criterion/criterion.h>

static hall h;

/* The seat asked: at y 10, its eye at 2.4 m, its floor at 1.2 m. */
static int start(void) {
    hall_start(&h);
    hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 1.0);
    return hall_seat(&h, 0.0, 10.0, 2.4);
}

static void expect(int seat, int front, const char *what) {
    gradin_arena *arena = gradin_arena_create();
    gradin_sight s = hall_compute(&h, arena, 16, false);
    cr_expect_eq(s.front_seat[seat], front, "%s: seat %d, not %d", what, s.front_seat[seat], front);
    cr_expect_eq(s.c_case[seat] == GRADIN_C_NONE, front < 0, "%s: case %d", what,
                 (int)s.c_case[seat]);
    cr_expect_eq(isnan(s.c_m[seat]), front < 0, "%s: C %f", what, s.c_m[seat]);
    gradin_arena_destroy(arena);
}

/* A straight row of five along x whose people look 65 degrees to the side of their facing: the next
 * in the row has its head in the plane of view and is nobody's row in front. */
Test(whose_head, the_neighbour_in_ones_own_row_is_no_row_in_front) {
    int seat = start();
    h.eye_m[seat].x = h.floor_m[seat].x = 22.0; /* it looks along 237.5 degrees */
    h.facing_deg[seat] = 170.0;
    gradin_vec2 unit = gradin_bearing_unit(170.0), side = gradin_bearing_unit(260.0);
    for (int k = -2; k <= 2; k++) {
        if (k == 0) continue;
        int i = hall_seat(&h, 22.0 + 0.55 * k * side.x, 10.0 + 0.55 * k * side.y, 2.4);
        h.facing_deg[i] = 170.0;
    }
    expect(seat, -1, "a row seen from its side");
    int ahead =
        hall_seat(&h, 22.0 + 0.9 * unit.x + 1.9 * side.x, 10.0 + 0.9 * unit.y + 1.9 * side.y, 2.2);
    h.facing_deg[ahead] = 170.0;
    expect(seat, ahead, "the row ahead seen aslant");
}

/* In a curved row the next but one sits well ahead along the facing, and still in the same row. */
Test(whose_head, a_curved_row_is_one_row) {
    for (int of_one_row = 0; of_one_row < 2; of_one_row++) {
        int seat = start();
        int next = hall_seat(&h, 0.0, 9.2, 2.4);
        if (of_one_row) h.row[next] = h.row[seat];
        expect(seat, of_one_row ? -1 : next, "0.8 m ahead");
    }
}

Test(whose_head, half_a_row_ahead_at_least) {
    for (int k = 0; k < 2; k++) {
        int seat = start();
        int other = hall_seat(&h, 0.0, 10.0 - (k ? 0.46 : 0.44), 2.3);
        expect(seat, k ? other : -1, "half a row");
    }
}

Test(whose_head, another_bank_is_turned) {
    for (int k = 0; k < 2; k++) {
        int seat = start();
        int other = hall_seat(&h, 0.0, 9.1, 2.2);
        h.facing_deg[other] = 180.0 + (k ? 59.0 : 61.0);
        expect(seat, k ? other : -1, "turned to the right");
        h.facing_deg[other] = 180.0 - (k ? 59.0 : 61.0);
        expect(seat, k ? other : -1, "turned to the left");
    }
}

/* 2.5 m free and two half places of 0.45 m: eyes 3.4 m apart. */
Test(whose_head, across_an_aisle_and_no_further) {
    for (int k = 0; k < 2; k++) {
        int seat = start();
        int other = hall_seat(&h, 0.0, 10.0 - (k ? 3.39 : 3.41), 1.6);
        expect(seat, k ? other : -1, "a wide aisle");
    }
}

/* Floors a metre apart at most; the heads are level with the ray so that only the floor decides. */
Test(whose_head, a_floor_a_storeys_part_lower_is_another_bank) {
    for (int k = 0; k < 2; k++) {
        int seat = start();
        int other = hall_seat(&h, 0.0, 9.1, 2.1);
        h.floor_m[other].z = 1.2 - (k ? 0.99 : 1.01);
        expect(seat, k ? other : -1, "a lower floor");
        h.floor_m[other].z = 1.2 + (k ? 0.95 : 1.01);
        expect(seat, k ? other : -1, "a higher floor");
    }
}

/* The ray is 2.4 (1 - 0.9/10) = 2.184 m high at 0.9 m; a crown is 0.11 m above its eye. */
Test(whose_head, a_view_well_over_the_crown_has_nobody_in_front) {
    for (int k = 0; k < 2; k++) {
        int seat = start();
        int other = hall_seat(&h, 0.0, 9.1, 2.184 - 0.11 - (k ? 0.299 : 0.301));
        h.floor_m[other].z = 1.0;
        expect(seat, k ? other : -1, "over the crown");
    }
}

/* A row that sits low, as in a pit, and one beyond it on the seat's own height: over the first the
 * ray passes 2.184 - 1.4 m, over the second 1.968 - 2.0 m. Nobody would name the low one. */
Test(whose_head, a_low_row_does_not_stand_for_a_higher_one_beyond) {
    int seat = start();
    hall_seat(&h, 0.0, 9.1, 1.4);
    int beyond = hall_seat(&h, 0.0, 8.2, 2.0);
    h.floor_m[1].z = 0.4;
    expect(seat, beyond, "beyond a low row");
    h.eye_m[beyond].z = 1.968 - 0.42; /* and over that one, too */
    expect(seat, -1, "two low rows");
}

/* The view is 62 degrees off the facing. In the row ahead the head in the plane is 0.9 tan 62 =
 * 1.69 m aside; its neighbour, a seat nearer, still reaches into the plane, 0.49 m before it along
 * the view: more than half a row deep, and yet one row. */
Test(whose_head, a_slanting_view_finds_the_row_as_it_stands) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    gradin_vec2 way = gradin_bearing_unit(180.0 + 62.0);
    hall_focus(&h, 14.0 * way.x, 10.0 + 14.0 * way.y, 4.0, 4.0, 0.0, 1.0);
    int seat = hall_seat(&h, 0.0, 10.0, 2.4);
    double aside_m = 0.9 * way.x / -way.y;
    for (int k = -3; k <= 3; k++) {
        int i = hall_seat(&h, aside_m + 0.55 * k, 9.1, 2.2);
        h.row[i] = 9;
    }
    gradin_sight s = hall_compute(&h, arena, 16, false);
    cr_expect_eq(s.front_seat[seat], 4, "seat %d", s.front_seat[seat]);
    cr_expect_eq(s.c_case[seat], GRADIN_C_ROW_IN_FRONT, "case %d", (int)s.c_case[seat]);
    cr_expect(fabs(s.t_m[seat] - 0.9 / -way.y) < 1e-9);
    cr_expect(isnan(s.c_two_m[seat]), "nobody is two rows ahead");
    gradin_arena_destroy(arena);
}

/* The front row of a gallery and people of the stalls 8 to 11 m off and 3 m below, in the line of
 * sight: no row in front. Its second row still has the first. */
Test(whose_head, a_gallery_front_has_nobody_in_front) {
    start();
    hall_start(&h);
    hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 1.0);
    for (int row = 0; row < 4; row++) hall_seat(&h, 0.0, 5.0 + 0.9 * row, 1.1 + 0.2 * row);
    int front = hall_seat(&h, 0.0, 16.0, 4.5), second = hall_seat(&h, 0.0, 16.9, 5.0);
    expect(front, -1, "the front of a gallery");
    expect(second, front, "its second row");
}

/* A person who stands up in front of a wheelchair place is of the same bank, too. */
Test(whose_head, nobody_of_another_bank_stands_up_in_front) {
    for (int k = 0; k < 2; k++) {
        gradin_arena *arena = gradin_arena_create();
        int seat = start();
        h.kind[seat] = GRADIN_SEAT_WHEELCHAIR;
        hall_seat(&h, 0.0, 10.0 - (k ? 3.39 : 3.41), 1.6);
        gradin_sight s = hall_compute(&h, arena, 16, false);
        cr_expect_eq(isnan(s.over_standing.c_m[seat]), k == 0);
        gradin_arena_destroy(arena);
    }
}

/* Two rings of 20 about a square stage, the outer one turned by a seat's sixth: each of its people
 * has the head of the nearest of the inner ring before them. The inner ring has nobody, those who
 * face it across the stage least of all. The same quarter turn on, C is the same. */
Test(whose_head, rings_in_the_round) {
    enum { N = 20 };
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, 0.0, 4.0, 4.0, 0.5, 1.0);
    for (int k = 0; k < 2 * N; k++) {
        double bearing_deg = (k % N) * 360.0 / N + (k < N ? 0.0 : 3.0);
        gradin_vec2 unit = gradin_bearing_unit(bearing_deg);
        double radius_m = k < N ? 5.0 : 5.9;
        int i = hall_seat(&h, radius_m * unit.x, radius_m * unit.y, k < N ? 1.2 : 1.5);
        h.facing_deg[i] = gradin_wrap_360_deg(bearing_deg + 180.0);
        h.row[i] = k < N ? 1 : 2;
    }
    gradin_sight s = hall_compute(&h, arena, 16, false);
    for (int k = 0; k < N; k++) {
        int quarter = N + (k + N / 4) % N;
        cr_expect_eq(s.c_case[k], GRADIN_C_NONE, "inner %d: case %d", k, (int)s.c_case[k]);
        cr_expect_eq(s.front_seat[N + k], k, "outer %d: %d", k, s.front_seat[N + k]);
        cr_expect(fabs(s.c_m[N + k] - s.c_m[quarter]) < 1e-9, "outer %d: C %f, %f", k, s.c_m[N + k],
                  s.c_m[quarter]);
    }
    gradin_arena_destroy(arena);
}
