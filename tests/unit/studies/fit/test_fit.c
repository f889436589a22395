/* Rough checks of the demo's layouts, against what can be told by hand from the drawing. */
#include "gradin/files.h"
#include "studies/fit/fit.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

static gradin_arena *arena;
static gradin_model model;
static gradin_machinery machinery;
static gradin_fit fit;
static const double FT = 0.3048;
static int n_rail; /* of the layout */

static void read_model(const char *layout) {
    char path[512];
    snprintf(path, sizeof path, GRADIN_SOURCE_DIR "/demo/%s.yaml", layout);
    cr_assert_eq(gradin_model_read(arena, path, &model, NULL), GRADIN_OK, "%s", path);
    n_rail = model.n_rail;
    model.n_rail = 0; /* the edges as they are without rails; tests add their own */
    machinery = *model.machinery;
    model.machinery = &machinery;
}

static void check(void) {
    cr_assert_eq(gradin_fit_check(arena, &model, &fit, NULL), GRADIN_OK);
}

static void open_arena(void) {
    arena = gradin_arena_create();
}
static void close_arena(void) {
    gradin_arena_destroy(arena);
}
TestSuite(fit, .init = open_arena, .fini = close_arena);

/* What is underfoot at a seat is what the seat was built on. */
Test(fit, surface_under_every_loose_seat_is_its_floor) {
    static const char *const layouts[] = {"end_stage", "thrust", "round", "traverse", "flat_floor"};
    for (int k = 0; k < 5; k++) {
        read_model(layouts[k]);
        for (int i = 0; i < model.seats.n_seat; i++) {
            if (machinery.block_seating[model.seats.block[i]] == -1) continue;
            gradin_vec3 at_m = model.seats.floor_m[i];
            cr_assert_float_eq(fit_surface_m(&model, (gradin_vec2){at_m.x, at_m.y}, at_m.z), at_m.z,
                               1e-9, "%s %s", layouts[k], model.seats.id[i]);
        }
    }
}

/* A rail from (10, 9) to (11, 10) and a box beside it, each asked for from all sides: in the way up
 * to 0.3 m off and no farther. */
Test(fit, an_obstacle_reaches_as_far_as_the_margin) {
    static const gradin_vec2 room_m[] = {{0, 0}, {20, 0}, {20, 20}, {0, 20}};
    static const gradin_vec2 box_m[] = {{4, 4}, {6, 4}, {6, 5}, {4, 5}};
    static const gradin_vec3 path_m[] = {{10, 9, 0}, {11, 10, 0}};
    static const struct {
        double x, y, east, north; /* on the boundary, and the way off it */
    } side[] = {{4, 4.5, -1, 0},     {6, 4.5, 1, 0},         {5, 4, 0, -1},
                {5, 5, 0, 1},        {10.5, 9.5, 0.6, -0.8}, {10.5, 9.5, -0.6, 0.8},
                {10, 9, -0.6, -0.8}, {11, 10, 0.6, 0.8}};
    const gradin_rail rail = {.name = "rail", .point_m = path_m, .n_point = 2, .height_m = 1.1};
    const gradin_solid box = {.name = "box", .polygon = {box_m, 4}, .top_m = 1.0};
    gradin_model m = {
        .footprint = {room_m, 4}, .rail = &rail, .n_rail = 1, .solid = &box, .n_solid = 1};
    for (size_t k = 0; k < sizeof side / sizeof side[0]; k++) {
        const char *wanted = k < 4 ? "box" : "rail";
        /* aslant off the middle of the rail: 0.3 m are fewer at right angles, cos 8.13 degrees */
        double off_m = k == 4 || k == 5 ? 0.3 / (1.4 * sqrt(0.5)) : 0.3;
        for (int sign = -1; sign <= 1; sign += 2) {
            double d_m = off_m + 1e-4 * sign;
            gradin_vec2 at_m = {side[k].x + d_m * side[k].east, side[k].y + d_m * side[k].north};
            const char *found = fit_obstacle(&m, at_m, 0.0, 0.3);
            if (sign < 0)
                cr_expect(found && strcmp(found, wanted) == 0, "side %zu: %s", k,
                          found ? found : "-");
            else
                cr_expect_null(found, "side %zu: %s", k, found);
        }
    }
}

/* Flat floor: one stage, x 4.2 to 25.8, y 21.9 to 32.7, 0.9 m high: its four sides. */
Test(fit, edges_of_a_stage_are_its_four_sides) {
    read_model("flat_floor");
    check();
    double length_m = 0.0;
    for (int i = 0; i < fit.n_edge; i++) {
        const gradin_open_edge *e = &fit.edge[i];
        length_m += hypot(e->to_m.x - e->from_m.x, e->to_m.y - e->from_m.y);
        cr_expect_float_eq(e->drop_m, 0.9, 1e-9);
        cr_expect_float_eq(e->high_m, 0.9, 1e-9);
    }
    cr_expect_eq(fit.n_edge, 4);
    cr_expect_float_eq(length_m, 2.0 * (21.6 + 10.8), 1e-6);
}

/* The focus lies on the first sections behind the front edge: that line is the stage's. */
Test(fit, the_front_edge_of_the_stage_is_told_apart) {
    read_model("flat_floor");
    check();
    cr_expect_eq(fit.n_stage_edge, 1);
    for (int i = 0; i < fit.n_edge; i++)
        cr_expect_eq(fit.edge[i].is_stage, fabs(fit.edge[i].from_m.y - 21.9) < 1e-6 &&
                                               fabs(fit.edge[i].to_m.y - 21.9) < 1e-6);
    for (int i = 0; i < model.n_focus; i++) ((gradin_focus *)model.focus)[i].z_m = 5.0;
    check(); /* nobody plays 4 m above a floor */
    cr_expect_eq(fit.n_stage_edge, 0);
    cr_expect_eq(fit.n_edge, 4);
}

/* One side fewer where the stair comes up, and which. */
Test(fit, a_stair_has_a_side_to_come_up) {
    static const double west_deg[2] = {270.0, 270.0}, none_deg[2] = {NAN, NAN};
    int n[2];
    read_model("thrust");
    for (int k = 0; k < 2; k++) {
        model.vomitory_top_deg = k == 0 ? none_deg : west_deg;
        check();
        n[k] = 0;
        for (int i = 0; i < fit.n_edge; i++) {
            const gradin_open_edge *e = &fit.edge[i];
            if (!isnan(e->drop_m) || strncmp(e->where, "vom", 3) != 0) continue;
            n[k]++;
            bool is_west = e->from_m.x == e->to_m.x &&
                           (fabs(e->from_m.x - 6.0) < 1e-9 || fabs(e->from_m.x - 22.6) < 1e-9);
            cr_expect(k == 0 || !is_west);
        }
    }
    cr_expect_eq(n[0], 8);
    cr_expect_eq(n[1], 6);
}

Test(fit, a_drop_up_to_the_rule_is_no_edge) {
    read_model("flat_floor");
    machinery.rules.guard_drop_m = 0.9;
    check();
    cr_expect_eq(fit.n_edge, 0);
}

/* The same stage with a rail along its front: three sides are left. */
Test(fit, a_rail_closes_its_edge) {
    static const gradin_vec3 foot[] = {{4.2, 21.95, 0.9}, {25.8, 21.95, 0.9}};
    static const gradin_vec3 low_foot[] = {{4.2, 21.95, 0.0}, {25.8, 21.95, 0.0}};
    read_model("flat_floor");
    gradin_rail *rail = gradin_arena_alloc(arena, (size_t)model.n_rail + 1, sizeof *rail);
    memcpy(rail, model.rail, (size_t)model.n_rail * sizeof *rail);
    rail[model.n_rail] =
        (gradin_rail){.name = "front", .point_m = foot, .n_point = 2, .height_m = 1.1};
    model.rail = rail;
    model.n_rail++;
    check();
    double south_m = 0.0;
    for (int i = 0; i < fit.n_edge; i++)
        if (fit.edge[i].from_m.y == fit.edge[i].to_m.y && fit.edge[i].from_m.y < 22.0)
            south_m += fit.edge[i].to_m.x - fit.edge[i].from_m.x;
    cr_expect_float_eq(south_m, 0.0, 1e-9);
    rail[model.n_rail - 1].point_m =
        low_foot; /* one that stands on the floor below guards nothing */
    check();
    cr_expect_eq(fit.n_edge, 4);
}

/* Opening a panel opens its stair. */
Test(fit, open_stairs_are_edges) {
    int n_stair = 0;
    read_model("traverse");
    check();
    for (int i = 0; i < fit.n_edge; i++) n_stair += isnan(fit.edge[i].drop_m);
    cr_expect_geq(n_stair, 6);
    model.n_rail = n_rail;
    check();
    cr_expect_eq(fit.n_edge, 0, "the banks and stairs of the traverse have rails all round");
}

/* The longest run of seats side by side, told from the seats themselves. */
Test(fit, rows_are_held_against_the_rule) {
    read_model("flat_floor");
    check();
    cr_expect_eq(fit.n_long_row, 0);
    machinery.rules.row_one_aisle = machinery.rules.row_two_aisles = 3;
    check();
    cr_expect_gt(fit.n_long_row, 0);
    for (int i = 0; i < fit.n_long_row; i++) cr_expect_gt(fit.long_row[i].n_seat, 3);
    machinery.rules.row_two_aisles = 0; /* a rule that is not stated is not held */
    check();
    cr_expect_eq(fit.n_row, 0);
}

static gradin_element *copy_elements(void) {
    gradin_element *made = gradin_arena_alloc(arena, (size_t)model.n_element, sizeof *made);
    memcpy(made, model.element, (size_t)model.n_element * sizeof *made);
    model.element = made;
    return made;
}

static gradin_element *door_named(gradin_element *element, const char *name) {
    for (int i = 0; i < model.n_element; i++)
        if (strcmp(element[i].name, name) == 0) return &element[i];
    return NULL;
}

/* Two doors of 2 m that people open, and one of 4 m that a machine opens: 4 m, and 8 m when it
 * stands open; 588 places at 5 mm need 2.94 m, by hand. */
Test(fit, exits_add_up) {
    read_model("thrust");
    gradin_element *door = door_named(copy_elements(), "pavement doors");
    check();
    cr_expect_eq(fit.n_exit, 3);
    cr_assert_eq(fit.n_exit_blocked, 1);
    cr_expect_str_eq(fit.exit[0].name, "pavement doors");
    cr_expect_float_eq(fit.exit_m, 4.0, 1e-9);
    cr_expect_float_eq(fit.exit_needed_m, model.seats.n_seat * 0.005, 1e-9);
    cr_expect(fit.is_met);
    door->open = 1.0;
    check();
    cr_expect_float_eq(fit.exit_m, 8.0, 1e-9);
    door->exit = GRADIN_EXIT_NONE;
    check();
    cr_expect_eq(fit.n_exit, 2);
    cr_expect_float_eq(fit.exit_m, 4.0, 1e-9);
    machinery.rules.exit_mm_person = 20.0;
    check();
    cr_expect(!fit.is_met);
}

/* End stage: all places and both foyer doors south of the arch at y 24.6, the pavement doors (28.5
 * to 32.5) north of it. Cut off by the curtain, a side needs its own. */
Test(fit, each_side_of_the_arch_has_its_exits) {
    read_model("end_stage");
    gradin_element *door = copy_elements();
    gradin_divide divide = *model.divide;
    machinery.rules.row_one_aisle = 0; /* a seat is moved out of its row below */
    model.divide = &divide;
    check();
    cr_assert_eq(fit.n_side, 2);
    cr_expect_str_eq(fit.side[0].name, "north");
    cr_expect_eq(fit.side[0].n_place, 0);
    cr_expect_eq(fit.side[0].n_free, 0);
    cr_expect_eq(fit.side[1].n_place, model.seats.n_seat);
    cr_expect_float_eq(fit.side[1].exit_m, 4.0, 1e-9);
    door_named(door, "pavement doors")->open = 1.0;
    model.seats.floor_m[0] = (gradin_vec3){28.0, 30.0, 0.0}; /* beside the stage */
    check();
    cr_expect_float_eq(fit.side[0].exit_m, 4.0, 1e-9);
    cr_expect_eq(fit.side[0].n_place, 1);
    cr_expect(fit.is_met);
    door_named(door, "pavement doors")->open = 0.0;
    check();
    cr_expect(!fit.is_cut);
    cr_expect_eq(fit.n_cut_off, 1, "round the stage there is no way through the arch");
    divide.closed = 1.0;
    check();
    cr_expect(fit.is_cut && !fit.is_met);
    cr_expect_float_eq(fit.side[0].needed_m, 0.005, 1e-12);
}

Test(fit, a_seat_before_a_door_or_on_a_stair_is_told) {
    read_model("thrust");
    model.seats.floor_m[0] = (gradin_vec3){4.0, 0.8, 0.0};  /* before foyer west, x 3 to 5 */
    model.seats.floor_m[1] = (gradin_vec3){23.0, 1.5, 0.0}; /* on vom east */
    check();
    cr_assert_eq(fit.n_exit_blocked, 2); /* and the pavement doors, shut */
    cr_expect_str_eq(fit.exit[0].name, "foyer west");
    cr_assert_eq(fit.n_vom_blocked, 1);
    cr_expect_str_eq(fit.vom[0].name, "vom east");
    cr_expect(!fit.is_met);
}

/* Length of the open edges that lie on a line y. */
static double open_at_m(double y_m) {
    double length_m = 0.0;
    check();
    for (int i = 0; i < fit.n_edge; i++)
        if (fabs(fit.edge[i].from_m.y - y_m) < 1e-6 && fabs(fit.edge[i].to_m.y - y_m) < 1e-6)
            length_m += fabs(fit.edge[i].to_m.x - fit.edge[i].from_m.x);
    return length_m;
}

/* A rail guards an edge within 0.30 m of it whose foot is within a riser, 0.35 m, of its height:
 * the front of the flat floor's stage, y 21.9, x 4.2 to 25.8, 0.9 m high. */
Test(fit, a_rail_guards_from_near_and_from_its_own_level) {
    static const struct {
        double beside_m, foot_m, open_m;
    } cases[] = {{0.29, 0.9, 0.0}, {0.31, 0.9, 21.6}, {-0.29, 0.9, 0.0}, {-0.31, 0.9, 21.6},
                 {0.0, 0.56, 0.0}, {0.0, 0.54, 21.6}, {0.0, 1.24, 0.0},  {0.0, 1.26, 21.6}};
    gradin_vec3 foot[2] = {{4.2, 0, 0}, {25.8, 0, 0}};
    gradin_rail rail = {.name = "front", .point_m = foot, .n_point = 2, .height_m = 1.1};
    read_model("flat_floor");
    model.rail = &rail;
    model.n_rail = 1;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        for (int k = 0; k < 2; k++) {
            foot[k].y = 21.9 + cases[i].beside_m;
            foot[k].z = cases[i].foot_m;
        }
        cr_expect_float_eq(open_at_m(21.9), cases[i].open_m, 1e-6, "%g m off, foot at %g m",
                           cases[i].beside_m, cases[i].foot_m);
    }
}

/* A rail along half of an edge leaves the other half open, told in one piece. */
Test(fit, half_a_rail_guards_half_an_edge) {
    static const gradin_vec3 foot[2] = {{4.2, 21.9, 0.9}, {15.0, 21.9, 0.9}};
    gradin_rail rail = {.name = "half", .point_m = foot, .n_point = 2, .height_m = 1.1};
    read_model("flat_floor");
    model.rail = &rail;
    model.n_rail = 1;
    double open_m = open_at_m(21.9); /* a piece is up to 0.30 m long, a rail reaches as far past */
    cr_expect(open_m > 10.8 - 0.6 && open_m <= 10.8, "%g m", open_m);
    cr_expect_eq(fit.n_edge, 4);
}

/* A rail that ends at x 14.92 guards up to x 15.22; pieces are 0.1 m long, so the edge is open from
 * x 15.2 on, to x 25.8. */
Test(fit, edges_are_looked_at_in_short_pieces) {
    static const gradin_vec3 foot[2] = {{4.2, 21.9, 0.9}, {14.92, 21.9, 0.9}};
    gradin_rail rail = {.name = "half", .point_m = foot, .n_point = 2, .height_m = 1.1};
    read_model("flat_floor");
    model.rail = &rail;
    model.n_rail = 1;
    cr_expect_float_eq(open_at_m(21.9), 10.6, 1e-6);
}

/* Seats that are up to 0.15 m apart are one run; a wider gap ends it. */
Test(fit, a_gap_between_seats_ends_a_run) {
    for (int k = 0; k < 2; k++) {
        read_model("end_stage");
        check();
        int n_before = fit.n_row;
        const gradin_seats *s = &model.seats;
        for (int i = 1; i < s->n_seat;
             i++) { /* all beyond the first of the row move away from it */
            if (s->row[i] != s->row[0] || s->block[i] != s->block[0]) break;
            s->floor_m[i].x += (s->floor_m[1].x > s->floor_m[0].x ? 1.0 : -1.0) * (k ? 0.16 : 0.14);
        }
        check();
        cr_expect_eq(fit.n_row, n_before + k, "%d runs, not %d", fit.n_row, n_before + k);
    }
}

/* The back of a curved row bends: its corners lead from end to end as long as the edge is, and lie
 * on the row's arc, 56.5 ft about (50, 70); its chord comes 15 ft nearer. A straight edge has two.
 */
Test(fit, an_arc_s_corners_follow_it) {
    read_model("hexagon_stage");
    check();
    int n_bent = 0;
    for (int i = 0; i < fit.n_edge; i++) {
        const gradin_open_edge *e = &fit.edge[i];
        double length_m = 0.0, off_m = 0.0;
        cr_assert_geq(e->n_point, 2);
        for (int k = 0; k + 1 < e->n_point; k++) {
            gradin_vec2 a = e->point_m[k], b = e->point_m[k + 1];
            length_m += hypot(b.x - a.x, b.y - a.y);
            double from_m = hypot((a.x + b.x) / 2.0 - 50.0 * FT, (a.y + b.y) / 2.0 - 70.0 * FT);
            off_m = fmax(off_m, fabs(from_m - 56.5 * FT));
        }
        cr_expect_float_eq(length_m, e->length_m, 1e-9, "%s", e->where);
        cr_expect_eq(e->point_m[0].x, e->from_m.x);
        cr_expect_eq(e->point_m[e->n_point - 1].y, e->to_m.y);
        if (strcmp(e->where, "Stalls row 9") != 0 || e->n_point == 2) continue;
        cr_expect_lt(off_m, 0.05, "%g m off the arc", off_m);
        n_bent++;
    }
    cr_expect_gt(n_bent, 0);
}
