/* One list of machines: there and back by kind and item, by name, as parked. */
#include "support/memory_hall.h"

#include <criterion/criterion.h>
#include <string.h>

Test(machine_list, every_machine_is_found_by_its_own_kind_and_item_and_by_its_name) {
    memory_hall h;
    memory_hall_furnish(&h);
    const gradin_venue *v = &h.venue;
    bool has_kind[GRADIN_N_MACHINE_KIND] = {false};
    for (int i = 0; i < v->n_machine; i++) {
        const gradin_machine *m = &v->machine[i];
        cr_expect_eq(gradin_machine_index(v, m->kind, m->item), i, "%s", m->name);
        cr_expect_eq(gradin_machine_find(v, m->name), i, "%s", m->name);
        has_kind[m->kind] = true;
    }
    for (int kind = 0; kind < GRADIN_N_MACHINE_KIND; kind++) cr_expect(has_kind[kind], "%d", kind);
    memory_hall_close(&h);
}

Test(machine_list, what_no_machine_moves_has_none) {
    memory_hall h;
    memory_hall_make(&h);
    const gradin_venue *v = &h.venue;
    cr_expect_eq(gradin_machine_index(v, GRADIN_MACHINE_DOOR, 0), -1, "fixed glass");
    cr_expect_neq(gradin_machine_index(v, GRADIN_MACHINE_DOOR, 1), -1);
    cr_expect_eq(gradin_machine_index(v, GRADIN_MACHINE_CURTAIN, 0), -1);
    cr_expect_eq(gradin_machine_index(v, GRADIN_MACHINE_SECTION, 4), -1);
    cr_expect_eq(gradin_machine_index(v, GRADIN_MACHINE_SECTION, -1), -1);
    cr_expect_eq(gradin_machine_find(v, "T hois"), -1);
    cr_expect_eq(gradin_machine_find(v, NULL), -1);
    memory_hall_close(&h);
}

Test(machine_list, sections_are_named_row_by_row_from_the_south_west) {
    static const char *const names[] = {"L-A1", "L-B1", "L-A2", "L-B2"};
    memory_hall h;
    memory_hall_make(&h);
    cr_assert_eq(h.venue.n_section, 4);
    for (int i = 0; i < 4; i++) {
        const gradin_lift_section *s = &h.venue.section[i];
        cr_expect_str_eq(s->name, names[i]);
        cr_expect_eq(gradin_section_find(&h.venue, names[i]), i);
        cr_expect_eq(gradin_section_index(&h.venue, 0, s->column, s->row), i);
        cr_expect_eq(s->box.x_min_m, 4.0 + 2.0 * s->column);
        cr_expect_eq(s->box.y_max_m, 4.0 + 2.0 * s->row);
    }
    cr_expect_eq(gradin_section_index(&h.venue, 0, 2, 0), -1);
    memory_hall_close(&h);
}

Test(machine_list, two_machines_of_one_name_are_refused) {
    memory_hall h;
    memory_hall_make(&h);
    h.shade[0].name = "T hoist";
    cr_expect_eq(gradin_venue_complete(h.arena, &h.venue, &h.error), GRADIN_BAD_INPUT);
    cr_expect_str_eq(memory_hall_first(&h), "two machines are named 'T hoist'");
    memory_hall_close(&h);
}

Test(machine_list, parked_the_arch_hangs_at_the_ceiling) {
    memory_hall h;
    memory_hall_make(&h);
    const gradin_machine_state *state = h.layout.machine;
    cr_expect_eq(state[gradin_machine_find(&h.venue, "arch trim")].set.position, 8.0);
    cr_expect_eq(state[gradin_machine_find(&h.venue, "arch opening")].set.position, 10.0);
    cr_expect_eq(state[gradin_machine_find(&h.venue, "T hoist")].set.position, 0.0);
    memory_hall_close(&h);
}

/* What no layout sets stands at nought, or as near to it as its travel goes. */
Test(machine_list, a_parked_machine_stands_within_its_travel) {
    static const double travel_m[][3] = {
        {-1.0, 2.0, 0.0}, {0.5, 2.0, 0.5}, {-2.0, -0.3, -0.3}, {0.0, 2.0, 0.0}};
    for (int k = 0; k < 4; k++) {
        memory_hall h;
        memory_hall_make(&h);
        for (int end = 0; end < 2; end++)
            h.grid[0].travel_m[end] = h.tower[0].hoist_m[end] = h.tower[0].slide_m[end] =
                travel_m[k][end];
        cr_assert_eq(gradin_venue_complete(h.arena, &h.venue, &h.error), GRADIN_OK);
        const gradin_machine_kind kinds[] = {GRADIN_MACHINE_SECTION, GRADIN_MACHINE_HOIST,
                                             GRADIN_MACHINE_SLIDE};
        for (int i = 0; i < 3; i++)
            cr_expect_eq(
                h.venue.machine[gradin_machine_index(&h.venue, kinds[i], 0)].setting.position,
                travel_m[k][2], "travel %g to %g", travel_m[k][0], travel_m[k][1]);
        memory_hall_close(&h);
    }
}
