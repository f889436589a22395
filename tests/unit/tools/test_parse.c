/* Arguments against a definition: what is taken, and the line for what is not. */
#include "sample.h"

#include <criterion/criterion.h>
#include <string.h>

enum { MOST = 12 };

typedef struct parsed {
    sample_options options;
    operands given;
    complaint wrong;
    bool is_good;
} parsed;

/* Arguments divided by single spaces; '_' stands for an empty one. */
static parsed parse(const char *line) {
    static char copy[400], empty[1];
    static const char *operand[MOST];
    char *argument[MOST];
    int n = 0;
    parsed p = {.is_good = false};
    snprintf(copy, sizeof copy, "%s", line);
    for (char *word = strtok(copy, " "); word && n < MOST; word = strtok(NULL, " "))
        argument[n++] = strcmp(word, "_") == 0 ? empty : word;
    p.is_good = parse_arguments(&sample_verb, n, argument, &p.options, operand, &p.given, &p.wrong);
    return p;
}

static void expect_line(const char *line, const char *want) {
    parsed p = parse(line);
    cr_expect(!p.is_good, "'%s' passed", line);
    cr_expect_str_eq(p.wrong.text, want, "'%s': %s", line, p.wrong.text);
}

Test(parse, presets) {
    parsed p = parse("a.yaml --text t");
    cr_assert(p.is_good, "%s", p.wrong.text);
    cr_expect_eq(p.options.integer, 7);
    cr_expect_eq(p.options.choice, 1);
    cr_expect_eq(p.options.number, 0.0);
    cr_expect_null(p.options.file);
    cr_expect_not(p.options.is_flag);
}

Test(parse, every_kind) {
    parsed p = parse("--flag --integer -3 --number=2.5 --choice blue --text=x=y --texts 1 "
                     "--texts=2 a.yaml");
    cr_assert(p.is_good, "%s", p.wrong.text);
    cr_expect(p.options.is_flag);
    cr_expect_eq(p.options.integer, -3);
    cr_expect_eq(p.options.number, 2.5);
    cr_expect_eq(p.options.choice, 2);
    cr_expect_str_eq(p.options.text, "x=y");
    cr_expect_eq(p.options.texts.n, 2);
    cr_expect_str_eq(p.options.texts.text[1], "2");
    cr_expect_eq(p.given.n, 1);
    p = parse("--list a,b --file f --folder d --text t a.yaml");
    cr_assert(p.is_good, "%s", p.wrong.text);
    cr_expect_str_eq(p.options.list, "a,b");
    cr_expect_str_eq(p.options.file, "f");
    cr_expect_str_eq(p.options.folder, "d");
}

Test(parse, operands) {
    parsed p = parse("a.yaml --text t - one");
    cr_assert(p.is_good, "%s", p.wrong.text);
    cr_expect_eq(p.given.n, 3);
    cr_expect_str_eq(p.given.text[1], "-");
    p = parse("--text t -- --flag");
    cr_assert(p.is_good, "%s", p.wrong.text);
    cr_expect_str_eq(p.given.text[0], "--flag");
    cr_expect_not(p.options.is_flag);
    expect_line("--text t", "one file is needed, not 0");
    expect_line("--text t a b c d", "one file is needed, not 4");
}

Test(parse, usages) {
    parsed p = parse("--pair --text t a b");
    cr_assert(p.is_good, "%s", p.wrong.text);
    cr_expect_eq(p.given.usage, 1);
    expect_line("--pair --text t a", "--pair takes two files, not 1");
    expect_line("--pair --text t --number 1 a b", "--number does not go with --pair");
}

Test(parse, ranges) {
    for (int i = 0; i < 6; i++) {
        static const char *const bad[] = {"-4", "41", "1.5", "x", "nan", "1e99"};
        char line[60], want[120];
        snprintf(line, sizeof line, "a --text t --integer %s", bad[i]);
        snprintf(want, sizeof want, "--integer is '%s'; a whole number from -3 to 40 is needed",
                 bad[i]);
        expect_line(line, want);
    }
    expect_line("a --integer _", "--integer is ''; a whole number from -3 to 40 is needed");
    expect_line("a --number 0", "--number is '0'; hours above 0 up to 2.5 are needed");
    expect_line("a --number 2.6", "--number is '2.6'; hours above 0 up to 2.5 are needed");
    expect_line("a --choice pink", "--choice is 'pink'; red, green or blue is needed");
    expect_line("a --texts 1 --texts 2 --texts 3", "--texts is given more than 2 times");
}

Test(parse, refusals) {
    expect_line("a", "--text T is needed");
    expect_line("a --text", "--text needs a value");
    expect_line("a --text=", "--text is empty");
    expect_line("a --flag=1", "--flag takes no value");
    expect_line("a --text t --text t", "--text is given twice");
    expect_line("a --flag --flag", "--flag is given twice");
    expect_line("a --flog", "unknown option '--flog'; did you mean '--flag'?");
    expect_line("a -flag", "unknown option '-flag'; did you mean '--flag'?");
    expect_line("a --numbre=3", "unknown option '--numbre'; did you mean '--number'?");
    expect_line("a --zzz", "unknown option '--zzz'; 'gradin help paint' lists them");
    expect_line("a -x", "unknown option '-x'; 'gradin help paint' lists them");
}

Test(parse, long_arguments_fit) {
    char line[390];
    memset(line, 'x', sizeof line);
    memcpy(line, "a --integer ", 12);
    line[sizeof line - 1] = '\0';
    cr_expect_not(parse(line).is_good);
    memcpy(line, "a --", 4);
    cr_expect_not(parse(line).is_good);
}

Test(parse, help) {
    char a[] = "a", help[] = "--help", h[] = "-h", end[] = "--";
    cr_expect(asks_help(2, (char *[]){a, help}));
    cr_expect(asks_help(2, (char *[]){a, h}));
    cr_expect_not(asks_help(2, (char *[]){end, help}));
    cr_expect_not(asks_help(1, (char *[]){a}));
}

Test(parse, verbs) {
    cr_expect_eq(find_verb(&sample_command, "paint"), &sample_verb);
    cr_expect_null(find_verb(&sample_command, "pain"));
    cr_expect_eq(nearest_verb(&sample_command, "pain"), &sample_verb);
    cr_expect_null(nearest_verb(&sample_command, "sing"));
}
