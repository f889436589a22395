/* Lines of a page: 80 columns. */
#include "table/shared/text.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

static const char *folded(gradin_arena *arena, const char *text) {
    table_text out = {.arena = arena};
    table_put(&out, text);
    table_fold(&out);
    cr_assert_not(out.failed);
    return out.bytes;
}

Test(fold, lines) {
    gradin_arena *arena = gradin_arena_create();
    char line[200], want[200];
    cr_expect_str_eq(folded(arena, "a  b\n\nc\n"), "a  b\n\nc\n");
    cr_expect_str_eq(folded(arena, "no end"), "no end");
    cr_expect_str_eq(folded(arena, "blanks  \n   \nx"), "blanks\n\nx");
    /* eighty columns stay, eighty-one break; the gap between columns of a table stays */
    snprintf(line, sizeof line, "  %-38s%38s b\n", "a", "x");
    cr_expect_str_eq(folded(arena, line), line);
    snprintf(line, sizeof line, "  %-38s%38s bc\n", "a", "x");
    snprintf(want, sizeof want, "  %-38s%38s\n    bc\n", "a", "x");
    cr_expect_str_eq(folded(arena, line), want);
    gradin_arena_destroy(arena);
}

Test(fold, columns_are_characters) {
    gradin_arena *arena = gradin_arena_create();
    char line[200] = "";
    for (int i = 0; i < 78; i++) strcat(line, "\xC3\xA9");
    strcat(line, " x");
    cr_expect_str_eq(folded(arena, line), line);
    gradin_arena_destroy(arena);
}

Test(fold, a_long_word_stays_whole) {
    gradin_arena *arena = gradin_arena_create();
    char line[200];
    memset(line, 'x', 120);
    strcpy(line + 120, " and more");
    const char *text = folded(arena, line);
    cr_expect_eq(strspn(text, "x"), 120);
    gradin_arena_destroy(arena);
}

Test(fold, several_breaks) {
    gradin_arena *arena = gradin_arena_create();
    char line[400] = "";
    for (int i = 0; i < 30; i++) strcat(line, "wordword ");
    const char *text = folded(arena, line);
    int n_line = 0, widest = 0;
    for (const char *c = text; *c; c += strcspn(c, "\n"), c += *c == '\n', n_line++)
        if ((int)strcspn(c, "\n") > widest) widest = (int)strcspn(c, "\n");
    cr_expect_eq(n_line, 4);
    cr_expect_leq(widest, 80);
    gradin_arena_destroy(arena);
}

Test(fold, wrapped) {
    gradin_arena *arena = gradin_arena_create();
    table_text out = {.arena = arena};
    table_put_wrapped(&out, "one two three four", 70, 60);
    char want[120];
    snprintf(want, sizeof want, "one two\n%60sthree four", "");
    cr_expect_str_eq(out.bytes, want, "'%s'", out.bytes);
    gradin_arena_destroy(arena);
}
