/* What is drawn of a name's bytes: whole characters of UTF-8 as RFC 3629 has them (sections 3 and
 * 4: no overlong form, no surrogate, nothing above U+10FFFF) that are no noncharacters (The Unicode
 * Standard, section 23.7), a question mark for each other byte and for each control. */
#include "render/draw/canvas.h"

#include <criterion/criterion.h>
#include <string.h>

static const text_style style = {.size = 12.0};

typedef struct trial {
    const char *text, *drawn;
} trial;

static const trial trials[] = {
    {"A~ z", "A~ z"},
    {"a\x1f"
     "b",
     "a?b"},
    {"a\x7f"
     "b",
     "a?b"},
    {"a\tb", "a?b"},
    {"\x80", "?"},
    {"\xbfz", "?z"},
    {"\xc1\xbf", "??"},      /* overlong */
    {"\xe0\x9f\xbf", "???"}, /* overlong */
    {"\xf0\x8f\xbf\xbf", "????"},
    {"\xed\xa0\x80", "???"},      /* a surrogate */
    {"\xf4\x90\x80\x80", "????"}, /* above U+10FFFF */
    {"\xf5\x80\x80\x80", "????"},
    {"\xef\xb7\x90", "???"},
    {"\xef\xb7\xaf", "???"},
    {"\xef\xbf\xbe", "???"},
    {"\xef\xbf\xbf", "???"},
    {"\xf0\x9f\xbf\xbe", "????"},
    {"\xf4\x8f\xbf\xbf", "????"},
    {"\xc3z", "?z"}, /* cut off */
    {"\xe2\x82z", "??z"},
    {"\xc3\xa9\xe2\x82\xac", "\xc3\xa9\xe2\x82\xac"},
};

Test(text, bytes_that_are_no_character_come_out_as_question_marks) {
    gradin_arena *arena = gradin_arena_create();
    gradin_error error = {0};
    canvas page;
    cr_assert_eq(canvas_open(&page, arena, 100.0, 1.0, &error), GRADIN_OK);
    for (size_t i = 0; i < sizeof trials / sizeof *trials; i++)
        cr_expect_float_eq(canvas_text_width(&page, style, trials[i].text),
                           canvas_text_width(&page, style, trials[i].drawn), 1e-9, "text %zu", i);
    /* the characters that do draw are not taken for question marks */
    static const char *const drawn[] = {" ",
                                        "\xc2\xb2",
                                        "\xc3\xa9",
                                        "\xe0\xa0\x80",
                                        "\xed\x9f\xbf",
                                        "\xee\xbf\xbf",
                                        "\xef\xb7\x8f",
                                        "\xef\xb7\xb0",
                                        "\xef\xbf\xbd",
                                        "\xef\xbe\xbf",
                                        "\xf0\x90\x80\x80",
                                        "\xf1\x8e\xbf\xbf",
                                        "\xf1\x8f\xbd\xbf",
                                        "\xf4\x8f\xbf\xbd"};
    for (size_t i = 0; i < sizeof drawn / sizeof *drawn; i++) {
        cr_expect_lt(canvas_text_width(&page, style, drawn[i]),
                     canvas_text_width(&page, style, &"????"[4 - strlen(drawn[i])]) - 0.1,
                     "text %zu", i);
    }
    cr_expect_gt(canvas_text_width(&page, style, "~"), canvas_text_width(&page, style, "?") + 0.1);
    canvas_close(&page);
    gradin_arena_destroy(arena);
}

Test(text, a_long_text_is_cut_to_whole_characters) {
    gradin_arena *arena = gradin_arena_create();
    gradin_error error = {0};
    canvas page;
    cr_assert_eq(canvas_open(&page, arena, 100.0, 1.0, &error), GRADIN_OK);
    char text[TEXT_CHARS + 8] = {0}, cut[TEXT_CHARS] = {0};
    memset(text, 'n', TEXT_CHARS - 2);
    memset(cut, 'n', TEXT_CHARS - 2);
    strcpy(text + TEXT_CHARS - 2, "\xc3\xa9n");
    cr_expect_float_eq(canvas_text_width(&page, style, text), canvas_text_width(&page, style, cut),
                       1e-9);
    canvas_close(&page);
    gradin_arena_destroy(arena);
}
