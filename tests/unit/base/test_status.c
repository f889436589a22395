/* Status names and the error object. */
#include "gradin/base.h"

#include <criterion/criterion.h>
#include <string.h>

static gradin_error error;

Test(status, every_family_has_its_own_name) {
    const gradin_status all[] = {GRADIN_OK,        GRADIN_BAD_INPUT, GRADIN_BAD_USE,
                                 GRADIN_NO_MEMORY, GRADIN_IO_FAILED, GRADIN_NUMERIC};
    for (int i = 0; i < 6; i++)
        for (int k = 0; k < i; k++)
            cr_expect_str_neq(gradin_status_name(all[i]), gradin_status_name(all[k]));
    cr_expect_str_eq(gradin_status_name((gradin_status)99), "unknown status");
}

Test(status, adding_returns_the_family) {
    cr_expect_eq(gradin_error_add(&error, GRADIN_IO_FAILED, NULL, "x"), GRADIN_IO_FAILED);
    cr_expect_eq(gradin_error_add(NULL, GRADIN_NUMERIC, NULL, "x"), GRADIN_NUMERIC);
    cr_expect_eq(error.n_diagnostic, 1);
    cr_expect_eq(error.diagnostic[0].family, GRADIN_IO_FAILED);
}

Test(status, the_list_is_bounded_and_counts_the_rest) {
    for (int i = 0; i < GRADIN_MAX_DIAGNOSTIC + 5; i++)
        gradin_error_add(&error, GRADIN_BAD_INPUT, NULL, "number %d", i);
    cr_expect_eq(error.n_diagnostic, GRADIN_MAX_DIAGNOSTIC);
    cr_expect_eq(error.n_dropped, 5);
    cr_expect_str_eq(error.diagnostic[GRADIN_MAX_DIAGNOSTIC - 1].text, "number 19");
    gradin_error_clear(&error);
    cr_expect_eq(error.n_diagnostic, 0);
    cr_expect_eq(error.n_dropped, 0);
    gradin_error_clear(NULL);
}

static void expect_line(const gradin_place *place, const char *expected) {
    char line[1024];
    gradin_error_clear(&error);
    gradin_error_add(&error, GRADIN_BAD_INPUT, place, "is wrong");
    gradin_diagnostic_format(&error.diagnostic[0], line, sizeof line);
    cr_expect_str_eq(line, expected);
}

Test(status, a_line_names_what_is_known) {
    expect_line(&(gradin_place){"a.yaml", 3, 7, "blocks[2].rows"},
                "a.yaml:3:7: blocks[2].rows: is wrong");
    expect_line(&(gradin_place){"a.yaml", 0, 0, "rows"}, "a.yaml: rows: is wrong");
    expect_line(&(gradin_place){"a.yaml", 0, 0, NULL}, "a.yaml: is wrong");
    expect_line(&(gradin_place){NULL, 3, 7, "rows"}, "rows: is wrong");
    expect_line(NULL, "is wrong");
}

Test(status, long_texts_are_cut_not_overrun) {
    static char lengthy[3000];
    char line[32];
    memset(lengthy, 'x', sizeof lengthy - 1);
    gradin_error_add(&error, GRADIN_BAD_INPUT, &(gradin_place){lengthy, 1, 2, lengthy}, "%s",
                     lengthy);
    const gradin_diagnostic *d = &error.diagnostic[0];
    cr_expect_eq(strlen(d->file), GRADIN_FILE_CHARS - 1);
    cr_expect_eq(strlen(d->key), GRADIN_KEY_CHARS - 1);
    cr_expect_eq(strlen(d->text), GRADIN_TEXT_CHARS - 1);
    gradin_diagnostic_format(d, line, sizeof line);
    cr_expect_eq(strlen(line), sizeof line - 1);
}

Test(status, control_characters_do_not_reach_the_terminal) {
    const gradin_place place = {"a\n.yaml", 1, 2, "row\x1b[31m"};
    char line[1024];
    gradin_error_add(&error, GRADIN_BAD_INPUT, &place, "is '%s'; 25 \xc2\xb0 is not",
                     "\t\x7f\x07x");
    gradin_diagnostic_format(&error.diagnostic[0], line, sizeof line);
    cr_expect_str_eq(line, "a?.yaml:1:2: row?[31m: is '???x'; 25 \xc2\xb0 is not");
}
