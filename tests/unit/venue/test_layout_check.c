/* Layouts made in memory against the travels and the interlocks of their venue. Nothing has a place
 * in a file: complaints name the machine. */
#include "support/memory_hall.h"

#include <criterion/criterion.h>

static gradin_setting *set_of(memory_hall *h, const char *machine) {
    int index = gradin_machine_find(&h->venue, machine);
    cr_assert(index >= 0, "%s", machine);
    return &h->layout.machine[index].set;
}

static void expect_refused(memory_hall *h, const char *text) {
    gradin_status status = gradin_layout_check(h->arena, &h->venue, &h->layout, &h->error);
    cr_expect_eq(status, GRADIN_BAD_INPUT, "accepted: %s", text);
    cr_expect_eq(h->error.n_diagnostic, 1);
    cr_expect_str_eq(memory_hall_first(h), text);
    memory_hall_close(h);
}

Test(layout_check, a_layout_as_it_should_be_passes) {
    memory_hall h;
    memory_hall_furnish(&h);
    cr_expect_eq(gradin_layout_check(h.arena, &h.venue, &h.layout, &h.error), GRADIN_OK, "%s",
                 memory_hall_first(&h));
    memory_hall_close(&h);
}

Test(layout_check, machines_stay_within_their_travel) {
    memory_hall h;
    memory_hall_make(&h);
    set_of(&h, "T hoist")->position = 2.1;
    expect_refused(&h, "T hoist: would be at 2.100 m; its travel is 0.000 to 2.000 m");
    memory_hall_make(&h);
    h.layout.units = "ft";
    *set_of(&h, "L-A1") = (gradin_setting){.position = -1.01, .n_step = 1};
    expect_refused(&h, "L-A1: would be at -3.314 ft; its travel is -3.281 to 6.562 ft");
    memory_hall_make(&h);
    set_of(&h, "door")->position = 1.5;
    expect_refused(&h, "door: would be at 1.500; its travel is 0.000 to 1.000");
}

Test(layout_check, sections_make_only_the_treads_that_they_can) {
    memory_hall h;
    memory_hall_make(&h);
    set_of(&h, "L-B2")->position = 1.9;
    expect_refused(&h, "L-B2: its highest tread would be at 2.100 m; "
                       "its travel is -1.000 to 2.000 m");
    memory_hall_make(&h);
    set_of(&h, "L-B2")->n_step = 3;
    expect_refused(&h, "L-B2: it cannot make 3 treads; it makes at most 2");
    memory_hall_make(&h);
    set_of(&h, "L-B2")->riser_m = 0.51;
    expect_refused(&h, "L-B2: its treads would stand 0.510 m apart; it makes "
                       "0.000 to 0.500 m");
    memory_hall_make(&h);
    set_of(&h, "L-B2")->facing_deg = 180.0;
    expect_refused(&h, "L-B2: it cannot terrace towards a bearing of 180.0 deg");
    memory_hall_make(&h);
    set_of(&h, "T slide")->n_step = 2;
    expect_refused(&h, "T slide: it cannot make 2 treads; it makes at most 1");
}

Test(layout_check, the_header_of_an_arch_that_is_in_hangs_within_its_trim) {
    memory_hall h;
    memory_hall_make(&h);
    h.layout.is_arch_in = true;
    expect_refused(&h, "arch: hangs in, but its header is out of its trim");
}

Test(layout_check, nothing_closes_an_arch_that_is_out) {
    memory_hall h;
    memory_hall_furnish(&h);
    h.layout.is_arch_in = false;
    expect_refused(&h, "curtain: comes down only while arch is in");
}

/* Every holder counts, not only the first: the second tower of two that must be low is high. */
Test(layout_check, an_interlock_holds_for_each_of_its_holders) {
    memory_hall h;
    memory_hall_furnish(&h);
    int holders[2] = {gradin_machine_find(&h.venue, "T hoist"),
                      gradin_machine_find(&h.venue, "L-A1")};
    h.interlock[0].holder = holders;
    h.interlock[0].n_holder = 2;
    set_of(&h, "T slide")->position = 0.2;
    expect_refused(&h, "interlock 'slides low': T slide stands at 0.200 only while L-A1 is within "
                       "0.000 to 0.500 m; it is at 0.500 to 0.700");
}

/* A mover that is a terrace is named by its lowest and highest tread. */
Test(layout_check, an_interlock_tells_both_ends_of_a_terrace) {
    memory_hall h;
    memory_hall_furnish(&h);
    int mover = gradin_machine_find(&h.venue, "L-B2");
    h.interlock[0].mover = &mover;
    h.interlock[0].at[0] = 0.65;
    h.interlock[0].at[1] = 2.0;
    set_of(&h, "T hoist")->position = 0.6;
    expect_refused(&h,
                   "interlock 'slides low': L-B2 stands at 0.500 to 0.700 only while T hoist is "
                   "within 0.000 to 0.500 m; it is at 0.600");
}

Test(layout_check, an_interlock_in_feet) {
    memory_hall h;
    memory_hall_furnish(&h);
    h.layout.units = "ft";
    set_of(&h, "T hoist")->position = 1.524;
    set_of(&h, "T slide")->position = 0.1524;
    expect_refused(&h, "interlock 'slides low': T slide stands at 0.500 only while T hoist is "
                       "within 0.000 to 1.640 ft; it is at 5.000");
}

Test(layout_check, an_interlock_counts_at_its_positions_alone) {
    memory_hall h;
    memory_hall_furnish(&h);
    set_of(&h, "T hoist")->position = 1.0;
    set_of(&h, "T slide")->position = 0.05;
    cr_expect_eq(gradin_layout_check(h.arena, &h.venue, &h.layout, &h.error), GRADIN_OK);
    set_of(&h, "T slide")->position = 0.15;
    expect_refused(&h, "interlock 'slides low': T slide stands at 0.150 only while T hoist is "
                       "within 0.000 to 0.500 m; it is at 1.000");
}
