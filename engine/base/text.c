/* Numbers to and from text, the same in every locale; edit distance for suggestions. */
#include "gradin/base.h"

#include <ctype.h>
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
    snprintf(out, size, "%.*f", decimals, value);
    const char *point = localeconv()->decimal_point;
    char *found = strcmp(point, ".") == 0 ? NULL : strstr(out, point);
    if (found) {
        size_t width = strlen(point);
        *found = '.';
        memmove(found + 1, found + width, strlen(found + width) + 1);
    }
    if (out[0] == '-' && is_zero_text(out + 1)) memmove(out, out + 1, strlen(out));
    return out;
}

static int least(int a, int b) {
    return a < b ? a : b;
}

int gradin_edit_distance(const char *a, const char *b) {
    size_t n_a = strlen(a), n_b = strlen(b);
    if (n_a > 63 || n_b > 63) return 64;
    int row[64];
    for (size_t j = 0; j <= n_b; j++) row[j] = (int)j;
    for (size_t i = 1; i <= n_a; i++) {
        int diagonal = row[0];
        row[0] = (int)i;
        for (size_t j = 1; j <= n_b; j++) {
            int cost = diagonal + (a[i - 1] != b[j - 1]);
            diagonal = row[j];
            row[j] = least(cost, least(row[j], row[j - 1]) + 1);
        }
    }
    return row[n_b];
}
