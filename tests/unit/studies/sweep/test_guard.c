/* What a search must not lose of the rough checks: each of them for itself. */
#include "gradin/files.h"
#include "studies/sweep/sweep.h"

#include <criterion/criterion.h>
#include <string.h>

/* More places for wheelchairs, or more metres of exits, than any hall has. */
static const gradin_wheelchair_rule too_many = {.from_seats = 1, .places = 10000};
static bool needs_places[2], needs_width[2]; /* as written; at the point */

static gradin_status read_small(gradin_arena *arena, const gradin_study *study, int point,
                                gradin_study_inputs *in, gradin_error *error) {
    (void)study;
    *in = (gradin_study_inputs){0};
    cr_assert_eq(gradin_model_read(arena, GRADIN_SOURCE_DIR "/tests/faults/hall/layout.yaml",
                                   &in->model, error),
                 GRADIN_OK);
    gradin_machinery *m = gradin_arena_alloc(arena, 1, sizeof *m);
    cr_assert_not_null(m);
    *m = *in->model.machinery;
    m->rules.wheelchair = &too_many;
    m->rules.n_wheelchair = needs_places[point >= 0];
    m->rules.exit_mm_person = needs_width[point >= 0] ? 1e5 : 0.0;
    in->model.machinery = m;
    return GRADIN_OK;
}

/* Why the point is refused, in the arena; NULL: it is not. */
static const char *refusal(gradin_arena *arena, bool places, bool width, bool more_places,
                           bool more_width) {
    static const gradin_study_figure figure[] = {GRADIN_STUDY_GLASS_T};
    static const char *const value[] = {"1"};
    gradin_varied varied = {.name = "k", .value = value, .n_value = 1};
    gradin_study study = {.name = "s",
                          .layout_path = "layout.yaml",
                          .varied = &varied,
                          .n_varied = 1,
                          .figure = figure,
                          .n_figure = 1,
                          .limit_dba = NAN};
    gradin_sweep_options options = {.read = read_small, .keeps_checks = true};
    gradin_error error = {0};
    gradin_sweep sweep;
    gradin_sweep_row row;
    needs_places[0] = places;
    needs_width[0] = width;
    needs_places[1] = more_places;
    needs_width[1] = more_width;
    cr_assert_eq(gradin_sweep_begin(&study, &options, &sweep, &error), GRADIN_OK);
    cr_assert_eq(gradin_sweep_point(arena, &sweep, 0, &row, &error), GRADIN_OK);
    gradin_sweep_end(&sweep);
    return row.refused;
}

Test(guard, a_check_is_not_paid_for_with_another) {
    gradin_arena *arena = gradin_arena_create();
    cr_expect_null(refusal(arena, false, false, false, false));
    cr_expect_null(refusal(arena, true, false, true, false), "as before");
    cr_expect_null(refusal(arena, true, true, false, true), "one more is met");
    const char *swapped = refusal(arena, true, false, false, true);
    cr_assert_not_null(swapped, "one is met, another is not");
    cr_expect_not_null(strstr(swapped, "exits"), "%s", swapped);
    cr_expect_not_null(refusal(arena, true, false, true, true), "another is not met besides");
    cr_expect_not_null(refusal(arena, false, false, true, false));
    gradin_arena_destroy(arena);
}
