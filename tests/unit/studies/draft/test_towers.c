/* What a draft counts on the demo's towers: 5.4 m less two posts of 0.12 m are 5.16 m, nine seats
 * of 0.54 m per row, two rows on either of two levels: 36. */
#include "gradin/files.h"
#include "studies/draft/draft.h"

#include <criterion/criterion.h>

Test(towers, a_seated_one_counts_the_seats_of_all_its_levels) {
    gradin_arena *arena = gradin_arena_create();
    gradin_error error = {0};
    gradin_wishes w;
    cr_assert_eq(
        gradin_wishes_read(arena, GRADIN_SOURCE_DIR "/demo/wishes/flat_floor.yaml", &w, &error),
        GRADIN_OK);
    gradin_rake rows;
    rake_job rake = {.rake = &rows};
    draft_job job = {.arena = arena, .w = &w, .hall = w.hall, .error = &error, .rake = &rake};
    draft_scheme scheme = {.choice = {.towers = 10}};
    scheme.tower = gradin_arena_alloc(arena, (size_t)w.hall->n_tower, sizeof(draft_tower));
    scheme.setting = gradin_arena_alloc(arena, (size_t)w.hall->n_machine, sizeof(gradin_setting));
    cr_assert_eq(draft_read_hall(&job), GRADIN_OK);
    cr_assert_eq(draft_place_stage(&job), GRADIN_OK);
    draft_set_machines(&job, &scheme);
    int n_seated = 0;
    for (int i = 0; i < w.hall->n_tower; i++) {
        n_seated += scheme.tower[i].is_seated;
        cr_expect_eq(scheme.tower[i].n_seat, scheme.tower[i].is_seated ? 36 : 0, "%s: %d",
                     w.hall->tower[i].name, scheme.tower[i].n_seat);
    }
    cr_expect_eq(n_seated, 4, "W1, W2, E1 and E2 are wished");
    gradin_arena_destroy(arena);
}
