/* Routes in rooms of 12 m by 10 m made here, whose ways and widths are known from their drawing:
 * each also turned and mirrored, which may change no figure. Widths to 0.02 m, lengths to 1 %, as
 * routes.c states. Least widths that are wanted without a rule: 36 in, IBC 2021 clause 1030.9.1 and
 * ADA Standards 2010 clause 403.5.1 (from memory). */
#include "studies/fit/fit.h"

#include <criterion/criterion.h>
#include <string.h>

enum { MAX_SEAT = 16, MAX_BOX = 8 };

static struct room {
    gradin_arena *arena;
    double turn_deg;
    bool is_mirrored;
    gradin_model model;
    gradin_machinery machinery;
    gradin_vec2 wall[4], corner[MAX_BOX][4], strip[4], stage[4];
    gradin_solid solid[MAX_BOX];
    gradin_element door[2];
    gradin_area aisle;
    gradin_focus focus;
    int aisle_sheet;
    const char *id[MAX_SEAT], *block_name[1], *level_name[1], *sheet_name[1];
    int zero[MAX_SEAT], row[MAX_SEAT], number[MAX_SEAT], block_seating[1];
    gradin_seat_kind kind[MAX_SEAT];
    gradin_vec3 floor_m[MAX_SEAT], eye_m[MAX_SEAT];
    double facing_deg[MAX_SEAT], width_m[MAX_SEAT], depth_m[MAX_SEAT];
} r;
static gradin_fit fit;

static gradin_vec2 place(double x, double y) {
    double c = cos(gradin_rad(r.turn_deg)), s = sin(gradin_rad(r.turn_deg));
    x = r.is_mirrored ? -x : x;
    return (gradin_vec2){x * c + y * s + 3.3, y * c - x * s - 1.7};
}

static double bearing(double deg) {
    return fmod((r.is_mirrored ? 360.0 - deg : deg) + r.turn_deg + 360.0, 360.0);
}

static gradin_polygon box(gradin_vec2 corner[4], double x0, double y0, double x1, double y1) {
    corner[0] = place(x0, y0);
    corner[1] = place(x1, y0);
    corner[2] = place(x1, y1);
    corner[3] = place(x0, y1);
    return (gradin_polygon){corner, 4};
}

static void put_box(const char *name, double x0, double y0, double x1, double y1, double top_m) {
    int i = r.model.n_solid++;
    r.solid[i] = (gradin_solid){.name = name, .kind = GRADIN_SOLID_SET, .top_m = top_m};
    r.solid[i].polygon = box(r.corner[i], x0, y0, x1, y1);
}

/* An exit in the south wall. */
static void put_door(const char *name, double x0, double x1) {
    gradin_vec2 a = place(x0, 0.0), b = place(x1, 0.0), in = place(x0, 1.0);
    r.door[r.model.n_element++] =
        (gradin_element){.name = name,
                         .kind = GRADIN_ELEMENT_DOOR,
                         .corner_m = {a.x, a.y, 0.0},
                         .along = {(b.x - a.x) / (x1 - x0), (b.y - a.y) / (x1 - x0)},
                         .outward = {a.x - in.x, a.y - in.y},
                         .width_m = x1 - x0,
                         .height_m = 2.1,
                         .exit = GRADIN_EXIT_BY_HAND};
}

/* A seat of 0.5 m by 0.9 m that faces south. */
static void put_seat(const char *id, int row, double x, double y, gradin_seat_kind kind) {
    int i = r.model.seats.n_seat++;
    gradin_vec2 at_m = place(x, y);
    r.id[i] = id;
    r.row[i] = row;
    r.number[i] = i + 1;
    r.kind[i] = kind;
    r.floor_m[i] = r.eye_m[i] = (gradin_vec3){at_m.x, at_m.y, 0.0};
    r.facing_deg[i] = bearing(180.0);
    r.width_m[i] = 0.5;
    r.depth_m[i] = 0.9;
    r.model.seats.n_wheelchair += kind == GRADIN_SEAT_WHEELCHAIR;
}

static void put_row(int row, int n, double x0, double y) {
    static const char name[] = "a\0b\0c\0d\0e\0f\0g\0h\0i\0j\0k\0l\0m\0n\0o\0p";
    for (int i = 0; i < n; i++)
        put_seat(&name[2 * r.model.seats.n_seat], row, x0 + 0.5 * i, y, GRADIN_SEAT_STANDARD);
}

static void empty_room(double turn_deg, bool is_mirrored) {
    r = (struct room){.arena = r.arena, .turn_deg = turn_deg, .is_mirrored = is_mirrored};
    r.model = (gradin_model){.venue_name = "Shed",
                             .layout_name = "case",
                             .units = "m",
                             .footprint = box(r.wall, 0.0, 0.0, 12.0, 10.0),
                             .solid = r.solid,
                             .element = r.door,
                             .block_name = r.block_name,
                             .level_name = r.level_name,
                             .sheet_name = r.sheet_name,
                             .n_block = 1,
                             .n_level = 1,
                             .machinery = &r.machinery,
                             .rail_min_m = 0.8};
    r.block_name[0] = r.level_name[0] = r.sheet_name[0] = "stalls";
    r.model.seats = (gradin_seats){.id = r.id,
                                   .block = r.zero,
                                   .row = r.row,
                                   .number = r.number,
                                   .kind = r.kind,
                                   .floor_m = r.floor_m,
                                   .eye_m = r.eye_m,
                                   .facing_deg = r.facing_deg,
                                   .width_m = r.width_m,
                                   .depth_m = r.depth_m,
                                   .sheet = r.zero,
                                   .section = r.zero,
                                   .level = r.zero,
                                   .n_sheet = 1};
    r.block_seating[0] = 0;
    r.machinery = (gradin_machinery){.block_seating = r.block_seating};
    r.machinery.rules = (gradin_local_rules){.guard_drop_m = NAN, .exit_mm_person = NAN};
}

static const gradin_route *route_of(int i) {
    gradin_error error = {0};
    cr_assert_eq(gradin_fit_check(r.arena, &r.model, &fit, &error), GRADIN_OK, "%s",
                 error.diagnostic[0].text);
    cr_assert_eq(gradin_fit_routes(r.arena, &fit, &error), GRADIN_OK);
    cr_assert_lt(i, fit.routes->n_route);
    return &fit.routes->route[i];
}

static void setup(void) {
    r.arena = gradin_arena_create();
}
static void teardown(void) {
    gradin_arena_destroy(r.arena);
}
TestSuite(routes, .init = setup, .fini = teardown);

/* Every case as it is drawn, turned by quarters and askew, and mirrored. */
static const struct motion {
    double turn_deg;
    bool is_mirrored;
} motions[] = {{0, false}, {90, false}, {180, true}, {0, true}, {37, false}, {37, true}};
#ifdef __SANITIZE_ADDRESS__
enum { N_MOTION = 2 }; /* what the others walk is the same memory */
#else
enum { N_MOTION = sizeof motions / sizeof motions[0] };
#endif

/* Two walls leave a passage of width_m, 3 m long, between the row and the door. */
static void passage_room(struct motion m, double width_m) {
    empty_room(m.turn_deg, m.is_mirrored);
    put_door("south", 5.0, 7.0);
    put_box("west wall", 0.0, 2.0, 6.03, 5.0, 3.0);
    put_box("east wall", 6.03 + width_m, 2.0, 12.0, 5.0, 3.0);
    put_row(1, 6, 2.25, 8.0);
}

Test(routes, the_clear_width_is_that_of_the_passage) {
    static const double width_m[] = {0.62, 0.9144, 1.87};
    for (int k = 0; k < N_MOTION; k++)
        for (int i = 0; i < 3; i++) {
            passage_room(motions[k], width_m[i]);
            const gradin_route *route = route_of(0);
            cr_assert_eq(route->state, GRADIN_WAY_OUT);
            cr_expect_float_eq(route->width_m, width_m[i], 0.015, "%g m turned %g: %g", width_m[i],
                               motions[k].turn_deg, route->width_m);
            cr_expect_str_eq(route->exit, "south");
            gradin_vec2 mid = place(6.05 + width_m[i] / 2.0, 3.5);
            cr_expect_lt(hypot(route->narrowest_m.x - mid.x, route->narrowest_m.y - mid.y), 2.2);
        }
}

/* From the seat farthest off straight to the passage's corner, down it, out by the door. The body
 * of 0.80 m keeps 0.40 m from the walls. */
Test(routes, the_length_is_that_of_the_shortest_way) {
    const double half_m = 0.40;
    double expected_m = hypot(6.03 + half_m - 2.25, 8.0 - 5.0 - half_m * 0.6) + 5.0;
    for (int k = 0; k < N_MOTION; k++) {
        passage_room(motions[k], 0.80);
        const gradin_route *route = route_of(0);
        cr_expect_float_eq(route->length_m, expected_m, 0.03 * expected_m, "turned %g: %g, not %g",
                           motions[k].turn_deg, route->length_m, expected_m);
        cr_expect_str_eq(route->from_seat, "a", "the seat farthest off");
    }
}

Test(routes, figures_do_not_depend_on_where_north_is) {
    double length_m = 0.0, width_m = 0.0;
    for (int k = 0; k < N_MOTION; k++) {
        passage_room(motions[k], 0.97);
        const gradin_route *route = route_of(0);
        if (k == 0) length_m = route->length_m, width_m = route->width_m;
        cr_expect_float_eq(route->length_m, length_m, 0.01 * length_m, "%g", route->length_m);
        cr_expect_float_eq(route->width_m, width_m, 0.01);
    }
}

Test(routes, rules_are_held_only_where_they_are_stated) {
    passage_room(motions[0], 0.80);
    route_of(0);
    cr_expect(fit.is_met && fit.routes->is_met && fit.routes->n_unmet == 0);
    for (int k = 0; k < 2; k++) {
        r.machinery.rules.way_width_m = k ? 0.83 : 0.78;
        cr_expect_eq(route_of(0)->is_narrow, k == 1);
        cr_expect_eq(fit.routes->n_unmet, k);
        cr_expect_eq(fit.is_met, k == 0);
    }
    r.machinery.rules.way_width_m = NAN;
    double length_m = route_of(0)->length_m;
    for (int k = 0; k < 2; k++) {
        r.machinery.rules.travel_m = length_m + (k ? -0.05 : 0.05);
        cr_expect_eq(route_of(0)->is_long, k == 1);
        cr_expect_eq(fit.routes->n_unmet, k);
        cr_expect_eq(fit.is_met, k == 0);
    }
}

/* A narrow way straight ahead, a wide one round the end of the wall. */
Test(routes, a_wide_way_goes_before_a_short_one) {
    for (int k = 0; k < N_MOTION; k++)
        for (int narrow_will_do = 0; narrow_will_do < 2; narrow_will_do++) {
            empty_room(motions[k].turn_deg, motions[k].is_mirrored);
            put_door("south", 1.0, 3.0);
            put_box("west part", 0.0, 4.0, 1.7, 4.4, 3.0);
            put_box("east part", 2.4, 4.0, 10.0, 4.4, 3.0);
            put_row(1, 4, 1.5, 7.0);
            if (narrow_will_do) r.machinery.rules.way_width_m = 0.65;
            const gradin_route *route = route_of(0);
            cr_expect_float_eq(route->width_m, narrow_will_do ? 0.70 : 2.0, 0.02, "%g",
                               route->width_m);
            cr_expect(narrow_will_do ? route->length_m < 8.0 : route->length_m > 15.0);
        }
}

Test(routes, places_for_wheelchairs_go_without_steps) {
    for (int i = 0; i < 5; i++) {
        static const double top_m[] = {0.01, 0.02, 0.20, 0.24, 0.30};
        passage_room(motions[0], 1.2);
        put_box("sill", 5.9, 3.0, 7.4, 3.5, top_m[i]);
        put_seat("chair", 2, 9.0, 8.0, GRADIN_SEAT_WHEELCHAIR);
        const gradin_route *row = route_of(0), *chair = &fit.routes->route[1];
        cr_expect(chair->is_wheelchair);
        cr_expect_eq(row->state, i < 4 ? GRADIN_WAY_OUT : GRADIN_WAY_NONE, "%g m", top_m[i]);
        cr_expect_eq(chair->state, i == 0 ? GRADIN_WAY_OUT : GRADIN_WAY_NONE, "%g m", top_m[i]);
        cr_expect(fit.routes->n_wheelchair == 1 && fit.routes->n_wheelchair_without == (i > 0));
        cr_expect_eq(fit.is_met, i == 0);
        if (i == 0) cr_expect_float_eq(chair->width_m, 1.2, 0.015);
    }
}

Test(routes, the_rule_of_wheelchairs_is_their_own) {
    passage_room(motions[0], 1.0);
    put_seat("chair", 2, 9.0, 8.0, GRADIN_SEAT_WHEELCHAIR);
    r.machinery.rules.wheelchair_way_m = 1.05;
    cr_expect(!route_of(0)->is_narrow && fit.routes->route[1].is_narrow && !fit.is_met);
    r.machinery.rules.wheelchair_way_m = 0.95;
    r.machinery.rules.way_width_m = 1.05;
    cr_expect(route_of(0)->is_narrow && !fit.routes->route[1].is_narrow && !fit.is_met);
}

/* Seats are in the way of all rows but their own: here across the passage. */
Test(routes, seats_stand_in_the_way_of_others) {
    passage_room(motions[0], 1.2);
    put_seat("x1", 2, 6.38, 3.0, GRADIN_SEAT_STANDARD);
    put_seat("x2", 2, 6.88, 3.0, GRADIN_SEAT_STANDARD);
    cr_expect_eq(route_of(0)->state, GRADIN_WAY_NONE, "0.1 m is left");
    cr_expect_eq(fit.routes->route[1].state, GRADIN_WAY_OUT, "they themselves walk out");
    cr_expect_eq(fit.routes->n_row_without, 1);
    cr_expect(!fit.is_met, "no rule is needed for that");
    cr_expect_eq(fit.routes->n_unmet, 1);
    r.model.seats.n_seat--;
    cr_expect_float_eq(route_of(0)->width_m, 0.60, 0.015, "one of them leaves 0.60 m");
    cr_expect(fit.is_met, "no rule of widths, no verdict");
}

/* Rows of seats side by side between walls, with an aisle along one side: who sits at the wall
 * passes along the row. */
Test(routes, people_pass_along_their_row) {
    for (int k = 0; k < N_MOTION; k++) {
        empty_room(motions[k].turn_deg, motions[k].is_mirrored);
        put_door("south", 8.0, 10.0);
        put_box("wall", 3.9, 4.0, 4.0, 10.0, 3.0);
        put_box("other wall", 8.1, 4.0, 8.2, 10.0, 3.0);
        put_row(1, 6, 4.25, 6.0);
        put_row(2, 6, 4.25, 6.9);
        const gradin_route *back = route_of(1);
        cr_assert_eq(back->state, GRADIN_WAY_OUT);
        cr_expect_str_eq(back->from_seat, "g");
        cr_expect_float_eq(back->in_row_m, 2.5, 1e-9, "five seats of 0.5 m");
        cr_expect_float_eq(back->width_m, 1.10, 0.015, "7.0 to 8.1: %g", back->width_m);
    }
}

static void put_aisle(double from_y) {
    r.aisle = (gradin_area){"Centre aisle", box(r.strip, 5.4, from_y, 6.6, 8.0), NULL};
    r.model.aisle = &r.aisle;
    r.model.aisle_sheet = &r.aisle_sheet;
    r.model.n_aisle = 1;
    put_seat("a", 1, 6.0, 2.0, GRADIN_SEAT_STANDARD);
}

static void aisle_room(struct motion m, double gap_m) {
    empty_room(m.turn_deg, m.is_mirrored);
    put_door("south", 5.0, 7.0);
    put_box("stage front", 3.0, 8.0, 9.0, 9.5, 0.9);
    r.focus = (gradin_focus){.name = "the stage", .kind = GRADIN_FOCUS_FLOOR, .weight = 1.0};
    r.focus.polygon = box(r.stage, 3.0, 8.0, 9.0, 9.5);
    r.model.focus = &r.focus;
    r.model.n_focus = 1;
    put_box("west bank", 2.0, 4.0, 5.4, 7.9 - gap_m, 3.0);
    put_box("east bank", 6.6, 4.0, 10.0, 7.9 - gap_m, 3.0);
    put_box("shut west", 0.0, 4.0, 2.0, 4.1, 3.0);
    put_box("shut east", 10.0, 4.0, 12.0, 4.1, 3.0);
    put_aisle(4.0);
}

Test(routes, an_aisle_that_ends_at_the_stage_is_named) {
    for (int k = 0; k < N_MOTION; k++) {
        aisle_room(motions[k], 0.0);
        r.machinery.rules.dead_end_m = 3.5;
        route_of(0);
        cr_assert(fit.routes->n_aisle == 1 && fit.routes->n_dead_end == 1);
        const gradin_dead_end *end = &fit.routes->dead_end[0];
        gradin_vec2 at_m = place(6.0, 8.0);
        cr_expect_str_eq(end->aisle, "Centre aisle");
        cr_expect_str_eq(end->at, "the stage");
        cr_expect_lt(hypot(end->end_m.x - at_m.x, end->end_m.y - at_m.y), 0.12);
        cr_expect_float_eq(end->length_m, 4.0, 0.12, "%g", end->length_m);
        cr_expect(end->is_long && !end->is_nowhere && !fit.is_met);
        r.machinery.rules.dead_end_m = 4.5;
        route_of(0);
        cr_expect(!fit.routes->dead_end[0].is_long && fit.is_met);
    }
}

/* With room to pass between the banks and the stage, and a way round them, it is none; shut at its
 * other end too, the aisle leads nowhere. */
Test(routes, an_aisle_that_leads_on_is_no_dead_end) {
    aisle_room(motions[0], 1.0);
    r.model.n_solid -= 2;
    route_of(0);
    cr_expect_eq(fit.routes->n_dead_end, 0);
    aisle_room(motions[0], 0.0);
    put_box("bar", 5.0, 3.5, 7.0, 4.0, 1.0);
    r.machinery.rules.dead_end_m = 50.0;
    route_of(0);
    cr_assert_eq(fit.routes->n_dead_end, 1);
    const gradin_dead_end *end = &fit.routes->dead_end[0];
    cr_expect(end->is_nowhere && end->is_long && !fit.is_met);
    cr_expect_float_eq(end->length_m, 4.0, 0.12);
}

/* Floor that leads out beyond a drop of 0.72 m is none of the aisle's; that beyond a step is. */
Test(routes, an_aisle_that_ends_at_a_drop_is_named) {
    for (int n_step = 1; n_step <= 3; n_step += 2) {
        empty_room(0.0, false);
        put_door("south", 5.0, 7.0);
        for (int i = 0; i < 3; i++)
            put_box("flight", 5.4, 3.5 + 1.5 * i, 6.6, 5 + 1.5 * i, 0.24 * fmin(i + 1, n_step));
        put_aisle(3.5);
        route_of(0);
        cr_expect_eq(fit.routes->n_dead_end, n_step == 3);
        r.aisle.polygon = box(r.strip, 5.4, 3.5, 6.6, 8.6);
        route_of(0);
        cr_expect_eq(fit.routes->n_dead_end, n_step == 3, "drawn on beyond the drop");
    }
}

Test(routes, rows_on_decks_are_not_looked_at) {
    passage_room(motions[0], 1.2);
    put_box("deck", 1.0, 7.0, 6.0, 9.0, 1.0);
    for (int i = 0; i < 6; i++) r.floor_m[i].z = 1.0;
    cr_expect_eq(route_of(0)->state, GRADIN_WAY_NOT_LOOKED);
    cr_expect(fit.routes->n_row == 0 && fit.routes->longest == -1);
}

Test(routes, a_room_without_exits_has_no_routes) {
    passage_room(motions[0], 1.2);
    r.model.n_element = 0;
    cr_assert_eq(gradin_fit_check(r.arena, &r.model, &fit, NULL), GRADIN_OK);
    cr_assert_eq(gradin_fit_routes(r.arena, &fit, NULL), GRADIN_OK);
    cr_expect(fit.is_met && fit.routes->n_route == 0);
}

/* Out over the stage is a way, and said. */
Test(routes, a_way_over_the_stage_is_said) {
    passage_room(motions[0], 1.2);
    r.focus = (gradin_focus){.name = "floor", .kind = GRADIN_FOCUS_FLOOR, .weight = 1.0};
    r.focus.polygon = box(r.stage, 5.0, 3.0, 8.0, 4.0);
    r.model.focus = &r.focus;
    r.model.n_focus = 1;
    cr_expect(route_of(0)->is_over_focus);
    r.focus.polygon = box(r.stage, 9.0, 3.0, 9.5, 4.0);
    cr_expect(!route_of(0)->is_over_focus);
}
