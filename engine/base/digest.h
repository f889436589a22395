/* base/digest.h: content digest of input files (XXH3, 128 bits, by libxxhash). */
#ifndef GRADIN_BASE_DIGEST_H
#define GRADIN_BASE_DIGEST_H

#include "gradin/base.h"

#include <stddef.h>

/* Folds bytes[size] into the running digest hex[33]; start with hex[0] = '\0'. */
void gradin_digest_fold(char hex[33], const void *bytes, size_t size);

/* The digest of bytes[size] alone, as `xxhsum -H128` prints it. */
void gradin_digest_whole(char hex[33], const void *bytes, size_t size);

/* The same of what can still be read from an open file, block by block. */
gradin_status gradin_digest_open(char hex[33], int fd);

#endif
