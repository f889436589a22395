/* Characters that steer: the edges of each range of Unicode Standard Annex 9, table 4, and of the
 * C0 and C1 controls. */
#include "base/steering.h"
#include "gradin/run.h"

#include <criterion/criterion.h>

Test(steering, the_edges_of_each_range) {
    static const struct {
        const char *text;
        size_t bytes;
    } all[] = {{"", 0},         {"\x01", 1},         {"\x1F", 1},         {" ", 0},
               {"~", 0},        {"\x7F", 1},         {"\xC2\x80", 2},     {"\xC2\x9F", 2},
               {"\xC2\xA0", 0}, {"\xC3\x80", 0},     {"\xD8\x9B", 0},     {"\xD8\x9C", 2},
               {"\xD8\x9D", 0}, {"\xE2\x80\x8D", 0}, {"\xE2\x80\x8E", 3}, {"\xE2\x80\x8F", 3},
               {"\xE2", 0},     {"\xE2\x80\x90", 0}, {"\xE2\x80\xA7", 0}, {"\xE2\x80\xA8", 3},
               {"\xE2\x80", 0}, {"\xE2\x80\xAE", 3}, {"\xE2\x80\xAF", 0}, {"\xE2\x81\xA5", 0},
               {"\xE2\x81", 0}, {"\xE2\x81\xA6", 3}, {"\xE2\x81\xA9", 3}, {"\xE2\x81\xAA", 0}};
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        cr_expect_eq(steering_bytes(all[i].text), all[i].bytes, "%zu", i);
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
