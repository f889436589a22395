/* base/steering.h: characters that steer a terminal, turn a line of text around or do not show. */
#ifndef GRADIN_BASE_STEERING_H
#define GRADIN_BASE_STEERING_H

#include <stdbool.h>
#include <stddef.h>

/* Bytes of such a character at the start of `text`; 0 when there is another one. They are the
 * control characters of Unicode (C0, delete, C1), its line and paragraph separators, and the marks,
 * embeddings and isolates of the bidirectional algorithm (Unicode Standard Annex 9, table 4), and
 * those that do not show, by which two names that look alike differ (Default_Ignorable_Code_Point
 * of the Unicode Character Database). */
size_t steering_bytes(const char *text);
/* Whether it is UTF-8 and has none of them. */
bool is_plain_text(const char *text);

#endif
