/* Text that grows in an arena by doubling. */
#include "table/shared/text.h"
#include "base/shared/plain.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum { FIRST_CAPACITY = 4096, NUMBER_CHARS = 400 };

static bool reserve(table_text *text, size_t more) {
    size_t wanted = text->size + more + 1;
    if (text->failed || wanted <= text->capacity) return !text->failed;
    size_t capacity = text->capacity > 0 ? text->capacity : FIRST_CAPACITY;
    while (capacity < wanted) capacity *= 2;
    char *bytes = gradin_arena_alloc(text->arena, capacity, 1);
    text->failed = !bytes;
    if (text->failed) return false;
    if (text->size > 0) memcpy(bytes, text->bytes, text->size);
    text->bytes = bytes;
    text->capacity = capacity;
    return true;
}

void table_put_bytes(table_text *text, const char *bytes, size_t size) {
    if (!reserve(text, size)) return;
    memcpy(text->bytes + text->size, bytes, size);
    text->size += size;
    text->bytes[text->size] = '\0';
}

void table_put(table_text *text, const char *piece) {
    table_put_bytes(text, piece, strlen(piece));
}

void table_print(table_text *text, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    int length = plain_print_list(NULL, 0, format, arguments);
    va_end(arguments);
    if (length < 0 || !reserve(text, (size_t)length)) {
        text->failed = true;
        return;
    }
    va_start(arguments, format);
    plain_print_list(text->bytes + text->size, (size_t)length + 1, format, arguments);
    va_end(arguments);
    text->size += (size_t)length;
}

void table_put_number(table_text *text, table_quantity quantity, double value) {
    char number[NUMBER_CHARS];
    int decimals = table_decimals(quantity);
    if (text->is_in_feet && table_is_length(quantity)) {
        value = table_in_feet(quantity, value);
        decimals = table_decimals_in_feet(quantity);
    }
    table_put(text, gradin_format_fixed(number, sizeof number, value, decimals));
}

void table_put_quoted(table_text *text, const char *piece) {
    const char *guard = *piece && strchr("=+-@", *piece) ? "'" : "";
    if (!piece[strcspn(piece, ",\"\r\n")]) {
        table_put(text, guard);
        table_put(text, piece);
        return;
    }
    table_put(text, "\"");
    table_put(text, guard);
    for (; *piece; piece++)
        table_put_bytes(text, *piece == '"' ? "\"\"" : piece, *piece == '"' ? 2 : 1);
    table_put(text, "\"");
}

static bool is_continuation(char c) {
    return ((unsigned char)c & 0xC0) == 0x80;
}

int table_columns(const char *piece) {
    int columns = 0;
    for (; *piece; piece++) columns += !is_continuation(*piece);
    return columns;
}

/* Bytes of the first `columns` characters. */
static size_t bytes_of(const char *piece, int columns) {
    size_t i = 0;
    while (piece[i] && columns > 0) {
        i++;
        while (is_continuation(piece[i])) i++;
        columns--;
    }
    return i;
}

static void put_blanks(table_text *text, int n) {
    for (int i = 0; i < n; i++) table_put(text, " ");
}

void table_put_fitted(table_text *text, const char *piece, int columns, bool pad) {
    int length = table_columns(piece);
    if (length > columns) {
        table_put_bytes(text, piece, bytes_of(piece, columns - 2));
        table_put(text, "..");
    } else {
        table_put(text, piece);
        if (pad) put_blanks(text, columns - length);
    }
}

void table_put_right(table_text *text, table_quantity quantity, double value, int columns) {
    char number[NUMBER_CHARS];
    gradin_format_fixed(number, sizeof number, value, table_decimals(quantity));
    if (number[0] == '\0') strcpy(number, "-");
    put_blanks(text, columns - (int)strlen(number));
    table_put(text, number);
}

void table_put_length_number(table_text *text, double length_m, length_unit unit) {
    char number[LENGTH_CHARS];
    table_put(text, length_number(number, length_m, unit));
}

void table_put_length(table_text *text, double length_m, length_unit unit) {
    char number[LENGTH_CHARS];
    table_put(text, length_text(number, length_m, unit));
}

void table_put_length_right(table_text *text, double length_m, length_unit unit, int columns) {
    char number[LENGTH_CHARS];
    length_number(number, length_m, unit);
    table_print(text, "%*s", columns, number[0] ? number : "-");
}

void table_put_clock(table_text *text, int seconds, int columns) {
    char clock[32];
    int minutes = (seconds + 59) / 60;
    snprintf(clock, sizeof clock, "%d:%02d", minutes / 60, minutes % 60);
    table_print(text, "%*s", columns, clock);
}
