/* Printing and letters as in the plain locale. Source: POSIX.1-2008 (newlocale, uselocale). */
#include "base/shared/plain.h"

#include <locale.h>
#include <stdio.h>

int plain_print_list(char *out, size_t size, const char *format, va_list arguments) {
    locale_t plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    locale_t before = plain ? uselocale(plain) : (locale_t)0;
    int length = vsnprintf(out, size, format, arguments);
    if (plain) {
        uselocale(before);
        freelocale(plain);
    }
    return length;
}

int plain_print(char *out, size_t size, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    int length = plain_print_list(out, size, format, arguments);
    va_end(arguments);
    return length;
}

char plain_upper(char c) {
    return c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c;
}

char plain_lower(char c) {
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}
