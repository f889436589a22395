/* gradin check FILE...: every error of every file at once. */
#include "command.h"
#include "gradin/acoustics.h"
#include "gradin/files.h"

#include <unistd.h>

typedef struct check_options {
    bool is_json, is_quiet;
} check_options;

static int check_one(const check_options *o, gradin_checked_file *file) {
    char line[1024];
    file->kind = "file";
    file->status = gradin_file_check_by(file->path, STDIN_FILENO, gradin_noise_check, &file->kind,
                                        &file->error);
    bool is_told = file->status != GRADIN_OK || !o->is_quiet;
    int result = is_told ? report(file->status, &file->error) : EXIT_DONE;
    if (file->status != GRADIN_OK || o->is_json || o->is_quiet) return result;
    snprintf(line, sizeof line, "%s: %s, ok\n", file->path, file->kind);
    return print_out(line);
}

static int check(const void *options, const operands *given, gradin_arena *arena,
                 gradin_error *error) {
    const check_options *o = options;
    /* Errors are kept for the JSON alone. */
    size_t n_kept = o->is_json ? (size_t)given->n : 1;
    gradin_checked_file *file = gradin_arena_alloc(arena, n_kept, sizeof *file);
    int result = EXIT_DONE;
    if (!file) return report(GRADIN_NO_MEMORY, error);
    for (int i = 0; i < given->n && result != EXIT_MACHINE; i++) {
        gradin_checked_file *next = &file[o->is_json ? i : 0];
        gradin_error_clear(&next->error);
        next->path = given->text[i];
        int one = check_one(o, next);
        if (one > result) result = one;
    }
    if (!o->is_json || result == EXIT_MACHINE) return result;
    char *text;
    size_t size;
    gradin_status status = gradin_check_json(arena, file, given->n, &text, &size, error);
    if (status != GRADIN_OK) return report(status, error);
    int printed = print_out(text);
    return printed > result ? printed : result;
}

static const usage_form usages[] = {
    {.need = "a file is needed", .operand = {{"FILE", OPERAND_YAML, 1, ANY_NUMBER}}}};
static const option_form options[] = {JSON_OPTION(check_options, is_json),
                                      QUIET_OPTION(check_options, is_quiet)};
static const example_form examples[] = {
    {"gradin check hall.yaml thrust.yaml", "a venue and a layout in it"}};

const verb_form check_verb = {
    .name = "check",
    .summary = "check input files of any kind",
    .description =
        "Reads venues, layouts, briefs, overflights, traffic and wishes, and the files that they "
        "name, and prints every error at once: file, line, column, key, what is wrong and what is "
        "allowed. A layout is built in full, so a machine beyond its travel, a clash of machines, "
        "a seat without support and a broken interlock are found, too, and so is what an "
        "assessment of its noise would refuse. What is accepted but seldom "
        "meant, such as rows closer than seats stand anywhere, is told as a note. With --json the "
        "errors are "
        "in the JSON as well, for "
        "editors and scripts.",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(check_options),
    .run = check};
