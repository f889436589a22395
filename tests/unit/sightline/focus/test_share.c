/* How many samples each area of a focus gets. Expected numbers by hand from n with w^0.8, which the
 * last test holds against a search for the least error. */
#include "sightline/focus/focus.h"
#include "unit/sightline/hall.h"

#include <criterion/criterion.h>

static hall h;
static gradin_vec2 line_m[2] = {{-5.0, -9.0}, {5.0, -9.0}};

static void start(void) {
    hall_start(&h);
}

TestSuite(share, .init = start);

static void upright(double high_m, double weight) {
    h.focus[h.model.n_focus++] = (gradin_focus){.name = "titles",
                                                .kind = GRADIN_FOCUS_UPRIGHT,
                                                .line_m = line_m,
                                                .n_line = 2,
                                                .bottom_m = 5.0,
                                                .top_m = 5.0 + high_m,
                                                .weight = weight};
}

Test(share, one_floor_has_all) {
    int n[GRADIN_MAX_FOCUS];
    hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 3.0);
    gradin_sight_share_out(&h.model, 1024, n);
    cr_assert_eq(n[0], 1024);
}

/* 64 and 4 m2 that count alike: claims of 0.941 by size and 0.5^0.8 = 0.574 by weight. */
Test(share, a_small_floor_has_what_its_weight_asks) {
    int n[GRADIN_MAX_FOCUS];
    hall_focus(&h, 0.0, -4.0, 8.0, 8.0, 0.0, 1.0);
    hall_focus(&h, 0.0, -4.0, 2.0, 2.0, 1.0, 1.0);
    gradin_sight_share_out(&h.model, 1024, n);
    cr_assert(n[0] == 636 && n[1] == 389, "%d, %d", n[0], n[1]);
}

/* 5 m2 beside 50 m2 of floor: a tenth as dense as the floor; half of 0.5^0.8 by weight. A weight
 * that is nothing leaves what the size asks, a size that is nothing a sixteenth. */
Test(share, an_upright_has_what_its_weight_or_its_size_asks) {
    int n[GRADIN_MAX_FOCUS];
    for (int k = 0; k < 3; k++) {
        hall_start(&h);
        hall_focus(&h, 0.0, -4.0, 10.0, 5.0, 0.0, 2.0);
        upright(k == 2 ? 0.01 : 0.5, k ? 1e-6 : 1.0);
        gradin_sight_share_out(&h.model, 1000, n);
        cr_assert_eq(n[0], 1000);
        cr_assert_eq(n[1], k == 0 ? 288 : k == 1 ? 100 : 62, "%d: %d", k, n[1]);
    }
}

Test(share, the_result_says_how_many) {
    gradin_arena *arena = gradin_arena_create();
    hall_focus(&h, 0.0, -4.0, 8.0, 8.0, 0.0, 1.0);
    upright(1.0, 0.5);
    hall_seat(&h, 0.0, 6.0, 1.2);
    gradin_sight s = hall_compute(&h, arena, 256, false);
    int n[GRADIN_MAX_FOCUS];
    gradin_sight_share_out(&h.model, 256, n);
    cr_assert(s.area_sample[0] >= n[0] && s.area_sample[1] >= n[1]);
    cr_assert_eq(s.area_sample[0] + s.area_sample[1], s.n_sample);
    gradin_arena_destroy(arena);
}

/* Two floors of one size, errors w n^-0.75: of all ways to share 1,000 samples the least error is
 * at w^0.8. What is shared out errs by at most an eighth more, for a light floor keeps what its
 * size asks. */
Test(share, errs_least) {
    for (int k = 1; k < 8; k++) {
        double weight = k / 8.0, least = INFINITY, given;
        int n[GRADIN_MAX_FOCUS];
        hall_start(&h);
        hall_focus(&h, 0.0, -4.0, 8.0, 8.0, 0.0, weight);
        hall_focus(&h, 0.0, -4.0, 8.0, 8.0, 2.0, 1.0 - weight);
        gradin_sight_share_out(&h.model, 1000, n);
        for (int i = 1; i < 1000; i++) {
            double a = weight * pow(i, -0.75), b = (1.0 - weight) * pow(1000 - i, -0.75);
            least = fmin(least, hypot(a, b));
        }
        given = hypot(weight * pow(n[0], -0.75), (1.0 - weight) * pow(n[1], -0.75));
        cr_assert(given <= 1.125 * least, "%g: %g, least %g", weight, given, least);
    }
}
