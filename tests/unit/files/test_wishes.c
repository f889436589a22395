/* A show's wishes as a file. */
#include "base/faults.h"
#include "gradin/files.h"

#include <criterion/criterion.h>
#include <string.h>

/* Whatever allocation fails: a failure, or all of the text; the name was left out before. */
Test(wishes, they_are_whole_or_not_there) {
    gradin_arena *kept = gradin_arena_create();
    gradin_error error = {0};
    const gradin_show show = {.name = "Show", .stage_m2 = 40.0, .shades = -1};
    const gradin_show_wishes as = {GRADIN_FORM_END_STAGE,
                                   GRADIN_SOURCE_DIR "/tests/faults/hall/venue.yaml", 0, -1};
    const char *at = "/tmp/made.yaml";
    char *whole = NULL, *text = NULL;
    int n_failed = 0;
    cr_assert_eq(gradin_show_wishes_write(kept, &show, &as, at, &whole, &error), GRADIN_OK);
    cr_expect(strstr(whole, "name: "));
    for (int n = 1; n < 1000; n++) {
        gradin_arena *arena = gradin_arena_create();
        gradin_alloc_fail_at(n);
        gradin_status status = gradin_show_wishes_write(arena, &show, &as, at, &text, &error);
        gradin_alloc_fail_at(0);
        if (status == GRADIN_OK) cr_expect_str_eq(text, whole, "%d", n);
        cr_expect(status == GRADIN_OK || status == GRADIN_NO_MEMORY, "%d", n);
        n_failed += status != GRADIN_OK;
        gradin_arena_destroy(arena);
        if (status == GRADIN_OK) break;
    }
    cr_expect_gt(n_failed, 3);
    gradin_arena_destroy(kept);
}
