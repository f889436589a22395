/* render/view/view_paint.h: a view as pixels, and what is said of it. */
#ifndef GRADIN_RENDER_VIEW_PAINT_H
#define GRADIN_RENDER_VIEW_PAINT_H

#include "gradin/studies/view_picture.h"
#include "render/draw/canvas.h"

/* Colours of one ray, 0..1; hatched where it is hidden, by its place in the picture. */
colour view_shade(const gradin_view *view, const gradin_view_sample *sample, double x_px,
                  double y_px);
/* view_paint.c: pixels of the whole view into page units from the upper left; false when out of
 * memory. `pixel` is the length of a pixel on the page. */
bool view_paint(canvas *page, gradin_arena *scratch, const gradin_view *view, double left,
                double top, double pixel);
/* The hatch of what is hidden, as a swatch for a key. */
void view_swatch(canvas *page, double left, double top, double width, double height);

/* view_sheet.c: a sheet of views on an open canvas of A3 that lies; false when out of memory. */
bool view_sheet_draw(canvas *page, gradin_arena *scratch, const gradin_view_entry *entry, int n);
gradin_status view_sheet_check(const gradin_view_entry *entry, int n, gradin_error *error);

/* caption.c: texts of a view. */
void view_causes_text(const gradin_view *view, char *text, size_t size);
void view_place_text(const gradin_view *view, char *text, size_t size);
/* The same in short. */
void view_brief_text(const gradin_view *view, char *text, size_t size);
/* How large the figures and the squares of the floor are drawn, in the units of the layout. */
void view_size_text(const gradin_view *view, char *text, size_t size);
void view_outside_text(const gradin_view *view, char *text, size_t size);
gradin_status view_check(const gradin_view *view, gradin_error *error);

#endif
