/* A table in feet: 1 ft = 0.3048 m and 1 in = 25.4 mm (NIST SP 811, appendix B.6), converted before
 * they are rounded. */
#include "table/shared/text.h"

#include <criterion/criterion.h>

static table_text text;

static void setup(void) {
    text = (table_text){.arena = gradin_arena_create(), .is_in_feet = true};
}
static void teardown(void) {
    gradin_arena_destroy(text.arena);
}
TestSuite(csv_feet, .init = setup, .fini = teardown);

Test(csv_feet, names_of_lengths_alone_are_changed) {
    table_put_columns(&text, "seat,x_m,c_mm,turn_deg,share_pct,x_m2,_m,m,mm,mass_kg,low_m\r\n");
    cr_expect_str_eq(text.bytes,
                     "seat,x_ft,c_in,turn_deg,share_pct,x_m2,_m,m,mm,mass_kg,low_ft\r\n");
}

/* 3.0484 m are 10.00131 ft, but to the millimetre 3.048 m, which are 10.000 ft; 12.45 mm are 0.490
 * in, but to the millimetre 12 mm, 0.472 in. */
Test(csv_feet, lengths_are_converted_before_they_are_rounded) {
    table_put_number(&text, TABLE_METRE, 3.0484);
    table_put(&text, ",");
    table_put_number(&text, TABLE_MILLIMETRE, 12.45);
    table_put(&text, ",");
    table_put_number(&text, TABLE_DEGREE, 30.0);
    table_put(&text, ",");
    table_put_number(&text, TABLE_METRE, NAN);
    cr_expect_str_eq(text.bytes, "10.001,0.49,30.0,");
}

Test(csv_feet, a_table_in_metres_stays) {
    text.is_in_feet = false;
    table_put_columns(&text, "x_m,c_mm\r\n");
    table_put_number(&text, TABLE_METRE, 3.0484);
    cr_expect_str_eq(text.bytes, "x_m,c_mm\r\n3.048");
}
