/* An outlook against similar triangles, closed forms and what must not change it. */
#include "unit/sightline/outlook/glass_room.h"

#include <criterion/criterion.h>
#include <string.h>

static glass_room r;

#define NEAR(a, b, slack)                                                                          \
    cr_assert(fabs((a) - (b)) <= (slack), "%s = %.6f, not %.6f", #a, (double)(a), (double)(b))

/* A pane of 1 m by 1 m, sill 1 m, in the middle of the south wall; an eye 2 m before it, 1.6 m up;
 * a floor of 6 m by 4 m behind it, from y = 2. */
static void start_pinhole(void) {
    room_start(&r);
    room_pane(&r, 4.5, 1.0, 1.0, 1.0);
    room_point(&r, 5.0, -2.0, 1.6);
    hall_focus(&r.hall, 5.0, 4.0, 6.0, 4.0, 0.0, 1.0);
}

/* Similar triangles (derived). Rays over the sill fall 0.3 m per metre and reach the floor at y =
 * 10/3; to the sides the pane opens a strip of (y + 2)/2 breadth. Seen of 24 m2: its integral from
 * 10/3 to 6, 80/9 m2. Standing eyes at 1.57 m are seen from y = 2 on: 12 m2. 1,024 samples. */
Test(outlook, through_a_pinhole_shows_what_similar_triangles_say) {
    start_pinhole();
    gradin_outlook o = room_look(&r, false);
    NEAR(o.area[0], 80.0 / 9.0 / 24.0, 0.01);
    NEAR(o.standing[0], 0.5, 0.01);
    NEAR(o.away_m[0], 2.0, 1e-12);
    NEAR(o.open_m2, 1.0, 1e-12);
    int n_spot = 0;
    for (int i = 0; i < o.n_spot; i++) {
        gradin_vec3 at = o.spot_m[i];
        NEAR(at.z, 1.57, 1e-12);
        double off = fabs(at.x - 5.0) - 0.25 * (at.y + 2.0);
        if (fabs(off) > 0.01) cr_assert_eq(o.is_spot_seen[i], off < 0.0, "%.3f %.3f", at.x, at.y);
        n_spot += o.is_spot_seen[i];
    }
    NEAR((double)n_spot / o.n_spot, o.standing[0], 1e-12);
    room_end(&r);
}

Test(outlook, through_a_shut_shade_there_is_none) {
    start_pinhole();
    hall_seat(&r.hall, 5.0, 2.0, 1.2);
    r.shade.closed = 1.0;
    gradin_outlook o = room_look(&r, false);
    cr_assert(o.open_m2 == 0.0 && o.glass_m2 == 1.0 && o.most == 0.0 && o.most_seat == 0);
    cr_assert(o.area[0] == 0.0 && o.standing[0] == 0.0 && o.open_glass[0] == 0.0 &&
              o.glass_ahead[0] == 0.0 && o.head[0] == 0.0 && o.outline[0] == 0.0);
    cr_assert(o.seen[0] == GRADIN_SEEN_HIDDEN && o.n_seen[GRADIN_SEEN_HIDDEN] == 1 &&
              o.n_seen_from[0] == 0);
    o = room_look(&r, true);
    cr_assert(o.are_shades_up && o.open_m2 == 1.0);
    NEAR(o.standing[0], 0.5, 0.01);
    cr_assert(o.seen[0] == GRADIN_SEEN_HEAD && o.n_seen[GRADIN_SEEN_HEAD] == 1 &&
              o.n_seen_from[0] == 1 && o.open_glass[0] > 0.0);
    room_end(&r);
}

/* Nine tenths shut from the top leave 0.1 m over the sill: rays to the floor from y + 2 = 16/3
 * to 6.4, a strip of (y + 2)/2: 0.25 (6.4^2 - (16/3)^2) m2 of 24. Rays to half of the standing
 * eyes' height, 0.785 m, pass the wall at 1.6 m - 1.63 m/(y + 2), from 1.19 m on, behind the shade.
 * Half shut it leaves them: at most 1.4 m (derived). */
Test(outlook, under_a_shade_that_is_partly_shut_is_the_lower_part) {
    start_pinhole();
    r.shade.closed = 0.9;
    gradin_outlook o = room_look(&r, false);
    NEAR(o.open_m2, 0.1, 1e-12);
    NEAR(o.area[0], 0.25 * (6.4 * 6.4 - 256.0 / 9.0) / 24.0, 0.01);
    cr_assert(o.standing[0] == 0.0);
    r.shade.closed = 0.5;
    o = room_look(&r, false);
    NEAR(o.area[0], 80.0 / 9.0 / 24.0, 0.01);
    NEAR(o.standing[0], 0.5, 0.01);
    room_end(&r);
}

/* A bar across the view of all standing eyes hides their owners no more than it hides a person; a
 * panel down to the floor does. */
Test(outlook, of_who_stands_goes_on_below_a_bar) {
    start_pinhole();
    hall_solid(&r.hall, 5.0, 0.5, 10.0, 0.1, 1.5, 1.62, GRADIN_CAUSE_STRUCTURE, 1);
    gradin_outlook o = room_look(&r, false);
    NEAR(o.standing[0], 0.5, 0.01);
    hall_solid(&r.hall, 5.0, 0.5, 10.0, 0.1, 0.0, 1.62, GRADIN_CAUSE_STRUCTURE, 1);
    o = room_look(&r, false);
    cr_assert(o.standing[0] == 0.0);
    room_end(&r);
}

/* From (5, -2, 10) every ray to the floor passes over the wall and meets the roof; a rooflight of 2
 * m by 1 m from y = 0.5 opens 10/3 m by 5/3 m of it, scale 10/6 from the eye (derived). */
Test(outlook, from_above_goes_through_rooflights_alone) {
    room_start(&r);
    room_pane(&r, 0.0, 0.0, 10.0, 4.0);
    room_point(&r, 5.0, -2.0, 10.0);
    hall_focus(&r.hall, 5.0, 4.0, 6.0, 4.0, 0.0, 1.0);
    gradin_outlook o = room_look(&r, false);
    cr_assert(o.area[0] == 0.0);
    gradin_element *e = room_pane(&r, 4.0, 4.0, 2.0, 1.0);
    e->corner_m.y = 0.5;
    e->tilt_deg = 90.0;
    o = room_look(&r, false);
    NEAR(o.area[0], 50.0 / 9.0 / 24.0, 0.01);
    cr_assert(o.n_leaning == 0);
    room_end(&r);
}

/* A pane that leans inwards by 30 degrees counts by its picture: cos 30 of its height. */
Test(outlook, through_a_leaning_pane_is_that_of_its_picture) {
    start_pinhole();
    r.element[0].tilt_deg = 30.0;
    r.element[0].height_m = 1.0 / cos(gradin_rad(30.0));
    gradin_outlook o = room_look(&r, false);
    cr_assert(o.n_leaning == 1);
    NEAR(o.area[0], 80.0 / 9.0 / 24.0, 0.01);
    NEAR(o.standing[0], 0.5, 0.01);
    room_end(&r);
}

/* Of the half sphere, 2 pi, by the closed form of a rectangle (test_solid_angle.c names it): an eye
 * 4 m behind the pane, level with 0.2 m above its sill. */
Test(outlook, of_a_seat_is_the_closed_form_of_its_pane) {
    static const double a[2] = {-0.5, 0.5}, b[2] = {-0.2, 0.8};
    double whole_sr = 0.0;
    for (int i = 0; i < 4; i++) {
        double x = a[i % 2], z = b[i / 2], sign = (i == 0 || i == 3) ? 1.0 : -1.0;
        whole_sr += sign * atan(x * z / (4.0 * sqrt(x * x + z * z + 16.0)));
    }
    start_pinhole();
    hall_seat(&r.hall, 5.0, 4.0, 1.2);
    hall_seat(&r.hall, 5.0, 4.0, 1.2);
    hall_seat(&r.hall, 5.0, 4.0, 1.2);
    r.hall.facing_deg[1] = 90.0;
    r.hall.facing_deg[2] = 0.0;
    gradin_outlook o = room_look(&r, false);
    NEAR(o.glass_ahead[0], whole_sr / (2.0 * GRADIN_PI), 1e-12);
    NEAR(o.open_glass[0], o.glass_ahead[0], 1e-15);
    NEAR(o.glass_ahead[1], 0.5 * o.glass_ahead[0], 1e-12);
    cr_assert(o.glass_ahead[2] == 0.0 && o.most_seat == 0 && o.most == o.open_glass[0] &&
              o.median == o.open_glass[1]);
    room_end(&r);
}

/* A screen across the room from x = 5 on hides the pane's eastern half; the share ahead stays. */
Test(outlook, of_a_seat_ends_at_what_stands_before_it) {
    start_pinhole();
    hall_seat(&r.hall, 5.0, 4.0, 1.2);
    hall_solid(&r.hall, 6.0, 2.0, 2.0, 0.1, 0.0, 4.0, GRADIN_CAUSE_STRUCTURE, 1);
    gradin_outlook o = room_look(&r, false);
    NEAR(o.open_glass[0] / o.glass_ahead[0], 0.5, 0.02);
    room_end(&r);
}

/* Heads by hand: far away on the level of a head's middle, so that rays are all but level; the sill
 * cuts it there. Its upper half is seen: half or more counts. A sill 2 cm higher leaves less; one
 * above the crown nothing. */
Test(outlook, of_a_head_is_what_the_sill_leaves) {
    static const double sill_over_middle_m[3] = {0.0, 0.04, 0.2};
    static const gradin_seen wanted[3] = {GRADIN_SEEN_HEAD, GRADIN_SEEN_PARTLY, GRADIN_SEEN_HIDDEN};
    for (int i = 0; i < 3; i++) {
        gradin_shape body[GRADIN_N_BODY];
        room_start(&r);
        hall_seat(&r.hall, 5.0, 0.5, 1.2);
        hall_focus(&r.hall, 5.0, 4.0, 6.0, 4.0, 0.0, 1.0);
        gradin_body_shapes(&r.hall.model.audience, r.hall.eye_m[0], 180.0, body);
        double middle_m = body[0].as.solid.centre_m.z;
        room_pane(&r, 4.0, middle_m + sill_over_middle_m[i], 2.0, 1.0);
        room_point(&r, 5.0, -1000.0, middle_m);
        gradin_outlook o = room_look(&r, false);
        cr_assert_eq(o.seen[0], wanted[i], "%d: %.3f", i, o.head[0]);
        cr_assert_eq(o.n_seen[wanted[i]], 1);
        if (i == 0) NEAR(o.head[0], 0.5, 1e-12);
        cr_assert((o.outline[0] > 0.0) == (i < 2) && o.outline[0] <= 0.5 * o.head[0]);
        NEAR(o.turn_deg[0], 0.0, 1e-9);
        room_end(&r);
    }
}

static void add_people(void) {
    gradin_shape body[GRADIN_N_BODY];
    for (int i = 0; i < r.hall.model.seats.n_seat; i++) {
        gradin_body_shapes(&r.hall.model.audience, r.hall.eye_m[i], r.hall.facing_deg[i], body);
        for (int k = 0; k < GRADIN_N_BODY; k++) {
            hall_occluder(&r.hall, body[k], GRADIN_CAUSE_HEAD, 0);
            r.hall.occluder[r.hall.model.scene.n_occluder - 1].owner = i;
        }
    }
}

/* Head and shoulders are whole through a wide pane; the back row's are hidden by the front row. */
Test(outlook, of_a_person_ends_at_who_sits_before_it) {
    room_start(&r);
    room_pane(&r, 0.0, 0.0, 10.0, 4.0);
    room_point(&r, 5.0, -3.0, 1.2);
    hall_focus(&r.hall, 5.0, 4.0, 6.0, 4.0, 0.0, 1.0);
    hall_seat(&r.hall, 5.0, 1.0, 1.2);
    hall_seat(&r.hall, 5.0, 1.9, 1.2);
    r.hall.facing_deg[1] = 200.0;
    add_people();
    gradin_outlook o = room_look(&r, false);
    cr_assert(o.head[0] == 1.0 && o.outline[0] == 1.0);
    cr_assert(o.head[1] < 0.5 && o.seen[1] != GRADIN_SEEN_HEAD);
    NEAR(o.turn_deg[1], 20.0, 1e-9);
    cr_assert(o.n_seen_from[0] == 1);
    room_end(&r);
}

static double door_open_m2(int n_layer, gradin_layer_kind second, double density_kgm3,
                           double open) {
    start_pinhole();
    r.layer[0] = (gradin_layer){.kind = GRADIN_LAYER_PLATE,
                                .density_kgm3 = density_kgm3,
                                .young_pa = GRADIN_GLASS_YOUNG_PA};
    r.layer[1] = (gradin_layer){.kind = second};
    r.layer[2] = r.layer[0];
    r.buildup.layer = r.layer;
    r.buildup.n_layer = n_layer;
    r.element[0].kind = GRADIN_ELEMENT_DOOR;
    r.element[0].open = open;
    double open_m2 = room_look(&r, false).open_m2;
    room_end(&r);
    return open_m2;
}

Test(outlook, goes_through_doors_of_glass_and_doors_that_stand_open) {
    NEAR(door_open_m2(3, GRADIN_LAYER_GAP, 2500.0, 0.0), 1.0, 1e-12);
    NEAR(door_open_m2(3, GRADIN_LAYER_INTERLAYER, 2500.0, 0.25), 1.0, 1e-12);
    NEAR(door_open_m2(3, GRADIN_LAYER_POROUS, 2500.0, 0.0), 0.0, 1e-12);
    NEAR(door_open_m2(1, GRADIN_LAYER_GAP, 700.0, 0.0), 0.0, 1e-12);
    NEAR(door_open_m2(0, GRADIN_LAYER_GAP, 2500.0, 0.0), 0.0, 1e-12);
    NEAR(door_open_m2(0, GRADIN_LAYER_GAP, 2500.0, 0.25), 0.25, 1e-12);
}

/* A vent, a wall and a roof let nothing through, whatever their size. */
Test(outlook, goes_through_glass_alone) {
    static const gradin_element_kind kind[3] = {GRADIN_ELEMENT_VENT, GRADIN_ELEMENT_WALL,
                                                GRADIN_ELEMENT_ROOF};
    for (int i = 0; i < 3; i++) {
        start_pinhole();
        r.element[0].kind = kind[i];
        gradin_outlook o = room_look(&r, true);
        cr_assert(o.glass_m2 == 0.0 && o.open_m2 == 0.0 && o.standing[0] == 0.0);
        room_end(&r);
    }
}

static void start_mixed(void) {
    start_pinhole();
    room_pane(&r, 7.0, 0.5, 2.0, 2.0);
    room_point(&r, 12.0, -5.0, 3.0);
    for (int i = 0; i < 6; i++) hall_seat(&r.hall, 1.3 + 1.3 * i, 1.2 + 0.7 * (i % 3), 1.2);
    r.hall.facing_deg[2] = 120.0;
    r.hall.facing_deg[4] = 250.0;
}

static void expect_same(const gradin_outlook *a, const gradin_outlook *b) {
    for (int i = 0; i < a->n_seat; i++) {
        NEAR(a->open_glass[i], b->open_glass[i], 1e-9);
        NEAR(a->glass_ahead[i], b->glass_ahead[i], 1e-9);
    }
    for (int p = 0; p < a->n_point; p++) {
        NEAR(a->area[p], b->area[p], 0.002);
        NEAR(a->standing[p], b->standing[p], 0.002);
        NEAR(a->away_m[p], b->away_m[p], 1e-9);
        for (int i = 0; i < a->n_seat; i++) {
            int at = p * a->n_seat + i;
            NEAR(a->head[at], b->head[at], 1e-9);
            NEAR(a->outline[at], b->outline[at], 0.02);
            NEAR(a->turn_deg[at], b->turn_deg[at], 1e-9);
        }
    }
}

Test(outlook, stays_the_same_when_all_is_turned_or_mirrored) {
    gradin_arena *kept;
    start_mixed();
    gradin_outlook o = room_look(&r, false);
    cr_assert(o.area[0] > 0.3 && o.area[1] > 0.05 && o.most > 0.0 &&
              o.n_seen[GRADIN_SEEN_HEAD] > 0 && o.n_seen[GRADIN_SEEN_HIDDEN] > 0);
    kept = r.arena;
    start_mixed();
    room_turn(&r, 37.0);
    gradin_outlook turned = room_look(&r, false);
    expect_same(&o, &turned);
    room_end(&r);
    start_mixed();
    room_mirror(&r);
    gradin_outlook mirrored = room_look(&r, false);
    expect_same(&o, &mirrored);
    room_end(&r);
    gradin_arena_destroy(kept);
}

static void expect_refusal(const char *text) {
    gradin_outlook o;
    gradin_error error = {0};
    gradin_status status =
        gradin_outlook_compute(r.arena, &r.hall.model, &r.outside, NULL, &o, &error);
    cr_assert_eq(status, GRADIN_BAD_INPUT);
    cr_assert(strstr(error.diagnostic[0].text, text), "%s", error.diagnostic[0].text);
    room_end(&r);
}

Test(outlook, refuses_points_that_are_not_outside) {
    start_pinhole();
    room_point(&r, 5.0, 4.0, 1.0);
    expect_refusal("second lies inside the room");
    start_pinhole();
    room_point(&r, 5.0, 4.0, NAN);
    expect_refusal("second lies nowhere");
    start_pinhole();
    room_point(&r, 5.0, -4.0, 1.0);
    r.point[1].name = "first";
    expect_refusal("'first' names two points");
    start_pinhole();
    r.outside.n_point = GRADIN_MAX_OUTSIDE + 1;
    static gradin_outside_point many[GRADIN_MAX_OUTSIDE + 1];
    for (int i = 0; i <= GRADIN_MAX_OUTSIDE; i++) many[i] = r.point[0];
    r.outside.point = many;
    expect_refusal("65 points outside; at most 64");
}

/* On the roof is outside. */
Test(outlook, takes_a_point_over_the_roof) {
    start_pinhole();
    room_point(&r, 5.0, 4.0, 4.5);
    gradin_outlook o = room_look(&r, false);
    cr_assert(o.area[1] == 0.0 && o.standing[1] == 0.0);
    room_end(&r);
}
