/* Text in a column that nothing may stick out of. */
#include "render/charts/cues.h"

#include <stdio.h>
#include <string.h>

static bool goes_on(char c) {
    return ((unsigned char)c & 0xC0) == 0x80;
}

/* Bytes of the longest start that fits, at least one character. */
static size_t break_word(canvas *page, text_style style, double width, const char *text,
                         size_t most) {
    char part[TEXT_CHARS];
    size_t best = 0;
    for (size_t at = 1; at <= most && at < TEXT_CHARS; at++) {
        if (goes_on(text[at])) continue;
        snprintf(part, sizeof part, "%.*s", (int)at, text);
        if (best > 0 && canvas_text_width(page, style, part) > width) break;
        best = at;
    }
    return best > 0 ? best : most;
}

static size_t break_line(canvas *page, text_style style, double width, const char *text) {
    char part[TEXT_CHARS];
    size_t length = canvas_text_break(page, style, width, text);
    if (length == 0) length = strlen(text) < TEXT_CHARS - 1 ? strlen(text) : TEXT_CHARS - 1;
    snprintf(part, sizeof part, "%.*s", (int)length, text);
    return canvas_text_width(page, style, part) > width
               ? break_word(page, style, width, text, length)
               : length;
}

double cues_column(canvas *page, text_style style, double x, double y, double width,
                   const char *text, bool is_drawn) {
    char line[TEXT_CHARS];
    while (*text != '\0') {
        size_t length = break_line(page, style, width, text);
        snprintf(line, sizeof line, "%.*s", (int)length, text);
        if (is_drawn) canvas_text(page, style, x, y, line);
        text += length;
        while (*text == ' ') text++;
        y += 1.3 * style.size;
    }
    return y;
}
