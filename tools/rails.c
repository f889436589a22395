/* gradin rails LAYOUT --out DIR: how high rails could be, and what overhangs cut off. */
#include "command.h"

#include <stdio.h>
#include <stdlib.h>

typedef struct rails_output {
    char *rails, *overhangs, *text;
    size_t rails_size, overhangs_size;
} rails_output;

static gradin_status compute(const char *file, gradin_arena *arena, rails_output *out,
                             gradin_error *error) {
    gradin_model model;
    gradin_rail_limits limits;
    gradin_overhangs over;
    gradin_status s = gradin_model_read(arena, file, &model, error);
    if (s == GRADIN_OK) s = gradin_rail_limits_compute(arena, &model, &limits, error);
    if (s == GRADIN_OK) s = gradin_overhangs_compute(arena, &model, &over, error);
    if (s == GRADIN_OK)
        s = gradin_rails_csv(arena, &model, &limits, &out->rails, &out->rails_size, error);
    if (s == GRADIN_OK)
        s = gradin_overhangs_csv(arena, &model, &over, &out->overhangs, &out->overhangs_size,
                                 error);
    if (s == GRADIN_OK) s = gradin_rails_text(arena, &model, &limits, &over, &out->text, error);
    return s;
}

static int write_all(const char *dir, gradin_arena *arena, const rails_output *out,
                     gradin_error *error) {
    int result = make_folder(dir);
    if (result != EXIT_DONE) return result;
    const char *rails = gradin_arena_print(arena, "%s/rails.csv", dir);
    const char *overhangs = gradin_arena_print(arena, "%s/overhangs.csv", dir);
    gradin_status s = rails && overhangs ? GRADIN_OK : GRADIN_NO_MEMORY;
    if (s == GRADIN_OK) s = gradin_write_file(rails, out->rails, out->rails_size, error);
    if (s == GRADIN_OK)
        s = gradin_write_file(overhangs, out->overhangs, out->overhangs_size, error);
    return report(s, error);
}

static int rails(const char *file, const char *dir, bool is_quiet, gradin_arena *arena,
                 gradin_error *error) {
    rails_output out = {0};
    gradin_status status = compute(file, arena, &out, error);
    if (status != GRADIN_OK) return report(status, error);
    int result = write_all(dir, arena, &out, error);
    if (result != EXIT_DONE || is_quiet) return result;
    const char *line =
        gradin_arena_print(arena, "%s\nwritten to %s: rails.csv, overhangs.csv\n", out.text, dir);
    return line ? print_out(line) : EXIT_MACHINE;
}

static int run(const char *file, const char *dir, bool is_quiet) {
    gradin_arena *arena = gradin_arena_create();
    gradin_error *error = calloc(1, sizeof *error);
    int result = EXIT_MACHINE;
    if (arena && error)
        result = rails(file, dir, is_quiet, arena, error);
    else
        say("out of memory");
    gradin_arena_destroy(arena);
    free(error);
    return result;
}

int verb_rails(int n_argument, char **argument) {
    const char *dir = NULL;
    bool is_quiet = false;
    const option_form form[] = {{"--out", OPTION_TEXT, &dir, 0, 0},
                                {"--quiet", OPTION_FLAG, &is_quiet, 0, 0}};
    const char **file = calloc((size_t)n_argument + 1, sizeof *file);
    int n_file = 0, result = EXIT_INPUT;
    if (!file) return EXIT_MACHINE;
    if (!parse_options("rails", n_argument, argument, form, sizeof form / sizeof *form, file,
                       &n_file))
        result = EXIT_INPUT;
    else if (n_file != 1)
        say("rails: one layout is needed, not %d", n_file);
    else if (!dir)
        say("rails: --out DIR is needed");
    else
        result = run(file[0], dir, is_quiet);
    free(file);
    return result;
}
