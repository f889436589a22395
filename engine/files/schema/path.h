/* files/schema/path.h: paths of keys held against the tables of keys. */
#ifndef GRADIN_FILES_SCHEMA_PATH_H
#define GRADIN_FILES_SCHEMA_PATH_H

#include "files/schema/schema.h"

/* Complains at the place, with the nearest key as a suggestion, unless the file's tables know the
 * path and it leads to a single value. */
bool path_check(reader *r, const gradin_place *at, const schema_file *file, const char *path);

#endif
