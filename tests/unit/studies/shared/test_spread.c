/* Percentiles: definition 7 of Hyndman and Fan, The American Statistician 50 (1996) 361-365 (from
 * memory); the figures are those of numpy.percentile(), whose default it is. */
#include "base/faults.h"
#include "studies/shared/spread.h"

#include <criterion/criterion.h>
#include <stdlib.h>

static gradin_spread spread_of(const double *value, int n) {
    gradin_arena *arena = gradin_arena_create();
    gradin_spread spread;
    cr_assert_eq(studies_spread(arena, value, n, &spread), GRADIN_OK);
    gradin_arena_destroy(arena);
    return spread;
}

static void expect(gradin_spread s, double least, double p10, double median, double p90,
                   double most) {
    cr_assert_float_eq(s.least, least, 1e-12);
    cr_assert_float_eq(s.p10, p10, 1e-12);
    cr_assert_float_eq(s.median, median, 1e-12);
    cr_assert_float_eq(s.p90, p90, 1e-12);
    cr_assert_float_eq(s.most, most, 1e-12);
}

Test(spread, five_values_in_any_order) {
    const double value[] = {10.0, 2.0, 4.0, 1.0, 3.0};
    expect(spread_of(value, 5), 1.0, 1.4, 3.0, 7.6, 10.0);
}

Test(spread, an_even_count) {
    const double value[] = {4.0, -1.0, 2.5, 7.0};
    expect(spread_of(value, 4), -1.0, 0.05, 3.25, 6.1, 7.0);
}

Test(spread, one_value_is_all_of_them) {
    const double value[] = {-3.5};
    expect(spread_of(value, 1), -3.5, -3.5, -3.5, -3.5, -3.5);
}

Test(spread, eleven_values_hit_their_ranks) {
    double value[11];
    for (int i = 0; i < 11; i++) value[i] = (i * 7) % 11;
    expect(spread_of(value, 11), 0.0, 1.0, 5.0, 9.0, 10.0);
}

Test(spread, values_that_are_not_finite_are_left_out) {
    const double value[] = {NAN, 1.0, INFINITY, 3.0, -INFINITY, NAN};
    expect(spread_of(value, 6), 1.0, 1.2, 2.0, 2.8, 3.0);
}

Test(spread, without_a_value_all_are_nan) {
    const double value[] = {NAN, NAN};
    const gradin_spread s[] = {spread_of(value, 2), spread_of(NULL, 5), spread_of(value, 0)};
    for (int k = 0; k < 3; k++) {
        cr_assert(isnan(s[k].least) && isnan(s[k].p10) && isnan(s[k].median));
        cr_assert(isnan(s[k].p90) && isnan(s[k].most));
    }
}

Test(spread, the_input_stays_as_it_was) {
    const double before[] = {3.0, 1.0, 2.0};
    double value[] = {3.0, 1.0, 2.0};
    spread_of(value, 3);
    cr_assert_arr_eq(value, before, sizeof before);
}

Test(spread, order_statistics_are_in_order) {
    double value[257];
    unsigned state = 12345;
    for (int n = 1; n <= 257; n++) {
        for (int i = 0; i < n; i++)
            value[i] = (double)((state = state * 1103515245u + 12345u) >> 8);
        gradin_spread s = spread_of(value, n);
        cr_assert(s.least <= s.p10 && s.p10 <= s.median && s.median <= s.p90 && s.p90 <= s.most,
                  "%d values", n);
    }
}

Test(spread, a_lack_of_memory_is_reported) {
    gradin_arena *arena = gradin_arena_create();
    gradin_spread s;
    const double value[] = {1.0};
    gradin_alloc_fail_at(1);
    cr_assert_eq(studies_spread(arena, value, 1, &s), GRADIN_NO_MEMORY);
    gradin_alloc_fail_at(0);
    gradin_arena_destroy(arena);
}
