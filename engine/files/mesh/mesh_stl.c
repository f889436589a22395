/* STL, binary and text. A binary file is as long as its count of triangles makes it; another one is
 * text: "vertex" and three numbers, three times between "outer loop" and "endloop". Normals are not
 * looked at, nor what stands in the spare bytes. Source: the STL formats (80 bytes of head, a
 * count, 50 bytes per triangle, numbers of four bytes, the least first); from memory. */
#include "files/mesh/scan.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

enum { HEAD = 80, COUNT = 4, TRIANGLE = 50, NORMAL = 12 };

static uint32_t whole_at(const char *bytes) {
    const unsigned char *b = (const unsigned char *)bytes;
    return (uint32_t)b[0] | (uint32_t)b[1] << 8 | (uint32_t)b[2] << 16 | (uint32_t)b[3] << 24;
}

static double number_at(const char *bytes) {
    uint32_t whole = whole_at(bytes);
    float number;
    memcpy(&number, &whole, sizeof number);
    return (double)number;
}

static bool is_binary(const char *bytes, size_t size) {
    return size >= HEAD + COUNT && size == HEAD + COUNT + (size_t)whole_at(bytes + HEAD) * TRIANGLE;
}

static bool make_room(reader *r, int64_t n, mesh *out) {
    out->corner = alloc(&r->c, (int)n, sizeof *out->corner);
    return out->corner != NULL;
}

static bool take_binary(reader *r, const node *at, const char *path, const char *bytes, mesh *out) {
    int64_t n = whole_at(bytes + HEAD);
    if (!mesh_check_count(r, at, path, n) || !make_room(r, n, out)) return false;
    for (const char *b = bytes + HEAD + COUNT + NORMAL; out->n_triangle < n; b += TRIANGLE) {
        gradin_vec3 *corner = out->corner[out->n_triangle++];
        for (int i = 0; i < 3; i++) {
            const char *c = b + i * 12;
            corner[i] = (gradin_vec3){number_at(c), number_at(c + 4), number_at(c + 8)};
            if (isfinite(corner[i].x) && isfinite(corner[i].y) && isfinite(corner[i].z)) continue;
            complain(r, at, "%s has a coordinate that is no finite number", path);
            return false;
        }
    }
    return true;
}

typedef enum word_kind { EMPTY, FRAME, LOOP, VERTEX, END_LOOP, UNKNOWN } word_kind;

static word_kind kind_of(const char *word, size_t length) {
    static const struct {
        const char *word;
        word_kind kind;
    } known[] = {{"vertex", VERTEX},  {"outer", LOOP},  {"endloop", END_LOOP}, {"facet", FRAME},
                 {"endfacet", FRAME}, {"solid", FRAME}, {"endsolid", FRAME}};
    if (length == 0) return EMPTY;
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++)
        if (scan_is(word, length, known[i].word)) return known[i].kind;
    return UNKNOWN;
}

/* How many lines begin with "vertex"; -1 when one begins with what no STL has. */
static int64_t count_corners(scan s) {
    int64_t n = 0;
    const char *at, *end, *word;
    while (scan_line(&s, &at, &end)) {
        size_t length = scan_word(&at, end, &word);
        word_kind kind = kind_of(word, length);
        if (kind == UNKNOWN) return -1;
        n += kind == VERTEX;
    }
    return n;
}

/* One line of text; n_corner counts those of the loop, -1 outside of one. */
static bool take_line(const scan *s, const char *at, const char *end, int *n_corner, mesh *out) {
    const char *word;
    size_t length = scan_word(&at, end, &word);
    word_kind kind = kind_of(word, length);
    gradin_vec3 corner;
    if (kind == EMPTY) return true;
    if (kind == VERTEX) {
        if (*n_corner < 0 || *n_corner > 2)
            return scan_refuse(s, "three corners stand between 'outer loop' and 'endloop'");
        if (!scan_corner(s, at, end, &corner)) return false;
        out->corner[out->n_triangle][(*n_corner)++] = corner;
        return true;
    }
    if (*n_corner != (kind == END_LOOP ? 3 : -1))
        return scan_refuse(s, "three corners stand between 'outer loop' and 'endloop'");
    out->n_triangle += kind == END_LOOP;
    *n_corner = kind == LOOP ? 0 : -1;
    return true;
}

static bool take_text(scan s, const node *at, mesh *out) {
    int64_t n = count_corners(s);
    int n_corner = -1;
    const char *line, *end;
    if (n < 0) complain(s.r, at, "%s cannot be read as a model of triangles (stl)", s.path);
    if (n < 0 || !mesh_check_count(s.r, at, s.path, n / 3)) return false;
    if (!make_room(s.r, n / 3 + 1, out)) return false; /* a loop may be begun and not ended */
    while (scan_line(&s, &line, &end))
        if (!take_line(&s, line, end, &n_corner, out)) return false;
    return n_corner < 0 || scan_refuse(&s, "the file ends within a triangle");
}

bool mesh_take_stl(reader *r, const node *at, const char *path, const char *bytes, size_t size,
                   mesh *out) {
    *out = (mesh){0};
    bool is_good =
        is_binary(bytes, size)
            ? take_binary(r, at, path, bytes, out)
            : take_text((scan){.r = r, .path = path, .at = bytes, .end = bytes + size}, at, out);
    r->n_triangle += out->n_triangle;
    return is_good;
}
