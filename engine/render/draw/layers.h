/* render/draw/layers.h: canvases of pixels that lie under and over another. */
#ifndef GRADIN_RENDER_LAYERS_H
#define GRADIN_RENDER_LAYERS_H

#include "render/draw/canvas.h"

/* A canvas without a colour anywhere, as wide as another and with its fonts, for the page from its
 * top to `bottom`. The pixels live in the arena; canvas_close() frees the rest. */
gradin_status layer_open(canvas *layer, gradin_arena *arena, const canvas *like, double bottom,
                         gradin_error *error);
void layer_wipe(canvas *layer, bool is_white);
/* The page becomes what the layer is, white below. */
void layer_copy(canvas *page, canvas *layer);
/* The layer goes over the page. */
void layer_over(canvas *page, canvas *layer);

#endif
