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

void html_put(table_text *out, const char *text) {
    for (; text && *text; text++) {
        size_t plain = strcspn(text, "&<>\"'");
        table_put_bytes(out, text, plain);
        text += plain;
        if (*text == '\0') return;
        table_put(out, reference(*text));
    }
}
