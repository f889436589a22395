/* base/file.h: what reading and writing whole files share. */
#ifndef GRADIN_BASE_FILE_H
#define GRADIN_BASE_FILE_H

#include "gradin/base.h"

/* Says of the file why it is not taken. Returns the family. */
gradin_status file_refuse(gradin_error *error, gradin_status family, const char *path,
                          const char *text);

#endif
