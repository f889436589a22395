/* Parts of a work in threads: what they leave, and whose failure is told. */
#include "base/faults.h"
#include "gradin/base.h"

#include <criterion/criterion.h>
#include <omp.h>
#include <stdio.h>
#include <string.h>

enum { N_PART = 40 };

typedef struct made {
    char *text[N_PART];
    int fail_at[2]; /* parts that fail; -1 */
} made;

static gradin_status write_number(void *user, int i, gradin_arena *arena, gradin_error *error) {
    made *m = user;
    m->text[i] = gradin_arena_print(arena, "part %d", i);
    if (!gradin_arena_alloc(arena, (size_t)i * 40000, 1) || !m->text[i])
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for %d", i);
    if (i % 10 == 3) gradin_error_add(error, GRADIN_OK, NULL, "note of %d", i);
    for (int k = 0; k < 2; k++)
        if (m->fail_at[k] == i)
            return gradin_error_add(error, k ? GRADIN_NUMERIC : GRADIN_BAD_INPUT, NULL, "%d", i);
    return GRADIN_OK;
}

static gradin_error error;
static gradin_arena *arena;

static void open_all(void) {
    arena = gradin_arena_create();
    gradin_error_clear(&error);
}

static void close_all(void) {
    gradin_alloc_fail_at(0);
    gradin_arena_destroy(arena);
}

TestSuite(each, .init = open_all, .fini = close_all);

Test(each, the_arena_has_all_that_the_parts_made) {
    made m = {.fail_at = {-1, -1}};
    char *before = gradin_arena_copy_text(arena, "before");
    cr_assert_eq(gradin_for_each(arena, N_PART, write_number, &m, &error), GRADIN_OK);
    char *after = gradin_arena_copy_text(arena, "after");
    for (int i = 0; i < N_PART; i++) {
        char text[20];
        snprintf(text, sizeof text, "part %d", i);
        cr_expect_str_eq(m.text[i], text);
    }
    cr_expect_str_eq(before, "before");
    cr_expect_str_eq(after, "after");
    cr_assert_eq(error.n_diagnostic, 4);
    cr_expect_str_eq(error.diagnostic[2].text, "note of 23");
}

/* By number, however many threads there are and whichever fails first. */
Test(each, the_first_failure_is_told) {
    for (int n_thread = 1; n_thread <= 4; n_thread++) {
        made m = {.fail_at = {31, 17}};
        omp_set_num_threads(n_thread);
        gradin_error_clear(&error);
        cr_assert_eq(gradin_for_each(arena, N_PART, write_number, &m, &error), GRADIN_NUMERIC);
        cr_assert_eq(error.n_diagnostic, 3);
        cr_expect_str_eq(error.diagnostic[1].text, "note of 13");
        cr_expect_str_eq(error.diagnostic[2].text, "17");
    }
}

Test(each, more_diagnostics_than_are_kept_are_counted) {
    made m = {.fail_at = {-1, -1}};
    for (int round = 0; round < 6; round++)
        gradin_for_each(arena, N_PART, write_number, &m, &error);
    cr_expect_eq(error.n_diagnostic, GRADIN_MAX_DIAGNOSTIC);
    cr_expect_eq(error.n_dropped, 4);
}

Test(each, every_allocation_is_checked) {
    omp_set_num_threads(1);
    for (long n = 1; n < 10; n++) {
        made m = {.fail_at = {-1, -1}};
        gradin_error_clear(&error);
        gradin_alloc_fail_at(n);
        cr_expect_eq(gradin_for_each(arena, 3, write_number, &m, &error), GRADIN_NO_MEMORY, "%ld",
                     n);
        cr_expect_eq(error.n_diagnostic, 1, "%ld", n);
        gradin_alloc_fail_at(0);
    }
}

Test(each, nothing_to_do_and_bad_use) {
    made m = {.fail_at = {-1, -1}};
    cr_expect_eq(gradin_for_each(arena, 0, write_number, &m, &error), GRADIN_OK);
    cr_expect_eq(gradin_for_each(NULL, 1, write_number, &m, &error), GRADIN_BAD_USE);
    cr_expect_eq(gradin_for_each(arena, 1, NULL, &m, &error), GRADIN_BAD_USE);
    cr_expect_eq(gradin_for_each(arena, 1, write_number, &m, NULL), GRADIN_OK);
}
