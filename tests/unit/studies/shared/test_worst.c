/* The list of the worst seats against a full sort by the same order. */
#include "studies/shared/worst.h"

#include <criterion/criterion.h>
#include <stdlib.h>

enum { MANY = 500 };

static double visible[MANY];
static gradin_rating rating[MANY];
static gradin_sight sight;

static int compare(const void *a, const void *b) {
    int x = *(const int *)a, y = *(const int *)b;
    return studies_is_worse(&sight, x, y) ? -1 : studies_is_worse(&sight, y, x);
}

static void fill(int n, unsigned seed) {
    for (int i = 0; i < n; i++) {
        seed = seed * 1103515245u + 12345u;
        visible[i] = (double)((seed >> 16) % 20) / 20.0; /* many ties */
        rating[i] = (gradin_rating)((seed >> 8) % GRADIN_N_RATING);
    }
    sight = (gradin_sight){.n_seat = n, .visible = visible, .rating = rating};
}

Test(worst, order_is_rating_then_visible_then_index) {
    fill(4, 1);
    rating[0] = rating[1] = rating[2] = GRADIN_RATING_FAIR;
    rating[3] = GRADIN_RATING_POOR;
    visible[0] = visible[1] = 0.5;
    visible[2] = 0.4;
    visible[3] = 1.0;
    int seat[GRADIN_N_WORST];
    const int wanted[] = {3, 2, 0, 1};
    cr_assert_eq(studies_worst(&sight, seat), 4);
    cr_assert_arr_eq(seat, wanted, sizeof wanted);
}

Test(worst, equals_a_full_sort) {
    static int all[MANY];
    for (int n = 0; n <= MANY; n += n < 25 ? 1 : 95) {
        int seat[GRADIN_N_WORST];
        fill(n, (unsigned)n + 7);
        for (int i = 0; i < n; i++) all[i] = i;
        qsort(all, (size_t)n, sizeof *all, compare);
        int n_worst = studies_worst(&sight, seat);
        cr_assert_eq(n_worst, n < GRADIN_N_WORST ? n : GRADIN_N_WORST);
        for (int k = 0; k < n_worst; k++) cr_assert_eq(seat[k], all[k], "%d seats, rank %d", n, k);
    }
}
