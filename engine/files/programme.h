/* files/programme.h: reading a programme. */
#ifndef GRADIN_FILES_PROGRAMME_H
#define GRADIN_FILES_PROGRAMME_H

#include "files/parse/node.h"
#include "gradin/programme.h"

/* False after errors. */
bool programme_read(reader *r, const char *path, gradin_programme *programme);

#endif
