/* files/stated/files.h: every kind of file that the schema tables know. */
#ifndef GRADIN_FILES_STATED_FILES_H
#define GRADIN_FILES_STATED_FILES_H

#include "files/schema/schema.h"

extern const schema_file *const schema_files[]; /* NULL-ended */

#endif
