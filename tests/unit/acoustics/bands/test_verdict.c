/* What is said of a level beside a limit. */
#include <criterion/criterion.h>

#include "gradin/acoustics/uncertainty.h"
#include "support/reference.h"

/* ISO 12999-1:2020, Table 8. */
Test(verdict, coverage_factors) {
    reference table;
    reference_read("iso-12999-1/coverage.csv", &table);
    for (int i = 0; i < table.n_row; i++) {
        double share = 0.01 * reference_number(&table, i, "two_sided_pct");
        double factor = gradin_coverage_factor(0.5 * (1.0 + share));
        cr_assert(fabs(factor - reference_number(&table, i, "factor")) < 0.0056, "%g: %g", share,
                  factor);
        cr_assert(fabs(gradin_chance_over(factor, 1.0) - 0.5 * (1.0 + share)) < 1e-9);
        cr_assert(fabs(gradin_chance_over(-3.0 * factor, 3.0) - 0.5 * (1.0 - share)) < 1e-9);
    }
    cr_assert(gradin_coverage_factor(0.5) < 1e-9);
}

/* 84 % to one side is one standard uncertainty (0.994). */
Test(verdict, too_near_is_between) {
    static const struct {
        double excess_db, uncertainty_db, confidence;
        gradin_verdict wanted;
    } c[] = {{-5.0, 5.0, 0.84, GRADIN_VERDICT_WITHIN},     {-4.9, 5.0, 0.84, GRADIN_VERDICT_NEAR},
             {4.9, 5.0, 0.84, GRADIN_VERDICT_NEAR},        {5.0, 5.0, 0.84, GRADIN_VERDICT_OVER},
             {0.0, 5.0, 0.84, GRADIN_VERDICT_NEAR},        {5.0, 5.0, 0.9, GRADIN_VERDICT_NEAR},
             {0.1, 5.0, 0.5, GRADIN_VERDICT_OVER},         {0.0, 5.0, 0.5, GRADIN_VERDICT_WITHIN},
             {-0.1, 5.0, 0.5, GRADIN_VERDICT_WITHIN},      {0.1, 0.0, 0.99, GRADIN_VERDICT_OVER},
             {0.0, 0.0, 0.99, GRADIN_VERDICT_WITHIN},      {NAN, 5.0, 0.84, GRADIN_VERDICT_NONE},
             {-INFINITY, 5.0, 0.84, GRADIN_VERDICT_WITHIN}};
    for (size_t i = 0; i < sizeof c / sizeof c[0]; i++) {
        gradin_verdict got =
            gradin_verdict_of(c[i].excess_db, c[i].uncertainty_db, c[i].confidence);
        cr_expect_eq(got, c[i].wanted, "case %zu: %s", i, gradin_verdict_name(got));
    }
    cr_expect_str_eq(gradin_verdict_name(GRADIN_VERDICT_NEAR), "too near to tell");
}

/* A level of 38 +- 5 dB is surely within 45 dB; with up to 2 dB more that is not in it still,
 * with 2.1 no longer, and never over for what may be nought. */
Test(verdict, despite_what_is_not_in_the_level) {
    const double sure = 0.841344746; /* one standard deviation */
    cr_expect_eq(gradin_verdict_despite(-7.0, 0.0, 5.0, sure), GRADIN_VERDICT_WITHIN);
    cr_expect_eq(gradin_verdict_despite(-7.0, 1.99, 5.0, sure), GRADIN_VERDICT_WITHIN);
    cr_expect_eq(gradin_verdict_despite(-7.0, 2.1, 5.0, sure), GRADIN_VERDICT_NEAR);
    cr_expect_eq(gradin_verdict_despite(-7.0, 40.0, 5.0, sure), GRADIN_VERDICT_NEAR);
    cr_expect_eq(gradin_verdict_despite(-4.0, 40.0, 5.0, sure), GRADIN_VERDICT_NEAR);
    cr_expect_eq(gradin_verdict_despite(6.0, 3.0, 5.0, sure), GRADIN_VERDICT_OVER);
    cr_expect_eq(gradin_verdict_despite(NAN, 3.0, 5.0, sure), GRADIN_VERDICT_NONE);
}

Test(verdict, of_two_limits) {
    const gradin_verdict none = GRADIN_VERDICT_NONE, within = GRADIN_VERDICT_WITHIN;
    const gradin_verdict near = GRADIN_VERDICT_NEAR, over = GRADIN_VERDICT_OVER;
    cr_expect_eq(gradin_verdict_both(none, none), none);
    cr_expect_eq(gradin_verdict_both(none, within), within);
    cr_expect_eq(gradin_verdict_both(over, none), over);
    cr_expect_eq(gradin_verdict_both(within, near), near);
    cr_expect_eq(gradin_verdict_both(near, over), over);
    cr_expect_eq(gradin_verdict_both(within, within), within);
}
