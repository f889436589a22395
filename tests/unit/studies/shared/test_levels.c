/* Seats summed up by level, counted by hand. */
#include "studies/shared/levels.h"

#include <criterion/criterion.h>

Test(levels, every_seat_counts_at_its_own_level) {
    int level[] = {1, 0, 1, 1, 0};
    double visible[] = {0.5, 1.0, 0.7, 0.6, 0.8};
    gradin_rating rating[] = {GRADIN_RATING_POOR, GRADIN_RATING_CLEAR, GRADIN_RATING_FAIR,
                              GRADIN_RATING_POOR, GRADIN_RATING_GOOD};
    gradin_model model = {.n_level = 3, .seats = {.n_seat = 5, .level = level}};
    gradin_sight sight = {.n_seat = 5, .visible = visible, .rating = rating};
    gradin_arena *arena = gradin_arena_create();
    gradin_level_sum *sum = NULL;
    const int wanted[3][GRADIN_N_RATING] = {{1, 1, 0, 0}, {0, 0, 1, 2}, {0, 0, 0, 0}};
    const int n_seat[3] = {2, 3, 0};
    cr_assert_eq(studies_levels(arena, &model, &sight, &sum), GRADIN_OK);
    for (int k = 0; k < 3; k++) {
        cr_assert_eq(sum[k].n_seat, n_seat[k]);
        cr_assert_arr_eq(sum[k].n_rating, wanted[k], sizeof wanted[k]);
    }
    cr_assert_eq(sum[0].visible.least, 0.8);
    cr_assert_eq(sum[0].visible.most, 1.0);
    cr_assert_eq(sum[1].visible.least, 0.5);
    cr_assert_eq(sum[1].visible.median, 0.6);
    cr_assert(isnan(sum[2].visible.median), "nobody sits there");
    gradin_arena_destroy(arena);
}
