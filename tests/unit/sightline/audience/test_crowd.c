/* Audiences drawn from anthropometry: the generator's published answers, the moments of the draws
 * against the published table, and the chance of a clear view against its closed form. */
#include "base/faults.h"
#include "base/philox.h"
#include "sightline/audience/person.h"
#include "support/formulas.h"
#include "unit/sightline/hall.h"

#include <criterion/criterion.h>
#include <omp.h>
#include <stdio.h>
#include <string.h>

static hall h;

/* Known answers of Philox4x32-10 as published with the paper's library (from memory). */
Test(philox, known_answers) {
    static const uint32_t in[3][6] = {
        {0, 0, 0, 0, 0, 0},
        {~0u, ~0u, ~0u, ~0u, ~0u, ~0u},
        {0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344, 0xa4093822, 0x299f31d0}};
    static const uint32_t out[3][4] = {{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8},
                                       {0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd},
                                       {0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}};
    for (int k = 0; k < 3; k++) {
        random_words r = gradin_philox(in[k], in[k] + 4);
        for (int i = 0; i < 4; i++) cr_assert_eq(r.word[i], out[k][i], "answer %d", k);
    }
}

enum { N_DRAWN = 20000 };

typedef struct moments {
    double mean, sd;
} moments;

static moments published(const char *dimension, const char *sex) {
    char line[200], name[100], who[20];
    double mean, sd;
    FILE *in = fopen(GRADIN_SOURCE_DIR "/reference/anthropometry/ansur-ii-2012.csv", "r");
    cr_assert_not_null(in);
    while (fgets(line, sizeof line, in))
        if (sscanf(line, "%99[^,],%19[^,],%lf,%lf", name, who, &mean, &sd) == 4 &&
            strcmp(name, dimension) == 0 && strcmp(who, sex) == 0) {
            fclose(in);
            return (moments){mean / 1000.0, sd / 1000.0};
        }
    cr_assert_fail("no %s of %s", dimension, sex);
    return (moments){NAN, NAN};
}

typedef double figure_of(const gradin_audience *person);
static double eye(const gradin_audience *p) {
    return p->eye_height_m;
}
static double crown(const gradin_audience *p) {
    return p->crown_m;
}
static double breadth(const gradin_audience *p) {
    return p->head_breadth_m;
}
static double length(const gradin_audience *p) {
    return p->head_length_m;
}
static double shoulders(const gradin_audience *p) {
    return p->shoulder_breadth_m;
}

static moments drawn(const gradin_audience *audience, figure_of *figure) {
    double sum = 0.0, squares = 0.0;
    for (int i = 0; i < N_DRAWN; i++) {
        gradin_audience p = gradin_draw_person(audience, 7, i / 100, i % 100);
        sum += figure(&p);
    }
    for (int i = 0; i < N_DRAWN; i++) {
        gradin_audience p = gradin_draw_person(audience, 7, i / 100, i % 100);
        squares += (figure(&p) - sum / N_DRAWN) * (figure(&p) - sum / N_DRAWN);
    }
    return (moments){sum / N_DRAWN, sqrt(squares / (N_DRAWN - 1))};
}

/* Within four standard errors of the mean, sd/sqrt(n), and of the standard deviation, sd/sqrt(2n);
 * the cut at three standard deviations takes 0.7 % off the latter. */
Test(person, draws_have_the_published_moments) {
    static const struct {
        const char *dimension;
        figure_of *figure;
    } check[] = {{"sitting eye above seat", eye},
                 {"eye to crown", crown},
                 {"head breadth", breadth},
                 {"head length", length},
                 {"shoulder breadth", shoulders}};
    for (int sex = 0; sex < 2; sex++) {
        gradin_audience audience = {.crown_m = 0.111, .head_height_m = 0.23};
        audience.eye_height_m = published("sitting eye above seat", sex ? "men" : "women").mean;
        audience.population = (gradin_population){.women = sex ? 0.0 : 1.0, .men = sex ? 1.0 : 0.0};
        for (size_t i = 0; i < sizeof check / sizeof check[0]; i++) {
            moments want = published(check[i].dimension, sex ? "men" : "women");
            moments got = drawn(&audience, check[i].figure);
            cr_assert(fabs(got.mean - want.mean) < 4.0 * want.sd / sqrt(N_DRAWN), "%s: %f, not %f",
                      check[i].dimension, got.mean, want.mean);
            cr_assert(fabs(got.sd - want.sd) < want.sd * (4.0 / sqrt(2.0 * N_DRAWN) + 0.007),
                      "%s: sd %f, not %f", check[i].dimension, got.sd, want.sd);
        }
    }
}

/* One audience: the mean of the drawn eyes is the eye of the plain run, whatever the mix and the
 * slump. Between sexes and children the published means stay apart. */
Test(person, the_plain_eye_is_the_mean_of_the_drawn) {
    static const gradin_population mix[] = {
        {0.5, 0.5, 0.0, 0.04}, {0.5, 0.3, 0.2, 0.04}, {0.0, 0.0, 1.0, 0.20}, {1.0, 0.0, 0.0, 0.0}};
    for (size_t k = 0; k < sizeof mix / sizeof *mix; k++) {
        gradin_audience audience = {.eye_height_m = 1.12, .population = mix[k]};
        moments got = drawn(&audience, eye);
        cr_assert(fabs(got.mean - 1.12) < 4.0 * got.sd / sqrt(N_DRAWN), "mix %zu: %f", k, got.mean);
    }
    gradin_audience both = {.eye_height_m = 1.12, .population = {0.5, 0.5, 0.0, 0.0}};
    double apart_m = 0.8045 - 0.7477, within_m = hypot(0.0304, 0.0332) / sqrt(2.0);
    cr_assert(fabs(drawn(&both, eye).sd - hypot(within_m, 0.5 * apart_m)) < 0.0006);
}

Test(person, a_draw_is_the_same_again) {
    gradin_audience audience = {.eye_height_m = 1.12, .wheelchair_eye_height_m = 1.2};
    audience.population = (gradin_population){0.5, 0.3, 0.2, 0.04};
    gradin_audience a = gradin_draw_person(&audience, 1, 2, 3);
    gradin_audience b = gradin_draw_person(&audience, 1, 2, 3);
    gradin_audience c = gradin_draw_person(&audience, 2, 2, 3);
    cr_assert_eq(a.eye_height_m, b.eye_height_m);
    cr_assert_neq(a.eye_height_m, c.eye_height_m);
    cr_assert_float_eq(a.wheelchair_eye_height_m - a.eye_height_m, 0.08, 1e-12);
}

/* A point of focus 400 m off at eye level, so that the ray is level over both heads: the front
 * crown stays under it with the chance Phi((C - crown)/sqrt(s1^2 + s2^2)), the rear eye's standard
 * deviation s1, the front crown's s2 = hypot(eye, eye to crown). C is the rear seat's rise. */
static gradin_crowd two_persons(gradin_arena *arena, double rise_m, int n_draw) {
    gradin_crowd crowd;
    gradin_error error = {0};
    hall_start(&h);
    hall_focus(&h, 0.0, -400.0, 0.02, 0.02, 1.2 + rise_m, 1.0);
    hall_seat(&h, 0.0, 6.0, 1.2);
    hall_seat(&h, 0.0, 6.9, 1.2 + rise_m);
    h.model.audience = (gradin_audience){.eye_height_m = 1.12,
                                         .crown_m = 0.111,
                                         .head_height_m = 0.23,
                                         .shoulder_drop_m = 0.2,
                                         .population = {.men = 1.0}};
    gradin_crowd_options options = {.n_draw = n_draw, .n_sample = 1, .seed = 3};
    cr_assert_eq(gradin_crowd_compute(arena, &h.model, &options, &crowd, &error), GRADIN_OK, "%s",
                 error.diagnostic[0].text);
    return crowd;
}

Test(crowd, chance_of_a_clear_view_follows_its_closed_form) {
    double sd_eye = 0.0332, sd_crown = hypot(0.0332, 0.0090);
    for (int k = 0; k < 5; k++) {
        gradin_arena *arena = gradin_arena_create();
        double c_m = 0.06 + 0.03 * k;
        gradin_crowd crowd = two_persons(arena, c_m, 3000);
        double expected = formula_clear_probability(c_m, 0.1138, sd_eye, sd_crown);
        double se = sqrt(expected * (1.0 - expected) / 3000.0);
        /* the level of the rear eye falls to the focus by a quarter of a millimetre at the head */
        cr_assert(fabs(crowd.clear[1] - expected) < 3.5 * se + 0.003, "C %.2f: %f, not %f", c_m,
                  crowd.clear[1], expected);
        cr_assert(fabs(crowd.clear_se[1] - se) < 0.1 * se);
        cr_assert_eq(crowd.clear[0], 1.0);
        cr_assert_gt(crowd.clear_se[0], 0.0);
        gradin_arena_destroy(arena);
    }
}

Test(crowd, median_and_tenth_percentile_bound_the_draws) {
    gradin_arena *arena = gradin_arena_create();
    gradin_crowd crowd = two_persons(arena, 0.15, 1000);
    cr_assert_gt(crowd.clear[1], 0.5);
    cr_assert_lt(crowd.clear[1], 0.9);
    cr_assert_eq(crowd.median[1], 1.0); /* one sample: seen or not */
    cr_assert_eq(crowd.p10[1], 0.0);
    gradin_arena_destroy(arena);
}

/* One sample is seen or not, so the tenth percentile of the draws is 1 as soon as fewer than a
 * tenth of them lose it, and 0 while more do; likewise the median at a half. */
Test(crowd, percentiles_turn_at_their_own_share) {
    for (double rise_m = 0.08; rise_m < 0.21; rise_m += 0.0025) {
        gradin_arena *arena = gradin_arena_create();
        gradin_crowd crowd = two_persons(arena, rise_m, 1000);
        double hidden = 1.0 - crowd.clear[1];
        if (fabs(hidden - 0.1) > 0.002)
            cr_assert_eq(crowd.p10[1], hidden < 0.1 ? 1.0 : 0.0, "%.3f hidden", hidden);
        if (fabs(hidden - 0.5) > 0.002)
            cr_assert_eq(crowd.median[1], hidden < 0.5 ? 1.0 : 0.0, "%.3f hidden", hidden);
        gradin_arena_destroy(arena);
    }
}

static void rows_and_rail(void) {
    hall_start(&h);
    hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 1.0);
    hall_rows(&h, 4, 5, 6.0, 0.275, 1.2, 0.2);
    h.model.audience = (gradin_audience){.eye_height_m = 1.12,
                                         .crown_m = 0.111,
                                         .head_height_m = 0.23,
                                         .shoulder_drop_m = 0.2,
                                         .population = {0.5, 0.4, 0.1, 0.04}};
    hall_occluder(&h, gradin_capsule((gradin_vec3){-9, 5, 1.0}, (gradin_vec3){9, 5, 1.0}, 0.03),
                  GRADIN_CAUSE_RAIL, 1);
}

Test(crowd, any_thread_count_gives_the_same) {
    gradin_crowd crowd[3];
    gradin_crowd_options options = {.n_draw = 20, .n_sample = 200};
    gradin_arena *arena = gradin_arena_create();
    rows_and_rail();
    for (int k = 0; k < 3; k++) {
        omp_set_num_threads(k + 1);
        cr_assert_eq(gradin_crowd_compute(arena, &h.model, &options, &crowd[k], NULL), GRADIN_OK);
        size_t bytes = (size_t)crowd[k].n_seat * sizeof(double);
        cr_assert_eq(memcmp(crowd[0].clear, crowd[k].clear, bytes), 0);
        cr_assert_eq(memcmp(crowd[0].median, crowd[k].median, bytes), 0);
        cr_assert_eq(memcmp(crowd[0].p10, crowd[k].p10, bytes), 0);
    }
    cr_assert_lt(crowd[0].median[12], 1.0); /* the rail and the heads do count */
    gradin_arena_destroy(arena);
}

Test(crowd, refusals) {
    gradin_crowd crowd;
    gradin_arena *arena = gradin_arena_create();
    rows_and_rail();
    static const int draws[] = {0, GRADIN_MAX_DRAW + 1};
    for (int k = 0; k < 2; k++) {
        gradin_crowd_options options = {.n_draw = draws[k], .n_sample = 16};
        cr_assert_eq(gradin_crowd_compute(arena, &h.model, &options, &crowd, NULL), GRADIN_BAD_USE);
    }
    gradin_arena_destroy(arena);
}

/* The n-th allocation fails, n = 1, 2, ...: a clean status each time, and success at the end. */
Test(crowd, every_allocation_may_fail) {
    gradin_status status = GRADIN_NO_MEMORY;
    int n = 1;
    rows_and_rail();
    h.model.audience.eye_distance_m = 0.063;
    omp_set_num_threads(2);
    for (; status != GRADIN_OK && n < 2000; n++) {
        gradin_arena *arena = gradin_arena_create();
        gradin_crowd crowd;
        gradin_sight sight;
        gradin_crowd_options options = {.n_draw = 2, .n_sample = 20};
        gradin_sight_options few = {.n_sample = 20};
        gradin_alloc_fail_at(n);
        status = gradin_crowd_compute(arena, &h.model, &options, &crowd, NULL);
        if (status == GRADIN_OK) status = gradin_sight_compute(arena, &h.model, &few, &sight, NULL);
        gradin_alloc_fail_at(0);
        cr_assert(status == GRADIN_OK || status == GRADIN_NO_MEMORY, "allocation %d: %s", n,
                  gradin_status_name(status));
        gradin_arena_destroy(arena);
    }
    cr_assert_gt(n, 20);
    cr_assert_eq(status, GRADIN_OK);
}
