/* Text broken into lines. */
#include "definition/form.h"

#include <string.h>

int text_columns(const char *text) {
    int n = 0;
    for (; *text; text++) n += ((unsigned char)*text & 0xC0u) != 0x80u;
    return n;
}

static int word_columns(const char *word, size_t length) {
    int n = 0;
    for (size_t i = 0; i < length; i++) n += ((unsigned char)word[i] & 0xC0u) != 0x80u;
    return n;
}

static void begin_line(FILE *out, int indent) {
    fprintf(out, "\n%*s", indent, "");
}

void write_wrapped(FILE *out, const char *text, int at, int indent, int columns) {
    bool is_begun = false; /* a word stands on the line */
    while (*text) {
        size_t gap = strspn(text, " \n"), length = strcspn(text + gap, " \n");
        bool is_paragraph = gap >= 2 && strstr(text, "\n\n") && strstr(text, "\n\n") < text + gap;
        int width = word_columns(text + gap, length);
        if (length == 0) break;
        if (is_paragraph) fputc('\n', out);
        if (is_paragraph || (is_begun && at + 1 + width > columns)) {
            begin_line(out, indent);
            at = indent;
        } else if (is_begun) {
            fputc(' ', out);
            at++;
        }
        fwrite(text + gap, 1, length, out);
        at += width;
        is_begun = true;
        text += gap + length;
    }
    fputc('\n', out);
}
