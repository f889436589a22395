/* unit/files/same_focus.h: one focus area read back is the other. */
#ifndef UNIT_FILES_SAME_FOCUS_H
#define UNIT_FILES_SAME_FOCUS_H

#include "gradin/layout.h"

void same_focus(const gradin_focus *a, const gradin_focus *b);

#endif
