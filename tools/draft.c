/* gradin draft WISHES --out LAYOUT: a whole layout from its form and a few wishes. */
#include "gradin/draft.h"
#include "command.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

typedef struct draft_options {
    const char *file, *out;
    bool is_replacing, is_quiet;
} draft_options;

static gradin_status compute(const draft_options *o, gradin_arena *arena, gradin_draft *draft,
                             char **text, gradin_error *error) {
    gradin_wishes *wishes = gradin_arena_alloc(arena, 1, sizeof *wishes);
    if (!wishes) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    gradin_status status = gradin_wishes_read(arena, o->file, wishes, error);
    if (status == GRADIN_OK) status = gradin_draft_make(arena, wishes, o->out, draft, error);
    return status == GRADIN_OK ? gradin_draft_text(arena, draft, text, error) : status;
}

static int draft(const draft_options *o, gradin_arena *arena, gradin_error *error) {
    gradin_draft made;
    char *text = NULL;
    gradin_status status = compute(o, arena, &made, &text, error);
    if (status == GRADIN_OK)
        status = gradin_write_file(o->out, made.yaml, strlen(made.yaml), error);
    if (status != GRADIN_OK) return report(status, error);
    if (o->is_quiet) return EXIT_DONE;
    const char *line = gradin_arena_print(arena, "\nwritten to %s\n", o->out);
    int result = print_out(text);
    if (result != EXIT_DONE || !line) return line ? result : EXIT_MACHINE;
    return print_out(line);
}

static int run(const draft_options *o) {
    gradin_arena *arena = gradin_arena_create();
    gradin_error *error = calloc(1, sizeof *error);
    int result = EXIT_MACHINE;
    if (arena && error)
        result = draft(o, arena, error);
    else
        say("out of memory");
    gradin_arena_destroy(arena);
    free(error);
    return result;
}

/* What is missing or wrong, NULL when nothing is. */
static const char *complaint(const draft_options *o, int n_file) {
    if (n_file != 1) return "one file of wishes is needed";
    if (!o->out) return "--out LAYOUT is needed";
    if (!o->is_replacing && access(o->out, F_OK) == 0)
        return "the file of --out is there already; --replace overwrites it";
    return NULL;
}

int verb_draft(int n_argument, char **argument) {
    draft_options o = {0};
    const option_form form[] = {{"--out", OPTION_TEXT, &o.out, 0, 0},
                                {"--replace", OPTION_FLAG, &o.is_replacing, 0, 0},
                                {"--quiet", OPTION_FLAG, &o.is_quiet, 0, 0}};
    const char **file = calloc((size_t)n_argument + 1, sizeof *file);
    int n_file = 0, result = EXIT_INPUT;
    if (!file) return EXIT_MACHINE;
    if (parse_options("draft", n_argument, argument, form, sizeof form / sizeof *form, file,
                      &n_file)) {
        const char *wrong = complaint(&o, n_file);
        o.file = file[0];
        if (wrong)
            say("draft: %s", wrong);
        else
            result = run(&o);
    }
    free(file);
    return result;
}
