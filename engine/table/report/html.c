/* The one escaper of the HTML report. Source: HTML Living Standard, 13.1.2.3 and 13.1.4 (character
 * references; text and attribute values), from memory. */
#include "table/report/html.h"

#include <string.h>

static const char *reference(char c) {
    switch (c) {
    case '&':
        return "&amp;";
    case '<':
        return "&lt;";
    case '>':
        return "&gt;";
    case '"':
        return "&quot;";
    case '\'':
        return "&#39;";
    default:
        return NULL;
    }
}

void html_put_bytes(table_text *out, const char *text, size_t size) {
    const char *end = text + size;
    while (text < end) {
        size_t plain = 0;
        while (text + plain < end && !reference(text[plain])) plain++;
        table_put_bytes(out, text, plain);
        text += plain;
        if (text < end) table_put(out, reference(*text++));
    }
}

void html_put(table_text *out, const char *text) {
    if (text) html_put_bytes(out, text, strlen(text));
}
