/* Characters that steer: the edges of each range of Unicode Standard Annex 9, table 4, of the C0
 * and C1 controls, and of ranges of Default_Ignorable_Code_Point (Unicode Character Database,
 * DerivedCoreProperties). */
#include "base/steering.h"
#include "gradin/run.h"

#include <criterion/criterion.h>

Test(steering, the_edges_of_each_range) {
    static const struct {
        const char *text;
        size_t bytes;
    } all[] = {{"", 0},
               {"\x01", 1},
               {"\x1F", 1},
               {" ", 0},
               {"~", 0},
               {"\x7F", 1},
               {"\xC2\x80", 2},
               {"\xC2\x9F", 2},
               {"\xC2\xA0", 0},
               {"\xC3\x80", 0},
               {"\xD8\x9B", 0},
               {"\xD8\x9C", 2},
               {"\xD8\x9D", 0},
               {"\xE2\x80\x8A", 0},
               {"\xE2\x80\x8B", 3},
               {"\xE2\x80\x8D", 3},
               {"\xE2\x80\x8E", 3},
               {"\xE2\x80\x8F", 3},
               {"\xE2", 0},
               {"\xE2\x80\x90", 0},
               {"\xE2\x80\xA7", 0},
               {"\xE2\x80\xA8", 3},
               {"\xE2\x80", 0},
               {"\xE2\x80\xAE", 3},
               {"\xE2\x80\xAF", 0},
               {"\xE2\x81\xA5", 3},
               {"\xE2\x81", 0},
               {"\xE2\x81\xA6", 3},
               {"\xE2\x81\xA9", 3},
               {"\xE2\x81\xAF", 3},
               {"\xE2\x81\xB0", 0},
               {"\xE2\x81\x9F", 0},
               {"\xE2\x81\xA0", 3},
               {"\xE2\x81\xA1", 3},
               {"\xC2\xAC", 0},
               {"\xC2\xAD", 2},
               {"\xC2\xAE", 0},
               {"\xCD\x8E", 0},
               {"\xCD\x8F", 2},
               {"\xCD\x90", 0},
               {"\xE1\xA0\x8A", 0},
               {"\xE1\xA0\x8E", 3},
               {"\xE1\xA0\x90", 0},
               {"\xE3\x85\xA3", 0},
               {"\xE3\x85\xA4", 3},
               {"\xEF\xB7\xBF", 0},
               {"\xEF\xB8\x80", 3},
               {"\xEF\xB8\x8F", 3},
               {"\xEF\xB8\x90", 0},
               {"\xEF\xBE\xA0", 3},
               {"\xEF\xBF\xB8", 3},
               {"\xEF\xBF\xB9", 0},
               {"\xF0\x9D\x85\xB2", 0},
               {"\xF0\x9D\x85\xB3", 4},
               {"\xF3\xA0\x80\x81", 4},
               {"\xF3\xA0\xBF\xBF", 4},
               {"\xF3\xA1\x80\x80", 0},
               {"\xF3\xA0\x80", 0},
               {"\xEF\xBB\xBF", 3},
               {"\xEF\xBB\xBE", 0},
               {"\xEF\xBB", 0}};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        cr_expect_eq(steering_bytes(all[i].text), all[i].bytes, "%zu", i);
}

/* Both sides of the edges of RFC 3629, section 4. */
Test(steering, plain_text_is_utf8) {
    static const char *const good[] = {"",
                                       "a b",
                                       "\xC3\xB6",
                                       "\xE0\xA0\x80",
                                       "\xED\x9F\xBF",
                                       "\xEE\x80\x80",
                                       "\xF0\x90\x80\x80",
                                       "\xF4\x8F\xBF\xBF"};
    static const char *const bad[] = {"a\xF6",
                                      "\xF6z",
                                      "\x80",
                                      "\xC1\xBF",
                                      "\xC3",
                                      "\xE0\x9F\xBF",
                                      "\xED\xA0\x80",
                                      "\xE1\x80",
                                      "\xF0\x8F\xBF\xBF",
                                      "\xF4\x90\x80\x80",
                                      "\xF5\x80\x80\x80",
                                      "a\xE2\x80\x8B"};
    for (size_t i = 0; i < sizeof good / sizeof *good; i++)
        cr_expect(is_plain_text(good[i]), "good %zu", i);
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
        cr_expect_not(is_plain_text(bad[i]), "bad %zu", i);
}

Test(steering, a_diagnostic_shows_none) {
    gradin_error error = {0};
    gradin_error_add(&error, GRADIN_BAD_INPUT,
                     &(gradin_place){.file = "a\xE2\x80\xAE"
                                             "b"},
                     "x\xC2\x9By \xC3\xA9\x1B[0m");
    cr_expect_str_eq(error.diagnostic[0].file, "a?b");
    cr_expect_str_eq(error.diagnostic[0].text, "x?y \xC3\xA9?[0m");
}

Test(steering, a_line_is_plain) {
    char text[] = "a\tb\xE2\x80\xAE"
                  "c\n";
    gradin_plain_line(text);
    cr_expect_str_eq(text, "a?b?c?");
    gradin_plain_line(NULL);
}
