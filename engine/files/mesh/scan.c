/* Words, numbers and how many triangles there may be in model files. A number is what it seems:
 * "1,5" and "0x10" are none. */
#include "files/mesh/scan.h"

#include <math.h>
#include <string.h>

enum { MAX_WORD = 64 };
static const double MAX_COORDINATE = 1e7; /* a hall of 10 km in millimetres */

bool scan_refuse(const scan *s, const char *text) {
    complain_line(s->r, s->path, s->line, text);
    return false;
}

size_t scan_word(const char **at, const char *end, const char **word) {
    while (*at < end && (**at == ' ' || **at == '\t' || **at == '\r')) ++*at;
    *word = *at;
    while (*at < end && **at != ' ' && **at != '\t' && **at != '\r') ++*at;
    return (size_t)(*at - *word);
}

bool scan_is(const char *word, size_t length, const char *expected) {
    return length == strlen(expected) && memcmp(word, expected, length) == 0;
}

static bool take_coordinate(const char *word, size_t length, double *value) {
    char text[MAX_WORD];
    if (length == 0 || length >= sizeof text) return false;
    memcpy(text, word, length);
    text[length] = '\0';
    return gradin_parse_number(text, value) && fabs(*value) <= MAX_COORDINATE;
}

bool scan_corner(const scan *s, const char *at, const char *end, gradin_vec3 *corner) {
    double *value[3] = {&corner->x, &corner->y, &corner->z};
    for (int i = 0; i < 3; i++) {
        const char *word;
        size_t length = scan_word(&at, end, &word);
        if (!take_coordinate(word, length, value[i]))
            return scan_refuse(s, "three coordinates are needed, plain decimal numbers up to 1e7");
    }
    return true;
}

bool scan_line(scan *s, const char **at, const char **end) {
    if (s->at >= s->end) return false;
    const char *stop = memchr(s->at, '\n', (size_t)(s->end - s->at));
    *at = s->at;
    *end = stop ? stop : s->end;
    s->at = stop ? stop + 1 : s->end;
    s->line++;
    return true;
}

bool mesh_check_count(reader *r, const node *at, const char *path, int64_t n) {
    if (n == 0)
        complain(r, at, "%s holds no triangle", path);
    else if (n > GRADIN_MAX_TRIANGLE - r->n_triangle)
        complain(r, at, "%s brings the layout to %lld triangles; at most %d are allowed", path,
                 (long long)(n + r->n_triangle), GRADIN_MAX_TRIANGLE);
    else
        return true;
    return false;
}
