/* Models of venues and layouts that no file states. */
#include "gradin/model.h"
#include "support/memory_hall.h"

#include <criterion/criterion.h>
#include <string.h>

static gradin_status build(memory_hall *h, gradin_model *model) {
    return gradin_model_build(h->arena, &h->venue, &h->layout, model, &h->error);
}

static void expect_refused(memory_hall *h, const char *text) {
    gradin_model model;
    cr_expect_eq(build(h, &model), GRADIN_BAD_INPUT, "accepted: %s", text);
    cr_expect_str_eq(memory_hall_first(h), text);
    memory_hall_close(h);
}

/* 2 x 2 sections of 2 m with two treads of 1 m: 4 rows of 8 seats of 0.5 m; the tower: 2 rows of 4.
 */
Test(build, a_small_hall_in_memory) {
    memory_hall h;
    gradin_model m;
    memory_hall_make(&h);
    cr_assert_eq(build(&h, &m), GRADIN_OK, "%s", memory_hall_first(&h));
    cr_expect_eq(m.seats.n_seat, 4 * 8 + 2 * 4);
    cr_expect_str_eq(m.seats.id[0], "Stalls-1-1");
    cr_expect_float_eq(m.seats.eye_m[0].x, 4.25, 1e-12);
    cr_expect_float_eq(m.seats.eye_m[0].y, 5.5, 1e-12);
    cr_expect_float_eq(m.seats.eye_m[0].z, 0.5 + 1.12, 1e-12);
    cr_expect_float_eq(m.seats.eye_m[8].z, 0.7 + 1.12, 1e-12, "the second row, a tread higher");
    cr_expect_eq(m.n_element, 5);
    cr_expect_eq(m.n_section, 4);
    cr_expect_eq(m.section[1].machine->setting.n_step, 2);
    cr_expect_eq(m.section[1].machine->drive.speed_per_s, 0.05);
    cr_expect_eq(m.section[1].grid, h.venue.grid);
    cr_expect_str_eq(m.digest, "", "nothing was read");
    cr_expect_eq(m.n_note, 0);
    memory_hall_close(&h);
}

Test(build, one_of_everything) {
    memory_hall h;
    gradin_model m;
    memory_hall_furnish(&h);
    cr_assert_eq(build(&h, &m), GRADIN_OK, "%s", memory_hall_first(&h));
    cr_expect_eq(m.n_block, 5, "four of the layout, one of the tower");
    cr_expect_eq(m.n_element, 6);
    cr_expect_eq(m.n_vomitory, 1);
    cr_expect_eq(m.n_aisle, 1);
    cr_expect(m.divide && m.divide->closed == 0.5);
    cr_expect_eq(m.element[4].open, 1.0);
    cr_expect_eq(m.machinery->block_seating[0], 0);
    cr_expect_eq(m.machinery->block_seating[4], -1);
    memory_hall_close(&h);
}

/* The seats of a lift that is set otherwise stand otherwise, whether anything was checked or not:
 * the layout itself stays as it was stated. */
Test(build, the_layout_is_left_as_it_was) {
    memory_hall h;
    gradin_model m;
    memory_hall_furnish(&h);
    memory_hall before = h;
    cr_assert_eq(build(&h, &m), GRADIN_OK);
    cr_expect_eq(memcmp(&before.layout, &h.layout, sizeof h.layout), 0);
    cr_expect_eq(memcmp(&before.venue, &h.venue, sizeof h.venue), 0);
    cr_expect_eq(memcmp(before.block, h.block, sizeof h.block), 0);
    cr_expect(isnan(h.focus[0].z_m) && m.focus[0].z_m == 0.0);
    memory_hall_close(&h);
}

/* From y_m to y = 11, broader than the lifts: its corners and its middle lie on the fixed floor. */
static void lay_stage_behind_lifts(memory_hall *h, double y_m) {
    h->stage[0] = (gradin_vec2){1, y_m};
    h->stage[1] = (gradin_vec2){11, y_m};
    h->stage[2] = (gradin_vec2){11, 11};
    h->stage[3] = (gradin_vec2){1, 11};
}

/* The lifts end at y = 6. */
Test(build, a_focus_that_ends_at_a_lift_lies_on_one_level) {
    memory_hall h;
    gradin_model m;
    memory_hall_make(&h);
    lay_stage_behind_lifts(&h, 6.0);
    cr_assert_eq(build(&h, &m), GRADIN_OK, "%s", memory_hall_first(&h));
    cr_expect_eq(m.focus[0].z_m, 0.0);
    memory_hall_close(&h);
}

Test(build, what_cannot_stand_is_named) {
    memory_hall h;
    memory_hall_furnish(&h);
    h.block[1].name = "Stalls";
    expect_refused(&h, "two blocks are named 'Stalls'");
    memory_hall_make(&h);
    h.rail[0].height_m = 0.79;
    expect_refused(&h, "back.height: is below the 0.800 m that the venue's own local rules allow; "
                       "local code and a licensed professional decide");
    memory_hall_make(&h);
    h.stage[1].x = h.stage[2].x = 12.1;
    expect_refused(&h, "focus stage lies outside the room's footprint");
    memory_hall_make(&h);
    h.stage[0] = (gradin_vec2){5, 5.5};
    h.stage[1] = (gradin_vec2){7, 5.5};
    h.stage[2].x = 7.0;
    h.stage[3].x = 5.0;
    expect_refused(&h, "focus stage lies over surfaces of several heights; give z");
    memory_hall_make(&h);
    lay_stage_behind_lifts(&h, 5.5);
    expect_refused(&h, "focus stage lies over surfaces of several heights; give z");
    memory_hall_make(&h);
    h.block[0].row_depth_m = 1.01;
    expect_refused(&h, "Stalls: fills no seat: row_depth or seat_width is larger than a tread");
    memory_hall_make(&h);
    h.block[0].facing_deg = 90.0;
    expect_refused(&h, "Stalls: fills L-A1, which faces 0 deg while the block faces 90 deg");
    memory_hall_make(&h);
    h.layout.n_block = 0;
    h.layout.is_seated[0] = false;
    expect_refused(&h, "the layout has no seat");
    memory_hall_make(&h);
    gradin_machine_state *machine = h.layout.machine;
    machine[gradin_machine_find(&h.venue, "T slide")].set.position = 3.0;
    machine[gradin_machine_find(&h.venue, "L-B1")].set.position = 1.0;
    expect_refused(&h, "machines clash: T low meets L-B1 between 0.80 m and 1.00 m");
}

/* The first row of a raked block stands at its base, with one riser for all as with none. */
Test(build, a_riser_for_all_lies_between_rows) {
    memory_hall h;
    gradin_model m;
    double each_m[3] = {0.1, 0.2, 0.3};
    memory_hall_make(&h);
    gradin_block raked = gradin_block_defaults();
    raked.name = "Raked";
    raked.seat_width_m = 0.5;
    raked.row_depth_m = 0.8;
    raked.n_row = 3;
    raked.n_seat = 1;
    raked.front_m = (gradin_vec2){2.0, 7.0};
    raked.facing_deg = 0.0;
    raked.base_m = 0.25;
    raked.riser_m = 0.15;
    h.block[0] = raked;
    cr_assert_eq(build(&h, &m), GRADIN_OK, "%s", memory_hall_first(&h));
    for (int k = 0; k < 3; k++) cr_expect_float_eq(m.seats.floor_m[k].z, 0.25 + 0.15 * k, 1e-12);
    h.block[0].rise_m = each_m;
    cr_assert_eq(build(&h, &m), GRADIN_OK, "%s", memory_hall_first(&h));
    cr_expect_float_eq(m.seats.floor_m[0].z, 0.35, 1e-12, "a list has the first row's, too");
    cr_expect_float_eq(m.seats.floor_m[2].z, 0.85, 1e-12);
    memory_hall_close(&h);
}

/* Two raised rows of four seats of 0.5 m about x = 2, facing north. */
static gradin_block raked_rows(void) {
    gradin_block raked = gradin_block_defaults();
    raked.name = "Raked";
    raked.seat_width_m = 0.5;
    raked.row_depth_m = 0.8;
    raked.n_row = 2;
    raked.n_seat = 4;
    raked.front_m = (gradin_vec2){2.0, 7.0};
    raked.facing_deg = 0.0;
    raked.base_m = 0.25;
    raked.riser_m = 0.15;
    return raked;
}

/* Builds the hall with the block and expects its platforms between these ends. */
static void expect_platforms(memory_hall *h, gradin_block block, const double ends_m[2][2]) {
    gradin_model m;
    h->block[0] = block;
    cr_assert_eq(build(h, &m), GRADIN_OK, "%s", memory_hall_first(h));
    cr_assert_eq(m.n_platform, 2);
    for (int row = 0; row < 2; row++) {
        gradin_box2 box = gradin_polygon_bounds(m.platform[row].polygon);
        cr_expect_float_eq(box.x_min_m, ends_m[row][0], 1e-9, "row %d: %g", row + 1, box.x_min_m);
        cr_expect_float_eq(box.x_max_m, ends_m[row][1], 1e-9, "row %d: %g", row + 1, box.x_max_m);
        for (int i = 0; i < m.seats.n_seat; i++) {
            double x_m = m.seats.floor_m[i].x;
            if (m.seats.block[i] == 0 && m.seats.row[i] == row + 1)
                cr_expect(x_m - 0.25 > box.x_min_m - 1e-9 && x_m + 0.25 < box.x_max_m + 1e-9,
                          "row %d: the seat at %g hangs over", row + 1, x_m);
        }
    }
}

/* The first row from 1 to 3 m. Half a seat to the right the second sits from 1.25 to 3.25 m, to the
 * left from 0.75 to 2.75 m; its platform carries that and keeps the other end in line. */
Test(build, a_platform_carries_every_seat_of_a_row_that_is_shifted) {
    memory_hall h;
    memory_hall_make(&h);
    gradin_block raked = raked_rows();
    expect_platforms(&h, raked, (const double[2][2]){{1.0, 3.0}, {1.0, 3.0}});
    raked.stagger = 0.5;
    expect_platforms(&h, raked, (const double[2][2]){{1.0, 3.0}, {1.0, 3.25}});
    raked.stagger = -0.5;
    expect_platforms(&h, raked, (const double[2][2]){{1.0, 3.0}, {0.75, 3.0}});
    memory_hall_close(&h);
}

/* Three seats of 0.5 m about x = 2 reach from 1.25 to 2.75 m, five from 0.75 to 3.25 m. */
Test(build, a_platform_is_as_wide_as_its_own_row) {
    memory_hall h;
    memory_hall_make(&h);
    static const int row_seat[2] = {3, 5};
    gradin_block raked = raked_rows();
    raked.n_seat = 0;
    raked.row_seat = row_seat;
    expect_platforms(&h, raked, (const double[2][2]){{1.25, 2.75}, {0.75, 3.25}});
    memory_hall_close(&h);
}

/* 200 rows of 101 places: one row too many. */
Test(build, too_many_seats_are_refused_by_block) {
    memory_hall h;
    memory_hall_furnish(&h);
    h.block[1].n_row = 200;
    h.block[1].n_seat = 101;
    h.block[1].depth_m = h.block[1].rise_m = NULL;
    h.block[1].row_depth_m = 0.9;
    expect_refused(&h, "Side: brings the layout over 20000 seats");
}

/* A limit of 0, as zeroed memory has it, is none. */
Test(build, loads_that_are_not_stated_are_no_limit) {
    memory_hall h;
    gradin_model m;
    memory_hall_make(&h);
    h.grid[0].load_limit = h.level[0].load_limit = h.venue.floor_load = (gradin_load_limit){0};
    h.tower[0].most_kg = 0.0;
    cr_assert_eq(build(&h, &m), GRADIN_OK);
    cr_expect_not(m.machinery->loads.is_stated);
    for (int i = 0; i < m.machinery->loads.n_carrier; i++)
        cr_expect(isnan(m.machinery->loads.carrier[i].limit.total_kn));
    memory_hall_close(&h);
}
