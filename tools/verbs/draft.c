/* gradin draft WISHES --out LAYOUT: a whole layout from its form and a few wishes. */
#include "command.h"
#include "gradin/files.h"
#include "gradin/run.h"
#include "gradin/table.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

typedef struct draft_options {
    const char *out;
    bool is_replacing, is_json, is_quiet;
} draft_options;

static gradin_status compute(const draft_options *o, const char *file, gradin_arena *arena,
                             char **layout, char **text, bool *is_short, gradin_error *error) {
    gradin_draft draft;
    gradin_wishes *wishes = gradin_arena_alloc(arena, 1, sizeof *wishes);
    if (!wishes) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    gradin_status status = gradin_wishes_read(arena, file, wishes, error);
    if (status == GRADIN_OK) status = gradin_draft_make(arena, wishes, &draft, error);
    if (status == GRADIN_OK)
        status = gradin_draft_write(arena, wishes, draft.layout, o->out, layout, error);
    if (status != GRADIN_OK) return status;
    size_t size;
    *is_short = draft.model->seats.n_seat < draft.n_wanted;
    return o->is_json ? gradin_draft_json(arena, &draft, text, &size, error)
                      : gradin_draft_text(arena, &draft, text, error);
}

/* The draft must not overwrite what it was made from. */
static bool is_input(const gradin_arena *arena, const char *path) {
    char out[PATH_MAX], in[PATH_MAX];
    const gradin_input *input;
    int n = gradin_inputs(arena, &input);
    if (!realpath(path, out)) return false;
    for (int i = 0; i < n; i++)
        if (realpath(input[i].path, in) && strcmp(in, out) == 0) return true;
    return false;
}

static int refuse_input(const char *path) {
    say("draft: %s is one of the files that the draft is made from", path);
    return EXIT_INPUT;
}

static int show(const draft_options *o, gradin_arena *arena, const char *text) {
    if (o->is_json) return print_out(text);
    if (o->is_quiet) return EXIT_DONE;
    const char *line = gradin_arena_print(arena, "\nwritten to %s\n", o->out);
    int result = print_out(text);
    if (result != EXIT_DONE || !line) return line ? result : EXIT_MACHINE;
    return print_out(line);
}

static int draft_one(const draft_options *o, const char *file, gradin_arena *arena,
                     gradin_error *error) {
    char *layout = NULL, *text = NULL;
    bool is_short = false, is_printed = strcmp(o->out, "-") == 0;
    gradin_status status = compute(o, file, arena, &layout, &text, &is_short, error);
    if (status == GRADIN_OK && !is_printed && is_input(arena, o->out)) return refuse_input(o->out);
    if (status == GRADIN_OK && !is_printed)
        status = gradin_write_file(o->out, layout, strlen(layout), error);
    if (status != GRADIN_OK) return report(status, error);
    int result = is_printed ? print_out(layout) : show(o, arena, text);
    return result == EXIT_DONE && is_short ? EXIT_LIMIT : result;
}

static int draft(const void *options, const operands *given, gradin_arena *arena,
                 gradin_error *error) {
    const draft_options *o = options;
    struct stat info;
    bool is_file = stat(o->out, &info) == 0 && S_ISREG(info.st_mode);
    if (o->is_replacing || !is_file) return draft_one(o, given->text[0], arena, error);
    say("draft: the file of --out is there already; --replace overwrites it");
    return EXIT_INPUT;
}

static const usage_form usages[] = {
    {.need = "one file of wishes is needed", .operand = {{"WISHES", OPERAND_YAML, 1, 1}}}};

static const option_form options[] = {
    {.name = "--out",
     .value = "LAYOUT",
     AS_FILE(draft_options, out),
     .is_required = true,
     .meaning = "the layout to write; - prints it in place of the text"},
    {.name = "--replace",
     AS_FLAG(draft_options, is_replacing),
     .meaning = "overwrite that file when it is there"},
    JSON_OPTION(draft_options, is_json),
    QUIET_OPTION(draft_options, is_quiet)};

static const example_form examples[] = {
    {"gradin draft wishes/thrust.yaml --out my_thrust.yaml", "a thrust stage, to be edited"}};

const verb_form draft_verb = {
    .name = "draft",
    .summary = "make a whole layout from its form and a few wishes",
    .description =
        "Wishes are a dozen lines: the venue, the form (end_stage, thrust, round, traverse or "
        "flat_floor), the size of the stage, the wanted C, a capacity and so on. The layout that "
        "is written passes check and fit. It has seats on lifts and towers, aisles, wheelchair "
        "places and rails. What is printed says what was "
        "chosen and what limited it.\n\n"
        "A draft approves nothing.",
    .limit = "the draft has fewer seats than are wished for",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(draft_options),
    .run = draft};
