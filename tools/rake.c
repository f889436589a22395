/* gradin rake LAYOUT --block NAME --c MM --out DIR: the risers a block needs for a wanted C. */
#include "command.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct rake_options {
    const char *file, *block, *form, *out_dir;
    int c_mm, step_mm;
    bool is_quiet;
} rake_options;

typedef struct rake_output {
    char *csv, *text;
    unsigned char *png;
    size_t csv_size, png_size;
} rake_output;

static gradin_status compute(const rake_options *o, gradin_arena *arena, gradin_model *model,
                             gradin_rake *rake, rake_output *out, gradin_error *error) {
    gradin_rake_options wanted = {.block = o->block,
                                  .c_m = o->c_mm / 1000.0,
                                  .step_m = o->step_mm / 1000.0,
                                  .form = o->form && strcmp(o->form, "constant-riser") == 0
                                              ? GRADIN_RAKE_CONSTANT_RISER
                                              : GRADIN_RAKE_CONSTANT_C};
    gradin_status status = gradin_model_read(arena, o->file, model, error);
    if (status == GRADIN_OK) status = gradin_rake_compute(arena, model, &wanted, rake, error);
    if (status == GRADIN_OK)
        status = gradin_rake_csv(arena, rake, &out->csv, &out->csv_size, error);
    if (status == GRADIN_OK) status = gradin_rake_text(arena, rake, &out->text, error);
    if (status == GRADIN_OK)
        status = gradin_rake_png(arena, rake, &out->png, &out->png_size, error);
    return status;
}

static int write_all(const rake_options *o, gradin_arena *arena, const rake_output *out,
                     gradin_error *error) {
    int result = make_folder(o->out_dir);
    if (result != EXIT_DONE) return result;
    const char *csv = gradin_arena_print(arena, "%s/rake.csv", o->out_dir);
    const char *png = gradin_arena_print(arena, "%s/rake.png", o->out_dir);
    gradin_status status = csv && png ? GRADIN_OK : GRADIN_NO_MEMORY;
    if (status == GRADIN_OK) status = gradin_write_file(csv, out->csv, out->csv_size, error);
    if (status == GRADIN_OK) status = gradin_write_file(png, out->png, out->png_size, error);
    return report(status, error);
}

static int print_all(const rake_options *o, gradin_arena *arena, const rake_output *out) {
    if (o->is_quiet) return EXIT_DONE;
    const char *line =
        gradin_arena_print(arena, "\nwritten to %s: rake.csv, rake.png\n", o->out_dir);
    int result = print_out(out->text);
    if (result != EXIT_DONE || !line) return line ? result : EXIT_MACHINE;
    return print_out(line);
}

static int rake(const rake_options *o, gradin_arena *arena, gradin_error *error) {
    gradin_model *model = gradin_arena_alloc(arena, 1, sizeof *model);
    gradin_rake *found = gradin_arena_alloc(arena, 1, sizeof *found);
    rake_output out = {0};
    if (!model || !found) return report(GRADIN_NO_MEMORY, error);
    gradin_status status = compute(o, arena, model, found, &out, error);
    if (status != GRADIN_OK) return report(status, error);
    int result = write_all(o, arena, &out, error);
    if (result == EXIT_DONE) result = print_all(o, arena, &out);
    return result == EXIT_DONE && !found->is_reached ? EXIT_LIMIT : result;
}

static int run(const rake_options *o) {
    gradin_arena *arena = gradin_arena_create();
    gradin_error *error = calloc(1, sizeof *error);
    int result = EXIT_MACHINE;
    if (arena && error)
        result = rake(o, arena, error);
    else
        say("out of memory");
    gradin_arena_destroy(arena);
    free(error);
    return result;
}

/* What is missing or wrong, NULL when nothing is. */
static const char *complaint(const rake_options *o, int n_file) {
    if (n_file != 1) return "one layout is needed";
    if (!o->block) return "--block NAME is needed";
    if (o->c_mm == 0) return "--c MM is needed";
    if (!o->out_dir) return "--out DIR is needed";
    if (o->form && strcmp(o->form, "constant-c") != 0 && strcmp(o->form, "constant-riser") != 0)
        return "--form is constant-c or constant-riser";
    return NULL;
}

int verb_rake(int n_argument, char **argument) {
    rake_options o = {.step_mm = 10};
    const option_form form[] = {
        {"--block", OPTION_TEXT, &o.block, 0, 0}, {"--c", OPTION_COUNT, &o.c_mm, 1, 1000},
        {"--form", OPTION_TEXT, &o.form, 0, 0},   {"--step", OPTION_COUNT, &o.step_mm, 1, 500},
        {"--out", OPTION_TEXT, &o.out_dir, 0, 0}, {"--quiet", OPTION_FLAG, &o.is_quiet, 0, 0}};
    const char **file = calloc((size_t)n_argument + 1, sizeof *file);
    int n_file = 0, result = EXIT_INPUT;
    if (!file) return EXIT_MACHINE;
    if (parse_options("rake", n_argument, argument, form, sizeof form / sizeof *form, file,
                      &n_file)) {
        const char *wrong = complaint(&o, n_file);
        o.file = file[0];
        if (wrong)
            say("rake: %s", wrong);
        else
            result = run(&o);
    }
    free(file);
    return result;
}
