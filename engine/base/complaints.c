/* Complaints and kept failures. */
#include "base/complaints.h"
#include "base/shared/plain.h"

#include <stdio.h>

void refuse_list(complaints *c, const gradin_place *at, const char *format, va_list arguments) {
    char text[GRADIN_TEXT_CHARS];
    gradin_place place = at ? *at : (gradin_place){0};
    plain_print_list(text, sizeof text, format, arguments);
    if (!place.file) place.file = c->file;
    gradin_error_add(c->error, GRADIN_BAD_INPUT, &place, "%s", text);
    c->n_error++;
}

void refuse(complaints *c, const gradin_place *at, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    refuse_list(c, at, format, arguments);
    va_end(arguments);
}

/* The place of a key below another place. */
static gradin_place below(const gradin_place *at, const char *key, char path[GRADIN_KEY_CHARS]) {
    gradin_place place = at ? *at : (gradin_place){0};
    const char *above = place.key ? place.key : "";
    snprintf(path, GRADIN_KEY_CHARS, "%s%s%s", above, above[0] && key[0] ? "." : "", key);
    place.key = path;
    return place;
}

void refuse_key_list(complaints *c, const gradin_place *at, const char *key, const char *format,
                     va_list arguments) {
    char path[GRADIN_KEY_CHARS];
    gradin_place place = below(at, key, path);
    refuse_list(c, &place, format, arguments);
}

void refuse_key(complaints *c, const gradin_place *at, const char *key, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    refuse_key_list(c, at, key, format, arguments);
    va_end(arguments);
}

void refuse_entry(complaints *c, const gradin_place *at, const char *name, const char *format,
                  ...) {
    va_list arguments;
    va_start(arguments, format);
    refuse_list(c, at ? at : &(gradin_place){.key = name}, format, arguments);
    va_end(arguments);
}

void misuse(complaints *c, const char *format, ...) {
    char text[GRADIN_TEXT_CHARS];
    va_list arguments;
    va_start(arguments, format);
    plain_print_list(text, sizeof text, format, arguments);
    va_end(arguments);
    gradin_error_add(c->error, GRADIN_BAD_USE, NULL, "%s", text);
    if (c->failed == GRADIN_OK) c->failed = GRADIN_BAD_USE;
}

void *note_failure(complaints *c, void *block) {
    if (!block && c->failed == GRADIN_OK) {
        c->failed = GRADIN_NO_MEMORY;
        gradin_error_add(c->error, GRADIN_NO_MEMORY, &(gradin_place){.file = c->file},
                         "out of memory");
    }
    return block;
}

void *alloc(complaints *c, int count, size_t size) {
    return note_failure(c, gradin_arena_alloc(c->arena, (size_t)count, size));
}

char *print_text(complaints *c, const char *format, ...) {
    char text[1024];
    va_list arguments;
    va_start(arguments, format);
    plain_print_list(text, sizeof text, format, arguments);
    va_end(arguments);
    return note_failure(c, gradin_arena_copy_text(c->arena, text));
}

bool grow(complaints *c, void **items, int count, int *capacity, size_t size) {
    if (gradin_arena_grow(c->arena, items, count, capacity, size) == GRADIN_OK) return true;
    return note_failure(c, NULL) != NULL;
}

void add_note(complaints *c, const char *text) {
    if (!text || !grow(c, (void **)&c->note, c->n_note, &c->note_capacity, sizeof *c->note)) return;
    c->note[c->n_note++] = text;
}

void note_key(complaints *c, const gradin_place *at, const char *key, const char *format, ...) {
    char path[GRADIN_KEY_CHARS], text[GRADIN_TEXT_CHARS], line[1024];
    gradin_place place = below(at, key, path);
    gradin_error one = {0};
    va_list arguments;
    va_start(arguments, format);
    plain_print_list(text, sizeof text, format, arguments);
    va_end(arguments);
    if (!place.file) place.file = c->file;
    gradin_error_add(&one, GRADIN_OK, &place, "%s", text);
    gradin_diagnostic_format(&one.diagnostic[0], line, sizeof line);
    add_note(c, print_text(c, "%s", line));
}

gradin_status complaints_status(const complaints *c) {
    if (c->failed != GRADIN_OK) return c->failed;
    return c->n_error > 0 ? GRADIN_BAD_INPUT : GRADIN_OK;
}
