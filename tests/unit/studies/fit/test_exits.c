/* What narrows an exit and what shuts it, and how much floor beside a row is an aisle: the demo's
 * thrust and flat floor with things put in by hand. Foyer west: a door of 2 m, x 3 to 5, in the
 * wall y 0 with its sill at 0. Landing 1.12 m and least clear width 0.813 m: IBC 2021 clauses
 * 1010.1.5 and 1010.1.1; least aisle 0.914 m: clause 1030.9.1; all from memory. */
#include "gradin/files.h"
#include "studies/fit/fit.h"

#include <criterion/criterion.h>
#include <string.h>

static gradin_arena *arena;
static gradin_model model;
static gradin_machinery machinery;
static gradin_fit fit;

static void read_model(const char *path) {
    cr_assert_eq(gradin_model_read(arena, path, &model, NULL), GRADIN_OK);
    machinery = *model.machinery;
    model.machinery = &machinery;
    model.n_rail = 0;
}

static void setup(void) {
    arena = gradin_arena_create();
    read_model(GRADIN_SOURCE_DIR "/demo/thrust.yaml");
}
static void teardown(void) {
    gradin_arena_destroy(arena);
}
TestSuite(exits, .init = setup, .fini = teardown);

/* The model with one more solid, a box. */
static void put_box(const char *name, gradin_box2 box, double bottom_m, double top_m) {
    gradin_vec2 *corner_m = gradin_arena_alloc(arena, 4, sizeof *corner_m);
    gradin_solid *solid = gradin_arena_alloc(arena, (size_t)model.n_solid + 1, sizeof *solid);
    memcpy(solid, model.solid, (size_t)model.n_solid * sizeof *solid);
    corner_m[0] = (gradin_vec2){box.x_min_m, box.y_min_m};
    corner_m[1] = (gradin_vec2){box.x_max_m, box.y_min_m};
    corner_m[2] = (gradin_vec2){box.x_max_m, box.y_max_m};
    corner_m[3] = (gradin_vec2){box.x_min_m, box.y_max_m};
    solid[model.n_solid++] = (gradin_solid){.name = name,
                                            .kind = GRADIN_SOLID_SET,
                                            .polygon = {corner_m, 4},
                                            .bottom_m = bottom_m,
                                            .top_m = top_m};
    model.solid = solid;
}

/* Of foyer west; both foyers are 4 m when nothing stands there. */
static void expect_clear(double clear_m, const char *what) {
    cr_assert_eq(gradin_fit_check(arena, &model, &fit, NULL), GRADIN_OK);
    cr_expect_float_eq(fit.exit_m, 2.0 + clear_m, 1e-9, "%s: %g m", what, fit.exit_m);
    bool is_shut = clear_m == 0.0, is_narrowed = clear_m > 0.0 && clear_m < 2.0;
    cr_assert_eq(fit.n_exit_blocked, is_shut ? 2 : 1, "%s", what); /* the pavement doors are shut */
    cr_assert_eq(fit.n_exit_narrowed, is_narrowed ? 1 : 0, "%s", what);
    const gradin_blocked *door = is_shut ? &fit.exit[0] : &fit.narrowed[0];
    if (!is_shut && !is_narrowed) return;
    cr_expect_str_eq(door->name, "foyer west");
    cr_expect_str_eq(door->reason, what);
    cr_expect_eq(door->width_m, 2.0);
    cr_expect_float_eq(door->clear_m, clear_m, 1e-9);
}

Test(exits, a_thing_before_a_door_takes_its_width) {
    static const struct {
        const char *name;
        gradin_box2 box;
        double bottom_m, top_m, clear_m;
    } cases[] = {
        {"tower 0.7 m inside", {2.0, 0.7, 6.0, 3.0}, 0.0, 5.0, 0.0},
        {"wall 0.6 m inside", {0.0, 0.6, 9.0, 0.7}, 0.0, 4.0, 0.0},
        {"beyond the landing", {2.0, 1.15, 6.0, 3.0}, 0.0, 5.0, 2.0},
        {"half of it", {2.0, 0.3, 4.0, 0.5}, 0.0, 2.0, 1.0},
        {"a post", {3.9, 0.9, 4.1, 1.1}, 0.0, 3.0, 0.9},
        {"all but 0.75 m", {2.0, 0.3, 4.25, 0.5}, 0.0, 2.0, 0.0},
        {"all but 0.85 m", {2.0, 0.3, 4.15, 0.5}, 0.0, 2.0, 0.85},
        {"a deck overhead", {2.0, 0.3, 6.0, 3.0}, 2.01, 2.3, 2.0},
        {"a low deck", {2.0, 0.3, 6.0, 3.0}, 1.99, 2.3, 0.0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        read_model(GRADIN_SOURCE_DIR "/demo/thrust.yaml");
        put_box(cases[i].name, cases[i].box, cases[i].bottom_m, cases[i].top_m);
        expect_clear(cases[i].clear_m, cases[i].name);
    }
}

Test(exits, a_rail_before_a_door_takes_its_width) {
    gradin_vec3 foot[2] = {{2.0, 0.8, 0.0}, {4.0, 0.8, 0.0}};
    gradin_rail rail = {.name = "queue rail", .point_m = foot, .n_point = 2, .height_m = 1.1};
    model.rail = &rail;
    model.n_rail = 1;
    expect_clear(0.95, "queue rail"); /* a rail takes 0.05 m on either side of its line */
    foot[0].z = foot[1].z = 2.01;
    expect_clear(2.0, "overhead");
}

Test(exits, seats_before_a_door_take_its_width) {
    int wide = 0;
    while (model.seats.width_m[wide] != 0.52) wide++;
    model.seats.floor_m[wide] = (gradin_vec3){3.25, 0.8, 0.0}; /* x 2.99 to 3.51 */
    model.seats.facing_deg[wide] = 0.0;
    machinery.rules.row_one_aisle = 0;
    expect_clear(1.5, "seats stand before it");
    model.seats.floor_m[wide].z = 2.1;
    expect_clear(2.0, "above it");
}

Test(exits, the_floor_before_a_door_is_at_its_sill) {
    for (int k = 0; k < 2; k++) {
        gradin_element *door = gradin_arena_alloc(arena, (size_t)model.n_element, sizeof *door);
        read_model(GRADIN_SOURCE_DIR "/demo/thrust.yaml");
        memcpy(door, model.element, (size_t)model.n_element * sizeof *door);
        model.element = door;
        while (strcmp(door->name, "foyer west") != 0) door++;
        door->corner_m.z = k ? 0.24 : 0.26;
        expect_clear(k ? 2.0 : 0.0, "the floor before it is not at its sill");
    }
}

/* A door under the least clear width is as wide as it is, also where the steps of its sweep add up
 * to a last bit less. */
Test(exits, a_narrow_door_with_nothing_before_it_counts_whole) {
    static const double width_m[] = {0.5, 0.57, 0.78};
    for (int i = 0; i < 3; i++) {
        gradin_element *door = gradin_arena_alloc(arena, (size_t)model.n_element, sizeof *door);
        memcpy(door, model.element, (size_t)model.n_element * sizeof *door);
        model.element = door;
        while (strcmp(door->name, "foyer west") != 0) door++;
        door->width_m = width_m[i];
        cr_assert_eq(gradin_fit_check(arena, &model, &fit, NULL), GRADIN_OK);
        cr_expect_float_eq(fit.exit_m, 2.0 + width_m[i], 1e-9, "%g m", fit.exit_m);
        cr_expect_eq(fit.n_exit_blocked, 1); /* the pavement doors are shut */
    }
}

/* The seats of a run on the flat floor with free floor at both ends; -1: none. */
static int free_run(void) {
    for (int i = 0; i < fit.n_long_row; i++)
        if (fit.long_row[i].n_aisle == 2) return i;
    return -1;
}

static int aisles_of(const char *first_seat) {
    cr_assert_eq(gradin_fit_check(arena, &model, &fit, NULL), GRADIN_OK);
    for (int i = 0; i < fit.n_long_row; i++)
        if (strcmp(fit.long_row[i].first_seat, first_seat) == 0) return fit.long_row[i].n_aisle;
    return -1;
}

/* 0.45 m between a row and a wall is no aisle. */
Test(exits, floor_beside_a_row_is_an_aisle_when_it_is_as_broad) {
    static const double off_m[] = {0.45, 0.90, 0.93};
    for (int k = 0; k < 3; k++) {
        read_model(GRADIN_SOURCE_DIR "/demo/flat_floor.yaml");
        machinery.rules.row_one_aisle = machinery.rules.row_two_aisles = 1;
        model.n_aisle = 0;
        cr_assert_eq(gradin_fit_check(arena, &model, &fit, NULL), GRADIN_OK);
        int run = free_run(), seat = 0;
        cr_assert_geq(run, 0);
        const char *first = fit.long_row[run].first_seat;
        while (strcmp(model.seats.id[seat], first) != 0) seat++;
        gradin_vec3 end_m = model.seats.floor_m[seat], next_m = model.seats.floor_m[seat + 1];
        double length_m = hypot(end_m.x - next_m.x, end_m.y - next_m.y);
        gradin_vec2 out = {(end_m.x - next_m.x) / length_m, (end_m.y - next_m.y) / length_m};
        double at_m = model.seats.width_m[seat] / 2.0 + off_m[k] + 0.05;
        put_box("wall",
                (gradin_box2){end_m.x + out.x * at_m - 0.05, end_m.y + out.y * at_m - 0.05,
                              end_m.x + out.x * at_m + 0.05, end_m.y + out.y * at_m + 0.05},
                0.0, 3.0);
        cr_expect_eq(aisles_of(first), k == 2 ? 2 : 1, "a wall %g m off", off_m[k]);
    }
}

/* The flat floor's chairs within walls of 3 m round x 3.8 to 26.2, y 4 to 20.9, the south one with
 * a gap from x 14.9 on. Places on towers are not on the floor. */
static int walled_in(double gap_m) {
    const gradin_box2 wall[] = {{3.8, 20.8, 26.2, 20.9},
                                {3.8, 4.0, 3.9, 20.9},
                                {26.1, 4.0, 26.2, 20.9},
                                {3.8, 4.0, 14.9, 4.1},
                                {14.9 + gap_m, 4.0, 26.2, 4.1}};
    read_model(GRADIN_SOURCE_DIR "/demo/flat_floor.yaml");
    for (int i = 0; i < 5; i++) put_box("wall", wall[i], 0.0, 3.0);
    cr_assert_eq(gradin_fit_check(arena, &model, &fit, NULL), GRADIN_OK);
    int n = 0;
    for (int i = 0; i < model.seats.n_seat; i++) {
        gradin_vec3 at_m = model.seats.floor_m[i];
        n += at_m.z < 0.01 && at_m.x > 3.9 && at_m.x < 26.1 && at_m.y > 4.1 && at_m.y < 20.8;
    }
    return n;
}

Test(exits, an_audience_behind_walls_has_no_way_out) {
    int n = walled_in(0.0);
    cr_assert_gt(n, 100);
    cr_expect_eq(fit.n_cut_off, n, "%d of %d", fit.n_cut_off, n);
    cr_expect_not_null(fit.first_cut_off);
    cr_expect(!fit.is_met);
    walled_in(0.3);
    cr_expect_eq(fit.n_cut_off, n, "nobody passes 0.3 m");
    walled_in(0.45);
    cr_expect_eq(fit.n_cut_off, n, "nor 0.45 m, less than a person is broad");
    walled_in(0.8);
    cr_expect_eq(fit.n_cut_off, 0);
    cr_expect_null(fit.first_cut_off);
    cr_expect(fit.is_met);
}

/* The same pen made of rails, shut and with one side open. */
Test(exits, rails_are_no_way) {
    gradin_vec3 foot[5] = {
        {26.2, 4, 0}, {26.2, 20.9, 0}, {3.8, 20.9, 0}, {3.8, 4, 0}, {26.2, 4, 0}};
    gradin_rail rail = {.name = "pen", .point_m = foot, .n_point = 5, .height_m = 1.1};
    int n = walled_in(0.8);
    model.n_solid -= 5;
    model.rail = &rail;
    model.n_rail = 1;
    cr_assert_eq(gradin_fit_check(arena, &model, &fit, NULL), GRADIN_OK);
    cr_expect_eq(fit.n_cut_off, n);
    rail.n_point = 4;
    cr_assert_eq(gradin_fit_check(arena, &model, &fit, NULL), GRADIN_OK);
    cr_expect_eq(fit.n_cut_off, 0, "open to the south");
}

/* All places of a hall whose exits are all shut, but those of towers; without any exit in the files
 * nothing can be told. */
Test(exits, a_hall_whose_exits_are_shut_has_no_way_out) {
    gradin_element *door = gradin_arena_alloc(arena, (size_t)model.n_element, sizeof *door);
    memcpy(door, model.element, (size_t)model.n_element * sizeof *door);
    for (int i = 0; i < model.n_element; i++)
        if (door[i].exit != GRADIN_EXIT_NONE) door[i].exit = GRADIN_EXIT_WHEN_OPEN;
    for (int i = 0; i < model.n_element; i++) door[i].open = 0.0;
    model.element = door;
    cr_assert_eq(gradin_fit_check(arena, &model, &fit, NULL), GRADIN_OK);
    cr_expect_eq(fit.n_cut_off + fit.n_on_deck, model.seats.n_seat);
    int n_tower = 0;
    for (int i = 0; i < model.seats.n_seat; i++)
        n_tower += machinery.block_seating[model.seats.block[i]] == -1;
    cr_expect_eq(fit.n_on_deck, n_tower);
    for (int i = 0; i < model.n_element; i++) door[i].exit = GRADIN_EXIT_NONE;
    cr_assert_eq(gradin_fit_check(arena, &model, &fit, NULL), GRADIN_OK);
    cr_expect_eq(fit.n_cut_off, 0);
}

/* A lobby round the western door, 2.4 m deep: the floor before the door is free, but nobody of the
 * audience comes there. With 0.9 m open in its north wall it counts again. */
Test(exits, an_exit_that_nobody_can_reach_counts_for_nothing) {
    const gradin_box2 wall[] = {{1.4, 0, 1.5, 2.4}, {6.0, 0, 6.1, 2.4}, {1.4, 2.4, 6.1, 2.5}};
    double exit_m[2];
    for (int is_open = 0; is_open < 2; is_open++) {
        read_model(GRADIN_SOURCE_DIR "/demo/flat_floor.yaml");
        for (int i = 0; i < 3; i++) {
            gradin_box2 box = wall[i];
            if (i == 2 && is_open) box.x_max_m -= 1.0;
            put_box("lobby", box, 0.0, 3.0);
        }
        cr_assert_eq(gradin_fit_check(arena, &model, &fit, NULL), GRADIN_OK);
        cr_expect_eq(fit.n_cut_off, 0);
        exit_m[is_open] = fit.exit_m;
        if (is_open) break;
        cr_assert_eq(fit.n_exit_blocked, 2);
        cr_expect_str_eq(fit.exit[1].name, "foyer west");
        cr_expect_str_eq(fit.exit[1].reason, "no place has a way to it");
    }
    cr_expect_float_eq(exit_m[0], 2.0, 1e-9, "%g m", exit_m[0]);
    cr_expect_float_eq(exit_m[1], 4.0, 1e-9, "%g m", exit_m[1]);
}

/* The same lobby with a counter before half of its door: what nobody reaches is not told as half
 * free. */
Test(exits, an_exit_that_is_left_out_is_not_narrowed) {
    const gradin_box2 wall[] = {{1.4, 0, 1.5, 2.4}, {6.0, 0, 6.1, 2.4}, {1.4, 2.4, 6.1, 2.5}};
    for (int is_shut = 0; is_shut < 2; is_shut++) {
        read_model(GRADIN_SOURCE_DIR "/demo/flat_floor.yaml");
        put_box("counter", (gradin_box2){2.0, 0.3, 4.0, 0.5}, 0.0, 2.0);
        for (int i = 0; i < 3 && is_shut; i++) put_box("lobby", wall[i], 0.0, 3.0);
        cr_assert_eq(gradin_fit_check(arena, &model, &fit, NULL), GRADIN_OK);
        cr_expect_eq(fit.n_exit_narrowed, is_shut ? 0 : 1);
        cr_expect_eq(fit.n_exit_blocked, is_shut ? 2 : 1);
        cr_expect_float_eq(fit.exit_m, is_shut ? 2.0 : 3.0, 1e-9, "%g m", fit.exit_m);
    }
}
