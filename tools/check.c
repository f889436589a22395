/* gradin check FILE...: every error of every file at once. */
#include "command.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int check_one(const char *path) {
    gradin_error *error = calloc(1, sizeof *error);
    const char *kind = "file";
    char line[1024];
    if (!error) {
        say("out of memory");
        return EXIT_MACHINE;
    }
    gradin_status status = gradin_file_check(path, &kind, error);
    int result = report(status, error);
    free(error);
    if (status != GRADIN_OK) return result;
    snprintf(line, sizeof line, "%s: %s, ok\n", path, kind);
    return print_out(line);
}

int verb_check(int n_argument, char **argument) {
    const char **file = calloc((size_t)n_argument + 1, sizeof *file);
    int n_file = 0, result = EXIT_DONE;
    if (!file) return EXIT_MACHINE;
    if (!parse_options("check", n_argument, argument, NULL, 0, file, &n_file))
        n_file = 0, result = EXIT_INPUT;
    else if (n_file == 0) {
        say("check: a file is needed");
        result = EXIT_INPUT;
    }
    for (int i = 0; i < n_file && result != EXIT_MACHINE; i++) {
        int one = check_one(file[i]);
        if (one > result) result = one;
    }
    free(file);
    return result;
}
