/* Control characters, line separators, marks of direction and characters without width in UTF-8. */
#include "base/steering.h"

#include "gradin/run.h"

static bool is_between(unsigned char c, unsigned char low, unsigned char high) {
    return c >= low && c <= high;
}

size_t steering_bytes(const char *text) {
    const unsigned char *t = (const unsigned char *)text;
    if (t[0] == 0) return 0;
    if (t[0] < 0x20 || t[0] == 0x7F) return 1;
    if (t[0] == 0xC2 && is_between(t[1], 0x80, 0x9F)) return 2; /* U+0080 to U+009F */
    if (t[0] == 0xD8 && t[1] == 0x9C) return 2;                 /* U+061C */
    if (t[0] == 0xEF && t[1] == 0xBB && t[2] == 0xBF) return 3; /* U+FEFF */
    if (t[0] != 0xE2 || t[1] == 0) return 0;
    bool is_mark = t[1] == 0x80 && (is_between(t[2], 0x8B, 0x8F) || /* U+200B to U+200F */
                                    is_between(t[2], 0xA8, 0xAE));  /* U+2028 to U+202E */
    bool is_isolate = t[1] == 0x81 && is_between(t[2], 0xA6, 0xA9); /* U+2066 to U+2069 */
    bool is_joiner = t[1] == 0x81 && t[2] == 0xA0;                  /* U+2060 */
    return is_mark || is_isolate || is_joiner ? 3 : 0;
}

/* Bytes of the UTF-8 character at `t` (RFC 3629, section 4), 0 when it is none. */
static size_t character_bytes(const unsigned char *t) {
    static const struct {
        unsigned char first, last, low, high; /* of the first byte, of the second */
        size_t bytes;
    } form[] = {
        {0x01, 0x7F, 0, 0xFF, 1},    {0xC2, 0xDF, 0x80, 0xBF, 2}, {0xE0, 0xE0, 0xA0, 0xBF, 3},
        {0xE1, 0xEC, 0x80, 0xBF, 3}, {0xED, 0xED, 0x80, 0x9F, 3}, {0xEE, 0xEF, 0x80, 0xBF, 3},
        {0xF0, 0xF0, 0x90, 0xBF, 4}, {0xF1, 0xF3, 0x80, 0xBF, 4}, {0xF4, 0xF4, 0x80, 0x8F, 4}};
    for (size_t i = 0; i < sizeof form / sizeof *form; i++) {
        if (!is_between(t[0], form[i].first, form[i].last)) continue;
        if (form[i].bytes > 1 && !is_between(t[1], form[i].low, form[i].high)) return 0;
        for (size_t k = 2; k < form[i].bytes; k++)
            if (!is_between(t[k], 0x80, 0xBF)) return 0;
        return form[i].bytes;
    }
    return 0;
}

bool is_plain_text(const char *text) {
    while (*text) {
        size_t n = character_bytes((const unsigned char *)text);
        if (n == 0 || steering_bytes(text) > 0) return false;
        text += n;
    }
    return true;
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
