/* Lengths as people read them. */
#include "base/lengths.h"

#include <criterion/criterion.h>

static void expect(length_unit unit, double length_m, const char *text) {
    char out[LENGTH_CHARS];
    cr_expect_str_eq(length_text(out, length_m, unit), text);
}

/* A foot is 0.3048 m, an inch a twelfth of it: exact by definition (ISO 80000-3, annex C). */
Test(lengths, follow_the_units_of_the_file) {
    expect(length_unit_of("m"), 5.267, "5.27 m");
    expect(length_unit_of("ft"), 1.6128, "5.29 ft"); /* 5 ft 3 1/2 in */
    expect(small_unit_of("m"), 0.0896, "90 mm");
    expect(small_unit_of("ft"), 0.0889, "3.5 in");
    expect(small_unit_of("ft"), -0.0254, "-1.0 in");
    expect(stated_unit_of("m"), 0.8, "0.800 m");
    expect(stated_unit_of("ft"), 0.8, "2.625 ft");
    expect((length_unit){"", 1.0, 3}, 0.5, "0.500");
}

Test(lengths, metres_where_no_unit_is_stated) {
    expect(length_unit_of(NULL), 1.0, "1.00 m");
    expect(length_unit_of(""), 1.0, "1.00 m");
    cr_expect_eq(unit_length_m("ft"), 0.3048);
    cr_expect_eq(unit_length_m("m"), 1.0);
    cr_expect(is_feet("ft") && !is_feet("m") && !is_feet("f") && !is_feet(NULL));
}

Test(lengths, what_is_not_finite_is_nothing) {
    char out[LENGTH_CHARS];
    cr_expect_str_eq(length_text(out, NAN, length_unit_of("ft")), "");
    cr_expect_str_eq(length_number(out, INFINITY, small_unit_of("m")), "");
    cr_expect_str_eq(length_number(out, 0.3048, length_unit_of("ft")), "1.00");
}
