/* files/wishes.h: reading wishes. */
#ifndef GRADIN_FILES_WISHES_H
#define GRADIN_FILES_WISHES_H

#include "files/layout/read.h"
#include "gradin/wishes.h"

/* False after errors. */
bool wishes_read(reader *r, const char *path, gradin_wishes *wishes);

#endif
