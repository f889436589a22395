/* Into how many rows a draft puts the places for wheelchairs where the floor has room for all: up
 * to three wheelchairs with their companions in one, more on two sides. Common practice, no source.
 */
#include "gradin/files.h"
#include "studies/draft/draft.h"

#include <criterion/criterion.h>

/* On the demo's flat floor, with nothing else on it than a stage of 8 x 6 m. */
static void set_places(int n_wheelchair, draft_scheme *scheme) {
    gradin_arena *arena = gradin_arena_create();
    gradin_error error = {0};
    gradin_wishes w;
    cr_assert_eq(
        gradin_wishes_read(arena, GRADIN_SOURCE_DIR "/demo/wishes/flat_floor.yaml", &w, &error),
        GRADIN_OK);
    w.stage_width_m = 8.0;
    w.stage_depth_m = 6.0;
    for (int i = 0; i < w.hall->n_tower; i++) w.use_tower[i] = false;
    gradin_rake rows;
    rake_job rake = {.rake = &rows};
    draft_job job = {.arena = arena, .w = &w, .hall = w.hall, .error = &error, .rake = &rake};
    *scheme = (draft_scheme){.n_wheelchair = n_wheelchair};
    scheme->tower = gradin_arena_alloc(arena, (size_t)w.hall->n_tower, sizeof(draft_tower));
    scheme->setting = gradin_arena_alloc(arena, (size_t)w.hall->n_machine, sizeof(gradin_setting));
    cr_assert_eq(draft_read_hall(&job), GRADIN_OK);
    cr_assert_eq(draft_place_stage(&job), GRADIN_OK);
    draft_set_machines(&job, scheme);
    cr_assert(draft_set_places(&job, scheme));
    gradin_arena_destroy(arena);
}

Test(wheelchair_rows, three_wheelchairs_and_their_companions_are_one_row) {
    draft_scheme scheme;
    set_places(3, &scheme);
    cr_assert_eq(scheme.n_wheelchair_row, 1);
    cr_expect_eq(scheme.wheelchair_row[0].n_place, 6);
}

Test(wheelchair_rows, four_wheelchairs_and_their_companions_are_two_rows) {
    draft_scheme scheme;
    set_places(4, &scheme);
    cr_assert_eq(scheme.n_wheelchair_row, 2);
    cr_expect_eq(scheme.wheelchair_row[0].n_place, 4);
    cr_expect_eq(scheme.wheelchair_row[1].n_place, 4);
}

/* Rooms of 2, 6 and 2: ten places stand 2, 6, 2, and not 2, 4, 2 with two elsewhere. */
Test(wheelchair_rows, runs_are_shared_alike_on_both_sides) {
    static const struct {
        int n_run, room[4], n, here[4];
        bool may_be_odd;
    } wanted[] = {{3, {2, 6, 2}, 10, {2, 6, 2}, false},
                  {3, {6, 9, 6}, 10, {3, 4, 3}, false},
                  {3, {6, 9, 6}, 12, {4, 4, 4}, false},
                  {2, {6, 6}, 10, {5, 5}, false},
                  {2, {6, 6}, 4, {2, 2}, false},
                  {2, {6, 6}, 5, {3, 2}, true},
                  {1, {9}, 8, {8}, false},
                  {4, {4, 9, 9, 4}, 14, {3, 4, 4, 3}, false},
                  {2, {6, 6}, 2, {2, 0}, false},
                  {3, {6, 9, 6}, 7, {2, 3, 2}, true}};
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++) {
        int here[4] = {-1, -1, -1, -1};
        cr_expect_eq(draft_share_places(wanted[i].n_run, wanted[i].room, wanted[i].n,
                                        wanted[i].may_be_odd, here),
                     wanted[i].n, "case %zu", i);
        for (int k = 0; k < wanted[i].n_run; k++)
            cr_expect_eq(here[k], wanted[i].here[k], "case %zu, run %d: %d", i, k, here[k]);
    }
}
