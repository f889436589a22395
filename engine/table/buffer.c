/* Growing text in an arena. */
#include "table/buffer.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static bool reserve(buffer *b, size_t more) {
    if (b->is_lost) return false;
    if (b->size + more + 1 <= b->capacity) return true;
    size_t wanted = (b->size + more + 1) * 2;
    char *text = gradin_arena_alloc(b->arena, wanted < 4096 ? 4096 : wanted, 1);
    if (!text) {
        b->is_lost = true;
        return false;
    }
    if (b->size > 0) memcpy(text, b->text, b->size);
    b->text = text;
    b->capacity = wanted < 4096 ? 4096 : wanted;
    return true;
}

void buffer_add_bytes(buffer *b, const char *bytes, size_t size) {
    if (!reserve(b, size)) return;
    memcpy(b->text + b->size, bytes, size);
    b->size += size;
    b->text[b->size] = '\0';
}

void buffer_add(buffer *b, const char *text) {
    buffer_add_bytes(b, text, strlen(text));
}

void buffer_print(buffer *b, const char *format, ...) {
    char text[1024];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    buffer_add(b, text);
}

void buffer_add_number(buffer *b, double value, int decimals) {
    char text[64];
    buffer_add(b, gradin_format_fixed(text, sizeof text, value, decimals));
}

void buffer_add_cell(buffer *b, const char *text) {
    if (!strpbrk(text, ",\"\r\n")) {
        buffer_add(b, text);
        return;
    }
    buffer_add(b, "\"");
    for (const char *c = text; *c; c++) {
        if (*c == '"') buffer_add(b, "\"");
        buffer_add_bytes(b, c, 1);
    }
    buffer_add(b, "\"");
}

void buffer_add_padded(buffer *b, double value, int decimals, int width) {
    char text[64];
    gradin_format_fixed(text, sizeof text, value, decimals);
    buffer_print(b, "%*s", width, text[0] ? text : "-");
}

gradin_status buffer_finish(buffer *b, char **text, size_t *size, gradin_error *error) {
    buffer_add(b, "");
    if (b->is_lost) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    *text = b->text;
    if (size) *size = b->size;
    return GRADIN_OK;
}
