/* Venues made in memory whose parts do not fit together. */
#include "support/memory_hall.h"

#include <criterion/criterion.h>

static void expect_refused(memory_hall *h, const char *text) {
    cr_expect_eq(gradin_venue_check(h->arena, &h->venue, &h->error), GRADIN_BAD_INPUT,
                 "accepted: %s", text);
    cr_expect_str_eq(memory_hall_first(h), text);
    memory_hall_close(h);
}

Test(check_venue, glass_stands_in_walls_below_the_ceiling) {
    memory_hall h;
    memory_hall_make(&h);
    h.facade[0].start_m.x = 0.06;
    expect_refused(&h, "west does not lie on an edge of the room's footprint");
    memory_hall_make(&h);
    h.facade[0].sill_m = 5.01;
    expect_refused(&h, "west reaches above the ceiling");
}

Test(check_venue, lifts_stand_in_the_room_beside_each_other) {
    memory_hall h;
    memory_hall_make(&h);
    h.grid[0].origin_m.x = 8.01;
    expect_refused(&h, "lifts L reach outside the room's footprint");
}

Test(check_venue, rows_fit_on_their_tower) {
    memory_hall h;
    memory_hall_make(&h);
    h.tower[0].depth_m = 1.79;
    expect_refused(
        &h, "T low.rows: do not fit: front + rows x row_depth is more than the tower's depth");
}

Test(check_venue, a_tower_s_rail_keeps_the_venue_s_own_rule) {
    memory_hall h;
    memory_hall_make(&h);
    h.level[0].rail_height_m = 0.79;
    expect_refused(&h, "T low rail.height: is below the 0.800 m that the venue's own local rules "
                       "allow; local code and a licensed professional decide");
}

Test(check_venue, levels_rise) {
    memory_hall h;
    memory_hall_make(&h);
    gradin_tower_level two[2] = {h.level[0], h.level[0]};
    two[1].name = "high";
    h.tower[0].level = two;
    h.tower[0].n_level = 2;
    expect_refused(&h, "T high.deck: must be above the level before it");
}

Test(check_venue, an_arch_opens_no_wider_than_its_line) {
    memory_hall h;
    memory_hall_make(&h);
    h.arch.line_m[1].x = 9.9;
    expect_refused(&h, "arch.opening: is wider than the line that carries the arch");
}

Test(check_venue, an_interlock_can_be_kept) {
    memory_hall h;
    memory_hall_furnish(&h);
    h.interlock[0].within[0] = h.interlock[0].within[1] = 2.1;
    expect_refused(&h, "slides low: T hoist never gets within its range");
}
