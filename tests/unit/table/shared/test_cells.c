/* Cells of a CSV: RFC 4180, and none that a spreadsheet would run. */
#include "table/shared/text.h"

#include <criterion/criterion.h>

static void expect_cell(const char *piece, const char *expected) {
    gradin_arena *arena = gradin_arena_create();
    table_text text = {.arena = arena};
    table_put_quoted(&text, piece);
    cr_assert_not(text.failed);
    cr_expect_str_eq(text.bytes, expected);
    gradin_arena_destroy(arena);
}

Test(cells, quotes_as_rfc_4180_has_them) {
    expect_cell("plain", "plain");
    expect_cell("a,b", "\"a,b\"");
    expect_cell("a \"b\"", "\"a \"\"b\"\"\"");
}

Test(cells, nothing_begins_like_a_formula) {
    expect_cell("=1+1", "'=1+1");
    expect_cell("+1+1", "'+1+1");
    expect_cell("-1", "'-1");
    expect_cell("@SUM(1,2)", "\"'@SUM(1,2)\"");
    expect_cell("a=1", "a=1");
}
