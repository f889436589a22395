/* files/show.h: reading a show. */
#ifndef GRADIN_FILES_SHOW_H
#define GRADIN_FILES_SHOW_H

#include "files/parse/node.h"
#include "gradin/show.h"

/* False after errors. */
bool show_read(reader *r, const char *path, gradin_show *show);

#endif
