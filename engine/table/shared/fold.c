/* Text for people in lines of a page. */
#include "table/shared/text.h"

#include <stdio.h>
#include <string.h>

static bool is_continuation(char c) {
    return ((unsigned char)c & 0xC0) == 0x80;
}

static int columns_of(const char *bytes, size_t size) {
    int columns = 0;
    for (size_t i = 0; i < size; i++) columns += !is_continuation(bytes[i]);
    return columns;
}

static void put_blanks(table_text *text, int n) {
    if (n > 0) table_print(text, "%*s", n, "");
}

void table_put_wrapped(table_text *text, const char *piece, int at, int indent) {
    bool is_begun = false;
    for (size_t length; *(piece += strspn(piece, " ")); piece += length, is_begun = true) {
        length = strcspn(piece, " ");
        int columns = columns_of(piece, length);
        if (is_begun && at + 1 + columns > TABLE_PAGE_COLUMNS) {
            table_put(text, "\n");
            put_blanks(text, indent);
            at = indent;
        } else if (is_begun) {
            table_put(text, " ");
            at++;
        }
        table_put_bytes(text, piece, length);
        at += columns;
    }
}

/* The last blank after `from` before which the line fits `columns`; size when there is none. */
static size_t break_of(const char *line, size_t size, size_t from, int columns) {
    size_t found = size;
    for (size_t i = from; i < size && columns_of(line, i) <= columns; i++)
        if (line[i] == ' ') found = i;
    return found;
}

static void put_folded(table_text *out, const char *line, size_t size) {
    size_t indent = 0;
    while (indent < size && line[indent] == ' ') indent++;
    size_t from = indent;
    int columns = TABLE_PAGE_COLUMNS;
    while (columns_of(line, size) > columns) {
        size_t end = break_of(line, size, from, columns);
        if (end == size) break;
        size_t kept = end;
        while (kept > 0 && line[kept - 1] == ' ') kept--;
        table_put_bytes(out, line, kept);
        table_put(out, "\n");
        put_blanks(out, (int)indent + 2);
        while (end < size && line[end] == ' ') end++;
        line += end, size -= end, from = 0;
        columns = TABLE_PAGE_COLUMNS - (int)indent - 2;
    }
    while (size > 0 && line[size - 1] == ' ') size--;
    table_put_bytes(out, line, size);
}

void table_fold(table_text *text) {
    if (text->failed || text->size == 0) return;
    table_text out = {.arena = text->arena};
    for (const char *line = text->bytes; *line;) {
        size_t size = strcspn(line, "\n");
        put_folded(&out, line, size);
        line += size;
        if (*line) table_put(&out, "\n"), line++;
    }
    *text = out;
}
