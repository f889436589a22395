/* base/shared/plain.h: what the C library does by the locale, done as in the plain one: a program
 * that uses the library may have set another, with a decimal comma. */
#ifndef GRADIN_BASE_SHARED_PLAIN_H
#define GRADIN_BASE_SHARED_PLAIN_H

#include <stdarg.h>
#include <stddef.h>

/* vsnprintf and snprintf with a decimal point. */
int plain_print_list(char *out, size_t size, const char *format, va_list arguments);
int plain_print(char *out, size_t size, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
/* Letters of ASCII alone change. */
char plain_upper(char c);
char plain_lower(char c);

#endif
