/* Status names and the error object. */
#include "base/shared/plain.h"
#include "gradin/run.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

const char *gradin_status_name(gradin_status status) {
    switch (status) {
    case GRADIN_OK:
        return "ok";
    case GRADIN_BAD_INPUT:
        return "bad input";
    case GRADIN_BAD_USE:
        return "bad use";
    case GRADIN_NO_MEMORY:
        return "out of memory";
    case GRADIN_IO_FAILED:
        return "input or output failed";
    case GRADIN_NUMERIC:
        return "not a finite number";
    }
    return "unknown status";
}

void gradin_error_clear(gradin_error *error) {
    if (error) memset(error, 0, sizeof *error);
}

static void copy_text(char *out, size_t size, const char *text) {
    snprintf(out, size, "%s", text ? text : "");
    gradin_plain_line(out);
}

gradin_status gradin_error_add(gradin_error *error, gradin_status family, const gradin_place *place,
                               const char *format, ...) {
    if (!error) return family;
    if (error->n_diagnostic >= GRADIN_MAX_DIAGNOSTIC) {
        error->n_dropped++;
        return family;
    }
    gradin_diagnostic *d = &error->diagnostic[error->n_diagnostic++];
    memset(d, 0, sizeof *d);
    d->family = family;
    if (place) {
        copy_text(d->file, sizeof d->file, place->file);
        copy_text(d->key, sizeof d->key, place->key);
        d->line = place->line;
        d->column = place->column;
    }
    va_list arguments;
    va_start(arguments, format);
    plain_print_list(d->text, sizeof d->text, format, arguments);
    va_end(arguments);
    gradin_plain_line(d->text);
    return family;
}

void gradin_diagnostic_format(const gradin_diagnostic *diagnostic, char *out, size_t size) {
    if (!diagnostic || !out || size == 0) return;
    const gradin_diagnostic *d = diagnostic;
    char place[GRADIN_FILE_CHARS + 32] = "";
    if (d->file[0] && d->line > 0)
        snprintf(place, sizeof place, "%s:%d:%d: ", d->file, d->line, d->column);
    else if (d->file[0])
        snprintf(place, sizeof place, "%s: ", d->file);
    snprintf(out, size, "%s%s%s%s", place, d->key, d->key[0] ? ": " : "", d->text);
}
