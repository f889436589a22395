/* render/draw/doubt.h: the caution of a page of noise. */
#ifndef GRADIN_RENDER_DOUBT_H
#define GRADIN_RENDER_DOUBT_H

#include "gradin/acoustics/uncertainty.h"

void doubt_text(double systematic_db, double scatter_db, char *text, size_t size);

#endif
