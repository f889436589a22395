/* Numbers in JSON: RFC 8259 sets no limit, but a whole one is only an integer as far as 64 bits. */
#include "table/shared/json.h"

#include <criterion/criterion.h>

static void expect(table_quantity quantity, double value, const char *expected) {
    gradin_arena *arena = gradin_arena_create();
    table_json json = {.root = json_array()};
    size_t size = 0;
    table_json_append_number(&json, json.root, quantity, value);
    cr_assert_not(json.failed);
    char *text = table_json_dump(arena, json.root, &size);
    cr_assert_not_null(text);
    cr_expect_str_eq(text, expected);
    json_decref(json.root);
    gradin_arena_destroy(arena);
}

Test(json, whole_numbers_beyond_64_bits) {
    expect(TABLE_COUNT, 1e18, "[\n  1000000000000000000\n]\n");
    expect(TABLE_COUNT, 1e19, "[\n  1e19\n]\n");
    expect(TABLE_COUNT, -1e300, "[\n  -1e300\n]\n");
    expect(TABLE_COUNT, NAN, "[\n  null\n]\n");
    expect(TABLE_METRE, -0.0001, "[\n  0.0\n]\n");
}
