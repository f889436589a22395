/* Control characters, line separators, marks of direction and characters that do not show in UTF-8.
 */
#include "base/steering.h"

#include "gradin/run.h"

static bool is_between(unsigned value, unsigned low, unsigned high) {
    return value >= low && value <= high;
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

/* The code point of a well-formed character. */
static unsigned code_of(const unsigned char *t, size_t bytes) {
    if (bytes == 1) return t[0];
    unsigned code = t[0] & (0x7Fu >> bytes);
    for (size_t k = 1; k < bytes; k++) code = code << 6 | (t[k] & 0x3Fu);
    return code;
}

size_t steering_bytes(const char *text) {
    static const struct {
        unsigned first, last;
    } range[] = {{0x80, 0x9F},       {0xAD, 0xAD},      {0x34F, 0x34F},   {0x61C, 0x61C},
                 {0x115F, 0x1160},   {0x17B4, 0x17B5},  {0x180B, 0x180F}, {0x200B, 0x200F},
                 {0x2028, 0x202E},   {0x2060, 0x206F},  {0x3164, 0x3164}, {0xFE00, 0xFE0F},
                 {0xFEFF, 0xFEFF},   {0xFFA0, 0xFFA0},  {0xFFF0, 0xFFF8}, {0x1BCA0, 0x1BCA3},
                 {0x1D173, 0x1D17A}, {0xE0000, 0xE0FFF}};
    const unsigned char *t = (const unsigned char *)text;
    if (t[0] < 0x80) return (t[0] > 0 && t[0] < 0x20) || t[0] == 0x7F;
    size_t bytes = character_bytes(t);
    unsigned code = bytes > 0 ? code_of(t, bytes) : 0;
    for (size_t i = 0; i < sizeof range / sizeof *range; i++)
        if (is_between(code, range[i].first, range[i].last)) return bytes;
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
