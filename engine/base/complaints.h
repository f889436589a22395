/* base/complaints.h: what is wrong with an input, collected while it is read or built, and memory
 * whose failure is kept instead of told at every step. */
#ifndef GRADIN_BASE_COMPLAINTS_H
#define GRADIN_BASE_COMPLAINTS_H

#include "gradin/base.h"

#include <stdarg.h>

/* Complaints go to `error` and are counted in n_error, so that the work can go on to the next one.
 * The first failure that ends the work (memory, the file system, misuse) stays in `failed`. */
typedef struct complaints {
    gradin_arena *arena;
    gradin_error *error; /* may be NULL */
    const char *file;    /* named where a complaint has no place; may be NULL */
    gradin_status failed;
    int n_error;
    const char **note; /* [n_note] for the user: accepted, but worth knowing */
    int n_note, note_capacity;
} complaints;

/* Adds a diagnostic at the place; NULL: the file as a whole. */
void refuse(complaints *c, const gradin_place *at, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
void refuse_list(complaints *c, const gradin_place *at, const char *format, va_list arguments);
/* The same at a key below the place that is missing or wrong as a whole. */
void refuse_key(complaints *c, const gradin_place *at, const char *key, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
void refuse_key_list(complaints *c, const gradin_place *at, const char *key, const char *format,
                     va_list arguments);
/* At the place of an entry of that name; the name alone stands for an entry that has no place. */
void refuse_entry(complaints *c, const gradin_place *at, const char *name, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* Fails with GRADIN_BAD_USE: a caller left out what is required. */
void misuse(complaints *c, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* Adds a note for the user; NULL is a failure already kept. */
void add_note(complaints *c, const char *text);
/* The same at a key below the place ("": at the place itself), written as a diagnostic is. */
void note_key(complaints *c, const gradin_place *at, const char *key, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* Passes the block on; NULL is kept as the failure GRADIN_NO_MEMORY. */
void *note_failure(complaints *c, void *block);
/* Arena shorthands that keep the failure and return NULL. */
void *alloc(complaints *c, int count, size_t size);
char *print_text(complaints *c, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* gradin_arena_grow() with the failure kept; false when out of memory. */
bool grow(complaints *c, void **items, int count, int *capacity, size_t size);

/* GRADIN_OK, GRADIN_BAD_INPUT or the failure. */
gradin_status complaints_status(const complaints *c);

#endif
