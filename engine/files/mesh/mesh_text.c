/* An OBJ file is looked through before it is imported, for the library reads "1,5" as 1 and "0x10"
 * as 0, and takes minutes over one face of a hundred thousand corners or over as many materials.
 * Coordinates are plain decimal numbers, faces name corners that are whole numbers; lines that have
 * nothing to do with either are made empty. Source: the Wavefront OBJ keywords v, vt, vn, f, o and
 * g; from memory. */
#include "files/mesh/scan.h"

#include <string.h>

enum { MAX_FACE_CORNER = 4096, MAX_PART = 4096 };
/* A face is cut into triangles in a time that grows with the square of its corners: half a second
 * for one of 4096. */
static const double most_many = 4.0 * MAX_FACE_CORNER * MAX_FACE_CORNER;

/* "7", "7/1", "7//3" or "-1/2/3". */
static bool is_reference(const char *word, size_t length) {
    for (size_t i = 0; i < length; i++)
        if (!strchr("0123456789/-", word[i])) return false;
    return word[0] != '/';
}

static bool check_face(scan *s, const char *at, const char *end) {
    int n = 0;
    const char *word;
    for (size_t length = scan_word(&at, end, &word); length > 0;
         length = scan_word(&at, end, &word)) {
        if (!is_reference(word, length))
            return scan_refuse(s, "a face names its corners by whole numbers");
        if (++n > MAX_FACE_CORNER) return scan_refuse(s, "a face has at most 4096 corners");
    }
    if (n > 4) s->many += (double)n * n;
    return s->many <= most_many ||
           scan_refuse(s, "has too many faces of very many corners; cut them into triangles first");
}

static bool is_part(const char *word, size_t length) {
    return scan_is(word, length, "o") || scan_is(word, length, "g");
}

static bool is_kept(const char *word, size_t length) {
    return is_part(word, length) || scan_is(word, length, "vt") || scan_is(word, length, "vn");
}

static bool check_line(scan *s, char *line, const char *end) {
    const char *at = line, *word;
    size_t length = scan_word(&at, end, &word);
    gradin_vec3 corner;
    if (scan_is(word, length, "v")) return scan_corner(s, at, end, &corner);
    if (scan_is(word, length, "f")) return check_face(s, at, end);
    if (is_part(word, length) && ++s->n_part > MAX_PART)
        return scan_refuse(s, "a model has at most 4096 parts");
    if (!is_kept(word, length)) memset(line, ' ', (size_t)(end - line));
    return true;
}

bool mesh_clean_obj(reader *r, const char *path, char *bytes, size_t size) {
    scan s = {.r = r, .path = path, .at = bytes, .end = bytes + size};
    const char *at, *end;
    while (scan_line(&s, &at, &end))
        if (!check_line(&s, bytes + (at - bytes), end)) return false;
    return true;
}
