/* Which occluder is named the worst. */
#include "../hall.h"

#include <criterion/criterion.h>

static hall h;

/* Two walls of a breadth each before an eye in the middle: what each hides is in proportion to its
 * breadth, since both stand on one line across (similar triangles). */
static int worst_of(double left_m, double right_m) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, 0.0, 10.0, 4.0, 0.0, 1.0);
    int seat = hall_seat(&h, 0.0, 12.0, 1.2);
    hall_solid(&h, -1.0, 3.0, left_m, 0.01, 0.0, 5.0, GRADIN_CAUSE_STRUCTURE, 1);
    if (right_m > 0.0) hall_solid(&h, 1.0, 3.0, right_m, 0.01, 0.0, 5.0, GRADIN_CAUSE_STRUCTURE, 2);
    gradin_sight s = hall_compute(&h, arena, 1024, false);
    int worst = s.worst_occluder[seat];
    gradin_arena_destroy(arena);
    return worst;
}

Test(worst, the_worst_is_named_only_where_samples_tell_it) {
    cr_expect_eq(worst_of(1.0, 0.9), 1);
    cr_expect_eq(worst_of(0.9, 1.0), 2);
    cr_expect_eq(worst_of(1.0, 1.0), GRADIN_NONE_CLEARLY);
    cr_expect_eq(worst_of(0.999, 1.0), GRADIN_NONE_CLEARLY);
    cr_expect_eq(worst_of(0.1, 0.0), 1);
    cr_expect_eq(worst_of(0.001, 0.0), -1); /* less than a thousandth of the floor */
}
