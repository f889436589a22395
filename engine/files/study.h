/* files/study.h: reading a study, and what one of its points reads. */
#ifndef GRADIN_FILES_STUDY_H
#define GRADIN_FILES_STUDY_H

#include "files/parse/changes.h"
#include "gradin/study.h"

/* False after errors. */
bool study_read(reader *r, const char *path, gradin_study *study);

#endif
