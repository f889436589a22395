/* Worked examples of rakes, reference/sightline-examples. */
#include "gradin/sightline.h"
#include "support/reference.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { MAX_ROW = 64 };

static reference table;

/* Number of the row of `example` whose quantity begins with the text. */
static double figure(const char *example, const char *quantity) {
    for (int i = 0; i < table.n_row; i++)
        if (strcmp(reference_text(&table, i, "example"), example) == 0 &&
            strncmp(reference_text(&table, i, "quantity"), quantity, strlen(quantity)) == 0)
            return reference_number(&table, i, "value");
    cr_assert_fail("%s of %s", quantity, example);
    return NAN;
}

static int expect_rows(const char *example, const char *what, const double *r_m, int n_row,
                       double less_m) {
    int n = 0;
    for (int i = 0; i < table.n_row; i++) {
        int row;
        char format[80];
        snprintf(format, sizeof format, "%s row %%d", what);
        if (strcmp(reference_text(&table, i, "example"), example) != 0 ||
            sscanf(reference_text(&table, i, "quantity"), format, &row) != 1)
            continue;
        cr_assert(row >= 1 && row <= n_row);
        double want_m = reference_number(&table, i, "value");
        cr_expect(fabs(r_m[row - 1] - less_m - want_m) < 1e-6, "%s, row %d: %f, not %f", example,
                  row, r_m[row - 1] - less_m, want_m);
        n++;
    }
    return n;
}

/* Forty rows of a stadium, clearance 0.2 m over the eye in front. */
Test(examples, rake_of_a_published_problem) {
    double r_m[MAX_ROW];
    reference_read("sightline-examples/examples.csv", &table);
    int n_row = (int)figure("rake-1", "rows");
    gradin_rake_constant_c(figure("rake-1", "point in front of row 1"),
                           figure("rake-1", "eye above ground"), figure("rake-1", "row depth"),
                           figure("rake-1", "clearance"), n_row, r_m);
    cr_expect_eq(
        expect_rows("rake-1", "seat above ground;", r_m, n_row, figure("rake-1", "eye above seat")),
        9);
    cr_expect(fabs(r_m[39] - r_m[38] - figure("rake-1", "step from row 39 to row 40")) < 1e-6);
}

/* A city's norms: k 0.12 m, row 1 at 5 m with the eye 1.10 m above the point, rows 0.9 m deep. */
Test(examples, rake_of_a_building_code) {
    double r_m[MAX_ROW];
    reference_read("sightline-examples/examples.csv", &table);
    gradin_rake_constant_c(5.0, 1.10, 0.90, figure("isoptica-1", "clearance k"), 8, r_m);
    cr_expect_eq(expect_rows("isoptica-1", "eye above the point;", r_m, 8, 0.0), 4);
}

/* A trade catalogue counts twice the clearance of a row over two rows. On a level line of sight C
 * over two rows of equal rise is twice that of one row. */
Test(examples, twice_the_clearance_over_two_rows) {
    reference_read("sightline-examples/examples.csv", &table);
    double one_m = figure("floor-1", "clearance counted") * 0.0254;
    double two_m = figure("floor-1", "clearance over two rows") * 0.0254;
    double far_m = 1e7;
    cr_expect(fabs(gradin_c_value_m(far_m, 0.0, one_m, 0.9) - one_m) < 1e-6);
    cr_expect(fabs(gradin_c_value_m(far_m, 0.0, 2.0 * one_m, 1.8) - two_m) < 1e-6);
}
