/* What is written from a definition: help, manual, completion. */
#include "sample.h"

#include <criterion/criterion.h>
#include <stdlib.h>
#include <string.h>

static void expect_in(const char *text, const char *part) {
    cr_expect(strstr(text, part) != NULL, "no '%s' in:\n%s", part, text);
}

static char *wrapped(const char *text, int at, int indent, int columns) {
    char *made = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&made, &size);
    cr_assert_not_null(out);
    write_wrapped(out, text, at, indent, columns);
    fclose(out);
    return made;
}

static void expect_wrapped(const char *text, int at, int indent, const char *want) {
    char *made = wrapped(text, at, indent, 12);
    cr_expect_str_eq(made, want, "'%s' became '%s'", text, made);
    free(made);
}

Test(wrap, lines) {
    expect_wrapped("one two three", 0, 0, "one two\nthree\n");
    expect_wrapped("one two six", 0, 0, "one two six\n");
    expect_wrapped("one two seven", 4, 4, "one two\n    seven\n");
    expect_wrapped("averyverylongword x", 2, 2, "averyverylongword\n  x\n");
    expect_wrapped("one\n\ntwo", 2, 2, "one\n\n  two\n");
    expect_wrapped("one\ntwo", 0, 0, "one two\n");
    expect_wrapped("", 0, 0, "\n");
    /* columns are characters, not bytes: twelve of two bytes each fill a line */
    expect_wrapped(
        "\xC2\xB0\xC2\xB0\xC2\xB0\xC2\xB0\xC2\xB0 \xC2\xB0\xC2\xB0\xC2\xB0\xC2\xB0\xC2\xB0"
        "\xC2\xB0 x",
        0, 0,
        "\xC2\xB0\xC2\xB0\xC2\xB0\xC2\xB0\xC2\xB0 \xC2\xB0\xC2\xB0\xC2\xB0\xC2\xB0\xC2\xB0"
        "\xC2\xB0\nx\n");
    cr_expect_eq(text_columns("20 \xC2\xB0"
                              "C"),
                 5);
}

Test(help, of_a_verb) {
    char *text = written_of_verb(write_verb_help);
    expect_in(text, "usage: tool paint FILE [NAME...] [--flag] [--integer N] [--number H]\n"
                    "                  [--choice COLOUR] --text T [--texts T]... [--list L]\n");
    expect_in(text, "       tool paint --pair FILE... [--flag]");
    expect_in(text, "  --integer N           how many (-3 to 40; default: 7)\n");
    expect_in(text, "  --number H            how long (above 0 up to 2.5 hours)\n");
    expect_in(text, "which [one] (red, green or blue; default: green)\n");
    expect_in(text, "  --text T              a text (required)\n");
    expect_in(text, "(up to 2 times)");
    expect_in(text, "a folder (default: none at all)\n");
    expect_in(text, "  1  the paint is wet\n");
    expect_in(text, "  tool paint a.yaml --text x\n      is it dry?\n");
    free(text);
}

Test(help, of_the_command) {
    char *text = written(write_overview);
    expect_in(text, "usage: tool VERB ...\n");
    expect_in(text, "  paint       paint things\n");
    expect_in(text, "  1  not so good\n");
    expect_in(text, "Mind the step.\n");
    free(text);
}

Test(manual, of_a_verb) {
    char *text = written_of_verb(write_verb_manual);
    expect_in(text, ".Dd May 5, 2025\n.Dt TOOL-PAINT 1\n.Os tool 9.8.7\n");
    expect_in(text, ".Nm tool-paint\n.Nd paint things\n");
    expect_in(text, ".Ar FILE\n.Op Ar NAME ...\n.Op Fl \\-flag\n");
    expect_in(text, ".Fl \\-text Ar T\n");
    /* one sentence a line; a line that begins with a point is no macro; no byte above 127 */
    expect_in(text, "Paints.\nTwice \\-\\- 100 \\[u00B0]C.\n.Pp\n\\&.Not a macro.\n");
    expect_in(text, ".It Fl \\-integer Ar N\nHow many (\\-3 to 40; default: 7).\n");
    expect_in(text, ".It 1\nThe paint is wet.\n");
    expect_in(text, "Is it dry?\n.Pp\n.Dl tool paint a.yaml \\-\\-text x\n");
    for (const char *c = text; *c; c++) cr_assert_geq(*c, 0);
    free(text);
    text = written(write_manual);
    expect_in(text, ".It Cm paint\nPaint things.\n");
    expect_in(text, ".Xr tool-paint 1\n");
    free(text);
}

Test(completion, texts) {
    char *text = written(write_bash_completion);
    expect_in(text, "    paint:--choice) _tool_words 'red green blue' \"$cur\"; return ;;\n");
    expect_in(text, "    paint:--folder) _tool_folders \"$cur\"; return ;;\n");
    expect_in(text, "        paint) _tool_words '--flag --integer --number ");
    expect_in(text, "    paint) _tool_yaml \"$cur\" ;;\n");
    cr_expect_null(strstr(text, "paint:--flag"));
    free(text);
    text = written(write_zsh_completion);
    expect_in(text, "#compdef tool\n");
    expect_in(text, "'--choice=[which \\[one\\]]:COLOUR:(red green blue)' \\\n");
    expect_in(text, "'*--texts=[the user'\\''s texts]:T:' \\\n");
    expect_in(text, "':FILE:_files -g \"*.(yaml|yml)\"' \\\n");
    free(text);
}
