/* files/read_changed.h: layouts and briefs as they would be with other values in their
 * files. `changes` may be NULL. */
#ifndef GRADIN_FILES_READ_CHANGED_H
#define GRADIN_FILES_READ_CHANGED_H

#include "files/parse/changes.h"
#include "gradin/model.h"

gradin_status model_read_changed(gradin_arena *arena, const char *layout_path,
                                 value_changes *changes, gradin_model *model, gradin_error *error);
gradin_status brief_read_changed(gradin_arena *arena, const char *brief_path,
                                 value_changes *changes, gradin_model *model, gradin_error *error);

#endif
