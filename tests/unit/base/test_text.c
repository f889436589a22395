/* Numbers to and from text, the same under a locale with a decimal comma; edit distance. */
#include "gradin/base.h"

#include <criterion/criterion.h>
#include <limits.h>
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct number {
    const char *text;
    double value;
} number;

static const number accepted[] = {
    {"0", 0.0},
    {"-0", -0.0},
    {"1.25", 1.25},
    {"+1.25", 1.25},
    {".5", 0.5},
    {"5.", 5.0},
    {"1e3", 1000.0},
    {"1E-3", 0.001},
    {"-2.5e+2", -250.0},
    {"0.1", 0.1},
    {"1e-320", 1e-320},
    {"1e-400", 0.0},
    {"007", 7.0},
    {"1e308", 1e308},
    {"123456789012345678901234567890", 123456789012345678901234567890.0},
};

static const char *const refused[] = {
    "",      " 1",    "1 ",  "1,5", "1.5m",     "nan",    "NAN",   "inf",   "-inf", "infinity",
    "0x10",  "1e",    "e5",  "--1", "1e999",    "-1e999", "1.2.3", "1e5.5", "+",    ".",
    "1_000", "1'000", "\t1", "1\n", "\xd9\xa1", "1e+",    "½",     "0b1",
};

static void check_parsing(const char *where) {
    for (size_t i = 0; i < sizeof accepted / sizeof *accepted; i++) {
        double value = NAN;
        cr_expect(gradin_parse_number(accepted[i].text, &value), "%s: '%s' is refused", where,
                  accepted[i].text);
        cr_expect_eq(value, accepted[i].value, "%s: '%s' gave %a", where, accepted[i].text, value);
    }
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
        double value = 42.0;
        cr_expect_not(gradin_parse_number(refused[i], &value), "%s: '%s' is accepted", where,
                      refused[i]);
        cr_expect_eq(value, 42.0, "%s: '%s' changed the value", where, refused[i]);
    }
}

static void expect_text(const char *where, double value, int decimals, const char *expected) {
    char out[400];
    cr_expect_str_eq(gradin_format_fixed(out, sizeof out, value, decimals), expected, "%s: %s",
                     where, out);
}

static void check_formatting(const char *where) {
    expect_text(where, 1.5, 1, "1.5");
    expect_text(where, 1234567.891, 2, "1234567.89");
    expect_text(where, -3.25, 2, "-3.25");
    expect_text(where, 2.0, 0, "2");
    expect_text(where, -0.04, 1, "0.0");
    expect_text(where, -0.0, 0, "0");
    expect_text(where, -0.06, 1, "-0.1");
    expect_text(where, 0.0, 3, "0.000");
    expect_text(where, NAN, 1, "");
    expect_text(where, INFINITY, 1, "");
    expect_text(where, -INFINITY, 1, "");
    expect_text(where, 1e22, 1, "10000000000000000000000.0");
}

Test(text, numbers_in_the_plain_locale) {
    check_parsing("C");
    check_formatting("C");
    cr_expect_not(gradin_parse_number(NULL, &(double){0.0}));
}

Test(text, round_trip) {
    const double values[] = {0.1, 1.0 / 3.0, 12345.678901, 1e-9, -7.0 / 11.0};
    for (size_t i = 0; i < 5; i++) {
        char out[64];
        double back = NAN;
        cr_assert(gradin_parse_number(gradin_format_fixed(out, sizeof out, values[i], 12), &back));
        cr_expect_leq(fabs(back - values[i]), 0.5e-12 + 1e-15 * fabs(values[i]), "%s", out);
    }
}

Test(text, small_buffers_are_not_overrun) {
    char out[8] = "yyyyyyy";
    gradin_format_fixed(out, 4, 12345.6, 1);
    cr_expect_str_eq(out, "123");
    cr_expect_eq(out[4], 'y');
    gradin_format_fixed(out, 0, 1.0, 1);
    cr_expect_str_eq(out, "123");
    gradin_format_fixed(out, 1, 1.0, 1);
    cr_expect_str_eq(out, "");
}

static char locale_folder[] = "/tmp/gradin-locale-XXXXXX";

static void remove_locale(void) {
    char command[PATH_MAX];
    snprintf(command, sizeof command, "rm -rf %s", locale_folder);
    cr_expect_eq(system(command), 0);
}

/* Builds de_DE.UTF-8 for this process alone: the system need not have it. */
static void use_comma(void) {
    char command[PATH_MAX];
    cr_assert(mkdtemp(locale_folder));
    snprintf(command, sizeof command, "localedef -i de_DE -f UTF-8 %s/de_DE.UTF-8 >/dev/null 2>&1",
             locale_folder);
    cr_assert_eq(system(command), 0, "localedef failed (Debian package locales)");
    cr_assert_eq(setenv("LOCPATH", locale_folder, 1), 0);
    cr_assert(setlocale(LC_ALL, "de_DE.UTF-8"), "the locale is not found");
    cr_assert_str_eq(localeconv()->decimal_point, ",");
}

Test(text, numbers_under_a_comma, .init = use_comma, .fini = remove_locale) {
    char native[16];
    snprintf(native, sizeof native, "%.1f", 1.5);
    cr_assert_str_eq(native, "1,5"); /* the locale is really in force */
    check_parsing("de_DE");
    check_formatting("de_DE");
}

Test(text, edit_distance) {
    /* kitten/sitting = 3 and Saturday/Sunday = 3 are the textbook pairs (from memory) */
    cr_expect_eq(gradin_edit_distance("kitten", "sitting"), 3);
    cr_expect_eq(gradin_edit_distance("Saturday", "Sunday"), 3);
    cr_expect_eq(gradin_edit_distance("", ""), 0);
    cr_expect_eq(gradin_edit_distance("", "abc"), 3);
    cr_expect_eq(gradin_edit_distance("abc", ""), 3);
    cr_expect_eq(gradin_edit_distance("riser", "riser"), 0);
    cr_expect_eq(gradin_edit_distance("risre", "riser"), 1);
    cr_expect_eq(gradin_edit_distance("RISER", "riser"), 0);
    /* optimal string alignment edits no swapped pair again: 3, where the unrestricted distance is 2
     * (from memory) */
    cr_expect_eq(gradin_edit_distance("ca", "abc"), 3);
}

static const char *nearest(const char *name, const char *const *names, int n) {
    int at = gradin_nearest_name(name, names, n);
    return at < 0 ? "none" : names[at];
}

Test(text, nearest_name) {
    static const char *const names[] = {"South", "East", "South upper", "axis_deg", "pane", "W2"};
    static const struct {
        const char *name, *near;
    } cases[] = {{"Sout", "South"},
                 {"Suoth", "South"},
                 {"south", "South"},
                 {"Nort", "none"},
                 {"North", "none"},
                 {"West", "none"},
                 {"Est", "East"},
                 {"Eats", "East"},
                 {"axis", "axis_deg"},
                 {"pain", "pane"},
                 {"w2", "W2"},
                 {"W9", "none"},
                 {"x", "none"},
                 {"", "none"},
                 {"South upper left", "South upper"},
                 {"nowhere at all", "none"},
                 {"Suoth uper", "South upper"}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        cr_expect_str_eq(nearest(cases[i].name, names, 6), cases[i].near, "'%s'", cases[i].name);
    cr_expect_eq(gradin_nearest_name("South", names, 0), -1);
}

Test(text, edit_distance_is_bounded) {
    char lengthy[200], edge[64];
    memset(lengthy, 'a', sizeof lengthy);
    lengthy[199] = '\0';
    memset(edge, 'a', sizeof edge);
    edge[63] = '\0';
    cr_expect_eq(gradin_edit_distance(lengthy, "a"), 64);
    cr_expect_eq(gradin_edit_distance("a", lengthy), 64);
    cr_expect_eq(gradin_edit_distance(edge, edge), 0);
    cr_expect_eq(gradin_edit_distance(edge, ""), 63);
}
