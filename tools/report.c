/* The only place that prints. */
#include "command.h"
#include "gradin/run.h"
#include "progress.h"

#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* Words of the command line may hold what would steer the terminal. */
void say(const char *format, ...) {
    char line[8192];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(line, sizeof line, format, arguments);
    va_end(arguments);
    gradin_plain_line(line);
    progress_hide();
    fprintf(stderr, "gradin: %s\n", line);
}

int report(gradin_status status, const gradin_error *error) {
    char line[1024];
    progress_hide();
    for (int i = 0; i < error->n_diagnostic; i++) {
        const gradin_diagnostic *d = &error->diagnostic[i];
        gradin_diagnostic_format(d, line, sizeof line);
        fprintf(stderr, "%s%s\n", d->family == GRADIN_OK ? "gradin: note: " : "", line);
    }
    if (error->n_dropped > 0) fprintf(stderr, "and %d more\n", error->n_dropped);
    if (status != GRADIN_OK && error->n_diagnostic == 0) say("%s", gradin_status_name(status));
    if (status == GRADIN_OK) return EXIT_DONE;
    return status == GRADIN_BAD_INPUT || status == GRADIN_BAD_USE ? EXIT_INPUT : EXIT_MACHINE;
}

void say_notes(const gradin_model *model, const char *cache_note) {
    for (int i = 0; i < model->n_note; i++) say("note: %s", model->note[i]);
    if (cache_note && cache_note[0] != '\0') say("note: %s", cache_note);
}

void say_notes_of(const gradin_assessment *a) {
    say_notes(a->model, a->has_noise ? a->noise.cache_note : NULL);
}

int end_print(void) {
    if (fflush(stdout) == 0 && !ferror(stdout)) return EXIT_DONE;
    if (errno == EPIPE) return EXIT_DONE;
    say("standard output: %s", strerror(errno));
    return EXIT_MACHINE;
}

int print_out(const char *text) {
    progress_hide();
    fputs(text, stdout);
    return end_print();
}

int print_left_out(const char *text) {
    if (*text == '\0') return EXIT_DONE;
    int result = print_out("no map is drawn of what is the same at all seats:\n");
    while (result == EXIT_DONE && *text != '\0') {
        char line[300];
        int length = (int)strcspn(text, "\n");
        snprintf(line, sizeof line, "  %.*s\n", length, text);
        result = print_out(line);
        text += length + (text[length] == '\n');
    }
    return result;
}
