#include "fuzz/mutate.h"

#include <ctype.h>
#include <string.h>

/* Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8 (2003), 14. */
static size_t draw(uint64_t *state, size_t n) {
    uint64_t x = *state;
    x ^= x << 13;
    x ^= x >> 7;
    x ^= x << 17;
    *state = x;
    return n > 0 ? (size_t)((x >> 16) % n) : 0;
}

/* Puts piece[n] in place of text[at..at+old). */
static void splice(char *text, size_t *size, size_t capacity, size_t at, size_t old,
                   const char *piece, size_t n) {
    char kept[256];
    if (n > sizeof kept || *size - old + n > capacity) return;
    memcpy(kept, piece, n); /* the piece may lie inside the text */
    memmove(text + at + n, text + at + old, *size - at - old);
    memcpy(text + at, kept, n);
    *size = *size - old + n;
}

static size_t line_start(const char *text, size_t at) {
    while (at > 0 && text[at - 1] != '\n') at--;
    return at;
}

static size_t line_end(const char *text, size_t size, size_t at) {
    while (at < size && text[at] != '\n') at++;
    return at < size ? at + 1 : size;
}

static void change_number(char *text, size_t *size, size_t capacity, size_t at, uint64_t *state) {
    static const char *const value[] = {"0",     "-1",   "1e308", "-1e308", "1e999", "nan", "inf",
                                        "1e-30", "1e6",  "",      "0x10",   "1,5",   "180", "-0.0",
                                        "360",   "1000", "abc",   "[1, 2]", "{}",    "~",   "0.001",
                                        "99999", "3",    "2.5",   "720"};
    size_t start = at, end;
    while (start < *size && !isdigit((unsigned char)text[start])) start++;
    for (end = start; end < *size && strchr("0123456789.-", text[end]); end++) continue;
    const char *piece = value[draw(state, sizeof value / sizeof value[0])];
    splice(text, size, capacity, start, end - start, piece, strlen(piece));
}

/* Another digit: mostly a value that is as good. */
static void change_digit(char *text, size_t size, size_t at, uint64_t *state) {
    while (at < size && !isdigit((unsigned char)text[at])) at++;
    if (at < size) text[at] = (char)('0' + draw(state, 10));
}

static void put_token(char *text, size_t *size, size_t capacity, size_t at, uint64_t *state) {
    static const char *const token[] = {"\n",  "\t",  ": ",       "- ",  "[",    "]",   "{",
                                        "}",   ", ",  "#",        "&a ", "*a",   "|",   ">",
                                        "!!x", "---", "...",      "\"",  "'",    "%",   "\r\n",
                                        "yes", "\0",  "\xFF\xFE", "? ",  "<<: ", "\xC3"};
    const char *piece = token[draw(state, sizeof token / sizeof token[0])];
    size_t n = piece[0] ? strlen(piece) : 1;
    splice(text, size, capacity, at, draw(state, 3) % (*size - at + 1), piece, n);
}

static void change_line(char *text, size_t *size, size_t capacity, size_t at, uint64_t *state) {
    size_t start = line_start(text, at), end = line_end(text, *size, at);
    size_t other = line_start(text, draw(state, *size));
    switch (draw(state, 3)) {
    case 0:
        splice(text, size, capacity, start, end - start, "", 0);
        break;
    case 1:
        splice(text, size, capacity, other, 0, text + start, end - start);
        break;
    default: /* indented by one more, or by one less */
        splice(text, size, capacity, start, text[start] == ' ', "  ", draw(state, 3));
    }
}

void mutate(char *text, size_t *size, size_t capacity, uint64_t *state) {
    if (*size == 0) return;
    size_t at = draw(state, *size);
    switch (draw(state, 10)) {
    case 0:
        text[at] = (char)(text[at] ^ (1 << draw(state, 8)));
        break;
    case 1:
        *size = at;
        break;
    case 2:
    case 3:
        put_token(text, size, capacity, at, state);
        break;
    case 4:
    case 5:
        change_line(text, size, capacity, at, state);
        break;
    case 6:
    case 7:
        change_number(text, size, capacity, at, state);
        break;
    default:
        change_digit(text, *size, at, state);
    }
}
