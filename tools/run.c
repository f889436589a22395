/* One verb from its arguments to its exit status. */
#include "gradin/run.h"
#include "command.h"
#include "progress.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static int out_of_memory(void) {
    say("out of memory");
    return EXIT_MACHINE;
}

/* Is there a --quiet, and is it given? */
static bool is_quiet(const verb_form *verb, const void *options) {
    for (int i = 0; i < verb->n_option; i++)
        if (strcmp(verb->option[i].name, "--quiet") == 0)
            return *(const bool *)((const char *)options + verb->option[i].offset);
    return false;
}

static int run_parsed(const verb_form *verb, const void *options, const operands *given) {
    gradin_arena *arena = gradin_arena_create();
    gradin_error *error = calloc(1, sizeof *error);
    gradin_arena_read_dash(arena, STDIN_FILENO);
    if (!is_quiet(verb, options)) progress_begin(verb->name);
    int result = arena && error ? verb->run(options, given, arena, error) : out_of_memory();
    progress_end();
    result = end_run(arena, result);
    gradin_arena_destroy(arena);
    free(error);
    return result;
}

int run_verb(const verb_form *verb, int n_argument, char **argument) {
    if (asks_help(n_argument, argument)) {
        write_verb_help(stdout, &gradin_command, verb);
        return end_print();
    }
    void *options = calloc(1, verb->options_size + 1);
    const char **operand = calloc((size_t)n_argument + 1, sizeof *operand);
    operands given;
    complaint wrong;
    int result = EXIT_INPUT;
    begin_run(verb, n_argument, argument);
    if (!options || !operand)
        result = out_of_memory();
    else if (parse_arguments(verb, n_argument, argument, options, operand, &given, &wrong))
        result = run_parsed(verb, options, &given);
    else
        say("%s: %s", verb->name, wrong.text);
    free(operand);
    free(options);
    return result;
}
