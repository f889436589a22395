/* gradin check FILE...: every error of every file at once. */
#include "command.h"
#include "gradin/files.h"

static int check_one(const char *path, gradin_error *error) {
    const char *kind = "file";
    char line[1024];
    gradin_error_clear(error);
    gradin_status status = gradin_file_check(path, &kind, error);
    int result = report(status, error);
    if (status != GRADIN_OK) return result;
    snprintf(line, sizeof line, "%s: %s, ok\n", path, kind);
    return print_out(line);
}

static int check(const void *options, const operands *given, gradin_arena *arena,
                 gradin_error *error) {
    (void)options, (void)arena;
    int result = EXIT_DONE;
    for (int i = 0; i < given->n && result != EXIT_MACHINE; i++) {
        int one = check_one(given->text[i], error);
        if (one > result) result = one;
    }
    return result;
}

static const usage_form usages[] = {
    {.need = "a file is needed", .operand = {{"FILE", OPERAND_YAML, 1, ANY_NUMBER}}}};
static const example_form examples[] = {
    {"gradin check hall.yaml thrust.yaml", "a venue and a layout in it"}};

const verb_form check_verb = {
    .name = "check",
    .summary = "check input files of any kind",
    .description =
        "Reads venues, layouts, briefs, overflights, traffic and wishes, and the files that they "
        "name, and prints every error at once: file, line, column, key, what is wrong and what is "
        "allowed. A layout is built in full, so a machine beyond its travel, a clash of machines, "
        "a seat without support and a broken interlock are found, too.",
    COUNTED(usage, usages),
    COUNTED(example, examples),
    .run = check};
