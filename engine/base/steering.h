/* base/steering.h: characters that steer a terminal or turn a line of text around. */
#ifndef GRADIN_BASE_STEERING_H
#define GRADIN_BASE_STEERING_H

#include <stddef.h>

/* Bytes of such a character at the start of `text`; 0 when there is another one. They are the
 * control characters of Unicode (C0, delete, C1), its line and paragraph separators, and the marks,
 * embeddings and isolates of the bidirectional algorithm (Unicode Standard Annex 9, table 4). */
size_t steering_bytes(const char *text);

#endif
