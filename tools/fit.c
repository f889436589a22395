/* gradin fit LAYOUT: open edges, rows, exits, against the venue's own stated rules. */
#include "gradin/fit.h"
#include "command.h"

#include <stdlib.h>

static gradin_status check(const char *file, bool is_json, gradin_arena *arena, gradin_fit *fit,
                           char **text, gradin_error *error) {
    gradin_model *model = gradin_arena_alloc(arena, 1, sizeof *model);
    size_t size;
    if (!model) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    gradin_status status = gradin_model_read(arena, file, model, error);
    if (status == GRADIN_OK) status = gradin_fit_check(arena, model, fit, error);
    if (status != GRADIN_OK) return status;
    return is_json ? gradin_fit_json(arena, fit, text, &size, error)
                   : gradin_fit_text(arena, fit, text, error);
}

static int fit_one(const char *file, bool is_json, gradin_arena *arena, gradin_error *error) {
    gradin_fit fit;
    char *text;
    gradin_status status = check(file, is_json, arena, &fit, &text, error);
    if (status != GRADIN_OK) return report(status, error);
    int result = print_out(text);
    return result == EXIT_DONE && !fit.is_met ? EXIT_LIMIT : result;
}

static int run(const char *file, bool is_json) {
    gradin_arena *arena = gradin_arena_create();
    gradin_error *error = calloc(1, sizeof *error);
    int result = EXIT_MACHINE;
    if (arena && error)
        result = fit_one(file, is_json, arena, error);
    else
        say("out of memory");
    gradin_arena_destroy(arena);
    free(error);
    return result;
}

int verb_fit(int n_argument, char **argument) {
    bool is_json = false;
    const option_form form[] = {{"--json", OPTION_FLAG, &is_json, 0, 0}};
    const char **file = calloc((size_t)n_argument + 1, sizeof *file);
    int n_file = 0, result = EXIT_INPUT;
    if (!file) return EXIT_MACHINE;
    bool is_usable = parse_options("fit", n_argument, argument, form, 1, file, &n_file);
    if (is_usable && n_file != 1)
        say("fit: one layout is needed, not %d", n_file);
    else if (is_usable)
        result = run(file[0], is_json);
    free(file);
    return result;
}
