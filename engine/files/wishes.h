/* files/wishes.h: parts of reading wishes. */
#ifndef GRADIN_LAYOUT_WISHES_H
#define GRADIN_LAYOUT_WISHES_H

#include "gradin/wishes.h"
#include "venue/plan.h"

/* hall.c: a venue without what only its own room needs; false when out of memory. */
bool hall_facts(reader *r, const venue *v, gradin_hall *hall);
/* False after errors. */
bool wishes_read(reader *r, const char *path, gradin_wishes *wishes);

#endif
