/* Model files are looked through before they are imported, for the library reads "1,5" as 1 and
 * "0x10" as 0, and takes minutes over one face of a hundred thousand corners. Coordinates are plain
 * decimal numbers, faces name corners that are whole numbers, and a binary STL holds as many
 * triangles as its head says. Sources: the Wavefront OBJ keywords v, f, o and g; the STL formats
 * (80 bytes of head, a count, 50 bytes per triangle); from memory. */
#include "files/mesh/mesh.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

enum { STL_HEAD = 80, STL_COUNT = 4, STL_TRIANGLE = 50 };
enum { MAX_FACE_CORNER = 4096, MAX_PART = 4096, MAX_WORD = 64 };
static const double MAX_COORDINATE = 1e7; /* a hall of 10 km in millimetres */

typedef struct scan {
    reader *r;
    const char *path, *at, *end;
    int line, n_part;
} scan;

static bool refuse_line(const scan *s, const char *text) {
    complain_line(s->r, s->path, s->line, text);
    return false;
}

/* The next word of the line; its length, 0 at the end. */
static size_t next_word(const char **at, const char *end, const char **word) {
    while (*at < end && (**at == ' ' || **at == '\t' || **at == '\r')) ++*at;
    *word = *at;
    while (*at < end && **at != ' ' && **at != '\t' && **at != '\r') ++*at;
    return (size_t)(*at - *word);
}

static bool is_coordinate(const char *word, size_t length) {
    char text[MAX_WORD];
    double value;
    if (length == 0 || length >= sizeof text) return false;
    memcpy(text, word, length);
    text[length] = '\0';
    return gradin_parse_number(text, &value) && fabs(value) <= MAX_COORDINATE;
}

static bool check_corner(const scan *s, const char *at, const char *end) {
    for (int i = 0; i < 3; i++) {
        const char *word;
        size_t length = next_word(&at, end, &word);
        if (!is_coordinate(word, length))
            return refuse_line(s, "three coordinates are needed, plain decimal numbers up to 1e7");
    }
    return true;
}

/* "7", "7/1", "7//3" or "-1/2/3". */
static bool is_reference(const char *word, size_t length) {
    for (size_t i = 0; i < length; i++)
        if (!strchr("0123456789/-", word[i])) return false;
    return word[0] != '/';
}

static bool check_face(const scan *s, const char *at, const char *end) {
    int n = 0;
    const char *word;
    for (size_t length = next_word(&at, end, &word); length > 0;
         length = next_word(&at, end, &word)) {
        if (!is_reference(word, length))
            return refuse_line(s, "a face names its corners by whole numbers");
        if (++n > MAX_FACE_CORNER) return refuse_line(s, "a face has at most 4096 corners");
    }
    return true;
}

static bool is_word(const char *word, size_t length, const char *expected) {
    return length == strlen(expected) && memcmp(word, expected, length) == 0;
}

static bool check_obj_line(scan *s, const char *at, const char *end) {
    const char *word;
    size_t length = next_word(&at, end, &word);
    if (is_word(word, length, "v")) return check_corner(s, at, end);
    if (is_word(word, length, "f")) return check_face(s, at, end);
    if ((is_word(word, length, "o") || is_word(word, length, "g")) && ++s->n_part > MAX_PART)
        return refuse_line(s, "a model has at most 4096 parts");
    return true;
}

static bool check_stl_line(scan *s, const char *at, const char *end) {
    const char *word;
    size_t length = next_word(&at, end, &word);
    return is_word(word, length, "vertex") ? check_corner(s, at, end) : true;
}

static bool check_lines(scan *s, bool (*check)(scan *, const char *, const char *)) {
    while (s->at < s->end) {
        const char *stop = memchr(s->at, '\n', (size_t)(s->end - s->at));
        const char *end = stop ? stop : s->end;
        s->line++;
        if (!check(s, s->at, end)) return false;
        s->at = stop ? stop + 1 : s->end;
    }
    return true;
}

static uint32_t count_of(const char *bytes) {
    const unsigned char *b = (const unsigned char *)bytes + STL_HEAD;
    return (uint32_t)b[0] | (uint32_t)b[1] << 8 | (uint32_t)b[2] << 16 | (uint32_t)b[3] << 24;
}

/* A binary STL is as long as its count of triangles makes it; another one is text. */
static bool is_binary_stl(const char *bytes, size_t size) {
    return size >= STL_HEAD + STL_COUNT &&
           size == STL_HEAD + STL_COUNT + (size_t)count_of(bytes) * STL_TRIANGLE;
}

bool mesh_check_bytes(reader *r, const char *path, const char *bytes, size_t size, bool is_stl) {
    scan s = {.r = r, .path = path, .at = bytes, .end = bytes + size};
    if (is_stl && is_binary_stl(bytes, size)) {
        if (count_of(bytes) <= (uint32_t)(GRADIN_MAX_TRIANGLE - r->n_triangle)) return true;
        complain_line(r, path, 1, "has more triangles than a layout may have");
        return false;
    }
    return check_lines(&s, is_stl ? check_stl_line : check_obj_line);
}
