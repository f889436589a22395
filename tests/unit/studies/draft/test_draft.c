/* Parts of a draft: the count table, aisles against every way to lay them, the failures of memory.
 */
#include "base/faults.h"
#include "gradin/files.h"
#include "studies/draft/draft.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <unistd.h>

/* ADA Standards for Accessible Design 2010, table 221.2.1.1, and the corners of its rows. */
Test(draft, wheelchair_places_by_the_count_table) {
    static const int table[][2] = {{4, 1},     {25, 1},    {26, 2},    {50, 2},    {51, 4},
                                   {150, 4},   {151, 5},   {300, 5},   {301, 6},   {500, 6},
                                   {501, 7},   {650, 7},   {651, 8},   {1000, 10}, {5000, 36},
                                   {5001, 37}, {5200, 37}, {5201, 38}, {3, 0},     {0, 0}};
    for (size_t i = 0; i < sizeof table / sizeof *table; i++)
        cr_expect_eq(gradin_wheelchair_places(table[i][0]), table[i][1], "%d seats", table[i][0]);
}

/* Can k aisles be laid from seat `at` on, the run before the first under `limit`? */
static bool any_way(int n, int at, int gone, int k, int limit, int one, int two) {
    if (k == 0) return n - at <= one;
    for (int run = 0; run <= limit && at + run + gone <= n; run++)
        if (any_way(n, at + run + gone, gone, k - 1, two, one, two)) return true;
    return false;
}

static int least_aisles(int n, int gone, int one, int two) {
    for (int k = 1; k <= 8; k++)
        if (any_way(n, 0, gone, k, one, one, two)) return k;
    return -1;
}

Test(draft, aisles_are_the_fewest_that_the_rules_allow) {
    for (int one = 1; one <= 5; one += 2)
        for (int two = one; two <= 10; two += 3)
            for (int gone = 1; gone <= 3; gone++)
                for (int n = gone; n <= 34; n++) {
                    int first[DRAFT_MAX_AISLE], k = 0, at = 0,
                                                wanted = least_aisles(n, gone, one, two);
                    bool found = draft_aisles(n, gone, one, two, first, &k);
                    if (wanted < 0) continue;
                    cr_assert(found && k == wanted, "%d seats, %d gone, %d %d: %d, not %d", n, gone,
                              one, two, k, wanted);
                    for (int i = 0; i < k; i++) {
                        cr_assert(first[i] >= at && first[i] - at <= (i == 0 ? one : two));
                        at = first[i] + gone;
                    }
                    cr_assert(at <= n && n - at <= one);
                }
}

Test(draft, paths_are_written_as_seen_from_the_layout) {
    gradin_arena *arena = gradin_arena_create();
    const char *top = GRADIN_SOURCE_DIR;
    char venue[512], here[512], beside[512];
    snprintf(venue, sizeof venue, "%s/tests/faults/hall/venue.yaml", top);
    snprintf(here, sizeof here, "%s/tests/faults/hall/new.yaml", top);
    snprintf(beside, sizeof beside, "%s/tests/fuzz/new.yaml", top);
    cr_expect_str_eq(gradin_path_from(arena, here, venue), "venue.yaml");
    cr_expect_str_eq(gradin_path_from(arena, beside, venue), "../faults/hall/venue.yaml");
    cr_expect_null(gradin_path_from(arena, "/nowhere/at/all.yaml", venue));
    cr_expect_null(gradin_path_from(arena, here, "/nowhere/at/all.yaml"));
    gradin_arena_destroy(arena);
}

/* Sections of 2.7 x 2.7 m from (4.2, 3.0) on, by hand: a box that ends on the edge of a section
 * stands on what is before it, and one that begins there on what is behind it. */
Test(draft, a_box_that_only_touches_a_section_does_not_stand_on_it) {
    const gradin_lift_grid g = {
        .origin_m = {4.2, 3.0}, .n_column = 8, .n_row = 6, .size_m = {2.7, 2.7}};
    draft_cells c = draft_cells_under(&g, (gradin_box2){6.9, 5.7, 12.3, 8.4});
    cr_expect(c.c0 == 1 && c.c1 == 3 && c.r0 == 1 && c.r1 == 2, "%d %d %d %d", c.c0, c.c1, c.r0,
              c.r1);
    c = draft_cells_under(&g, (gradin_box2){6.8, 5.6, 12.4, 8.5});
    cr_expect(c.c0 == 0 && c.c1 == 4 && c.r0 == 0 && c.r1 == 3, "%d %d %d %d", c.c0, c.c1, c.r0,
              c.r1);
    c = draft_cells_under(&g, (gradin_box2){1.0, 1.0, 4.2, 3.0}); /* off the lifts */
    cr_expect(c.c0 == c.c1 && c.r0 == c.r1);
}

/* A base without a folder stands in the working folder, as `cd` and `ls` have it. */
Test(draft, paths_are_written_as_seen_from_the_working_folder) {
    gradin_arena *arena = gradin_arena_create();
    cr_assert_eq(chdir(GRADIN_SOURCE_DIR "/tests/faults/hall"), 0);
    cr_expect_str_eq(gradin_path_from(arena, "new.yaml", "venue.yaml"), "venue.yaml");
    cr_expect_str_eq(gradin_path_from(arena, "new.yaml", "../../cli/hall.py"), "../../cli/hall.py");
    gradin_arena_destroy(arena);
}

static gradin_status make(const char *wishes_path, const char *layout_path, char **yaml) {
    gradin_arena *arena = gradin_arena_create();
    gradin_wishes wishes;
    gradin_draft draft;
    gradin_error error = {0};
    gradin_status status =
        arena ? gradin_wishes_read(arena, wishes_path, &wishes, &error) : GRADIN_NO_MEMORY;
    if (status == GRADIN_OK) status = gradin_draft_make(arena, &wishes, &draft, &error);
    char *text = NULL;
    if (status == GRADIN_OK)
        status = gradin_draft_write(arena, &wishes, draft.layout, layout_path, &text, &error);
    if (status == GRADIN_OK && yaml) *yaml = strdup(text);
    cr_assert(status == GRADIN_OK || status == GRADIN_NO_MEMORY, "%s",
              error.n_diagnostic > 0 ? error.diagnostic[0].text : "");
    gradin_arena_destroy(arena);
    return status;
}

Test(draft, every_failed_allocation_ends_cleanly) {
    static const char wishes[] = GRADIN_SOURCE_DIR "/tests/faults/hall/wishes.yaml";
    static const char layout[] = GRADIN_SOURCE_DIR "/tests/faults/hall/new.yaml";
    char *whole = NULL, *again = NULL;
    cr_assert_eq(make(wishes, layout, &whole), GRADIN_OK);
    long n = 1, n_failed = 0;
    for (;; n += 1 + n / 12) {
        gradin_alloc_fail_at(n);
        gradin_status status = make(wishes, layout, NULL);
        gradin_alloc_fail_at(0);
        if (status == GRADIN_OK) break;
        n_failed++;
    }
    cr_expect_gt(n_failed, 30);
    cr_assert_eq(make(wishes, layout, &again), GRADIN_OK);
    cr_expect_str_eq(whole, again);
    free(whole);
    free(again);
}
