/* Control characters, line separators and marks of direction in UTF-8. */
#include "base/steering.h"

#include "gradin/run.h"

#include <stdbool.h>

static bool is_between(unsigned char c, unsigned char low, unsigned char high) {
    return c >= low && c <= high;
}

size_t steering_bytes(const char *text) {
    const unsigned char *t = (const unsigned char *)text;
    if (t[0] == 0) return 0;
    if (t[0] < 0x20 || t[0] == 0x7F) return 1;
    if (t[0] == 0xC2 && is_between(t[1], 0x80, 0x9F)) return 2; /* U+0080 to U+009F */
    if (t[0] == 0xD8 && t[1] == 0x9C) return 2;                 /* U+061C */
    if (t[0] != 0xE2 || t[1] == 0) return 0;
    bool is_mark = t[1] == 0x80 && (is_between(t[2], 0x8E, 0x8F) || /* U+200E, U+200F */
                                    is_between(t[2], 0xA8, 0xAE));  /* U+2028 to U+202E */
    bool is_isolate = t[1] == 0x81 && is_between(t[2], 0xA6, 0xA9); /* U+2066 to U+2069 */
    return is_mark || is_isolate ? 3 : 0;
}

/* A file's own control characters must not steer the terminal that shows a name of it. */
void gradin_plain_line(char *text) {
    if (!text) return;
    char *to = text;
    while (*text) {
        size_t n = steering_bytes(text);
        *to++ = n > 0 ? '?' : *text;
        text += n > 0 ? n : 1;
    }
    *to = '\0';
}
