/* render/draw/font.h: the one font of all pictures. */
#ifndef GRADIN_RENDER_FONT_H
#define GRADIN_RENDER_FONT_H

#include "gradin/base.h"

#include <cairo.h>

/* DejaVu Sans, upright, normal width, through fontconfig; GRADIN_IO_FAILED where that font is not
 * installed, for another font would change every picture without a word. *face is to be destroyed
 * with cairo_font_face_destroy(). */
gradin_status font_open(bool is_bold, cairo_font_face_t **face, gradin_error *error);

/* Its sister whose letters are all as wide as each other. */
gradin_status font_open_mono(cairo_font_face_t **face, gradin_error *error);

/* Hinting off, grey antialiasing: the same glyphs whatever the desktop's settings. */
void font_options_set(cairo_t *cr);

#endif
