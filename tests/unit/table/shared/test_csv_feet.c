/* A table in feet: 1 ft = 0.3048 m and 1 in = 25.4 mm (NIST SP 811, appendix B.6). */
#include "gradin/table.h"

#include <criterion/criterion.h>
#include <string.h>

static gradin_arena *arena;

static void setup(void) {
    arena = gradin_arena_create();
}
static void teardown(void) {
    gradin_arena_destroy(arena);
}
TestSuite(csv_feet, .init = setup, .fini = teardown);

static void expect(const char *metric, const char *feet) {
    char *text = gradin_arena_copy_text(arena, metric);
    size_t size = strlen(metric);
    cr_assert_eq(gradin_csv_in_feet(arena, &text, &size, NULL), GRADIN_OK);
    cr_expect_str_eq(text, feet);
    cr_expect_eq(size, strlen(feet));
}

Test(csv_feet, lengths_alone_are_converted) {
    expect("seat,x_m,c_mm,turn_deg,share_pct\r\nA-1,3.048,-254,30.0,12.0\r\n",
           "seat,x_ft,c_in,turn_deg,share_pct\r\nA-1,10.000,-10.00,30.0,12.0\r\n");
    expect("nc,low_m\r\n40,0.001\r\n41,\r\n", "nc,low_ft\r\n40,0.003\r\n41,\r\n");
    expect("x_m2,_m,m,mm,mass_kg\r\n1,2,3,4,5\r\n", "x_m2,_m,m,mm,mass_kg\r\n1,2,3,4,5\r\n");
}

/* Commas, quotes and line breaks in quotes are no ends of cells. */
Test(csv_feet, quoted_cells_stay_whole) {
    expect("seat,note,x_m\r\n\"A, \"\"1\"\"\",\"two\r\nlines\",0.3048\r\n",
           "seat,note,x_ft\r\n\"A, \"\"1\"\"\",\"two\r\nlines\",1.000\r\n");
    expect("\"x, y_m\",z_m\r\n7,3.048\r\n", "\"x, y_m\",z_ft\r\n7,10.000\r\n");
}

Test(csv_feet, what_is_no_number_stays) {
    expect("x_m\r\n-\r\nabc\r\n", "x_ft\r\n-\r\nabc\r\n");
    expect("x_m,y_m\r\n3.048,1,2\r\n", "x_ft,y_ft\r\n10.000,3.281,2\r\n");
    expect("x_m", "x_ft");
}

Test(csv_feet, a_lack_of_memory_is_reported) {
    char bytes[] = "x_m\r\n1\r\n", *text = NULL;
    size_t size = 8;
    cr_assert_eq(gradin_csv_in_feet(arena, &text, &size, NULL), GRADIN_BAD_USE);
    text = bytes;
    cr_assert_eq(gradin_csv_in_feet(NULL, &text, &size, NULL), GRADIN_BAD_USE);
}
