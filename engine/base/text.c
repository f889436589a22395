/* Numbers to and from text, the same in every locale; names that are near for suggestions. */
#include "base/shared/plain.h"
#include "gradin/base.h"

#include <errno.h>
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool is_decimal_text(const char *text) {
    return text[0] != '\0' && strspn(text, "+-.0123456789eE") == strlen(text);
}

bool gradin_parse_number(const char *text, double *value) {
    if (!text || !is_decimal_text(text)) return false;
    locale_t plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    if (!plain) return false;
    char *end = NULL;
    double parsed = strtod_l(text, &end, plain);
    freelocale(plain);
    if (end == text || *end != '\0' || !isfinite(parsed)) return false;
    *value = parsed;
    return true;
}

/* A text of digits 0 and a point only: the sign of a rounded zero says nothing. */
static bool is_zero_text(const char *text) {
    return strspn(text, "0.") == strlen(text);
}

char *gradin_format_fixed(char *out, size_t size, double value, int decimals) {
    if (size == 0) return out;
    out[0] = '\0';
    if (!isfinite(value)) return out;
    plain_print(out, size, "%.*f", decimals, value);
    if (out[0] == '-' && is_zero_text(out + 1)) memmove(out, out + 1, strlen(out));
    return out;
}

static int least(int a, int b) {
    return a < b ? a : b;
}

enum { NAME_CHARS = 64 };

static bool is_same_letter(char a, char b) {
    return plain_lower(a) == plain_lower(b);
}

/* Distance of the first i of a from the first j of b, from row i - 1 and row i - 2. */
static int step(const char *a, const char *b, size_t i, size_t j, int row[3][NAME_CHARS]) {
    const int *before = row[(i + 2) % 3], *twice_before = row[(i + 1) % 3], *now = row[i % 3];
    int distance = before[j - 1] + !is_same_letter(a[i - 1], b[j - 1]);
    distance = least(distance, least(before[j], now[j - 1]) + 1);
    if (i > 1 && j > 1 && is_same_letter(a[i - 1], b[j - 2]) && is_same_letter(a[i - 2], b[j - 1]))
        distance = least(distance, twice_before[j - 2] + 1);
    return distance;
}

int gradin_edit_distance(const char *a, const char *b) {
    if (!a || !b) return NAME_CHARS;
    size_t n_a = strlen(a), n_b = strlen(b);
    if (n_a >= NAME_CHARS || n_b >= NAME_CHARS) return NAME_CHARS;
    int row[3][NAME_CHARS];
    for (size_t j = 0; j <= n_b; j++) row[0][j] = (int)j;
    for (size_t i = 1; i <= n_a; i++) {
        row[i % 3][0] = (int)i;
        for (size_t j = 1; j <= n_b; j++) row[i % 3][j] = step(a, b, i, j, row);
    }
    return row[n_a % 3][n_b];
}

/* Of three letters or more, one is the start of the other. */
static bool is_start(const char *a, size_t n_a, const char *b, size_t n_b) {
    size_t n = n_a < n_b ? n_a : n_b, same = 0;
    while (same < n && is_same_letter(a[same], b[same])) same++;
    return n >= 3 && same == n;
}

/* How far off, the near before the less near; -1 when not near. Few slips hit a first letter, so a
 * name that begins otherwise must agree better: 'Nort' is no slip for 'South'. */
static int slip(const char *a, const char *b) {
    size_t n_a = strlen(a), n_b = strlen(b), longest = n_a > n_b ? n_a : n_b;
    int allowed = longest < 3 ? 0 : (int)(longest / (is_same_letter(a[0], b[0]) ? 2 : 3));
    int distance = gradin_edit_distance(a, b);
    int rank = is_start(a, n_a, b, n_b) ? least(distance, 1) : distance;
    return rank <= least(allowed, 3) ? rank * NAME_CHARS + distance : -1;
}

int gradin_nearest_name(const char *name, const char *const *names, int n_name) {
    int best = -1, best_slip = 0;
    for (int i = 0; i < n_name; i++) {
        int found = slip(name, names[i]);
        if (found < 0 || (best >= 0 && found >= best_slip)) continue;
        best_slip = found;
        best = i;
    }
    return best;
}
