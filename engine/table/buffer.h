/* table/buffer.h: growing text in an arena; numbers and CSV cells in one place. */
#ifndef GRADIN_TABLE_BUFFER_H
#define GRADIN_TABLE_BUFFER_H

#include "gradin/base.h"

/* Zero-initialise with the arena. After a failed allocation everything is ignored and is_lost set.
 */
typedef struct buffer {
    gradin_arena *arena;
    char *text; /* always NUL-ended once something was added */
    size_t size, capacity;
    bool is_lost;
} buffer;

void buffer_add(buffer *b, const char *text);
void buffer_add_bytes(buffer *b, const char *bytes, size_t size);
void buffer_print(buffer *b, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* Fixed decimals with '.', nothing for a value that is not finite. */
void buffer_add_number(buffer *b, double value, int decimals);
/* A CSV cell, quoted when RFC 4180 section 2.6 asks for it. */
void buffer_add_cell(buffer *b, const char *text);
/* A number right-aligned in width columns, '-' when it is not finite. */
void buffer_add_padded(buffer *b, double value, int decimals, int width);
/* GRADIN_OK with the text handed out, or GRADIN_NO_MEMORY. */
gradin_status buffer_finish(buffer *b, char **text, size_t *size, gradin_error *error);

#endif
