/* render/draw/layers.h: canvases of pixels that lie under and over another. */
#ifndef GRADIN_RENDER_LAYERS_H
#define GRADIN_RENDER_LAYERS_H

#include "render/draw/canvas.h"

enum { LAYER_TILE = 32 }; /* pixels */

/* Which squares of a layer anything is drawn on. */
typedef struct layer_tiles {
    bool *is_drawn; /* [rows][columns] */
    int rows, columns;
} layer_tiles;

/* A canvas without a colour anywhere, as wide as another and with its fonts, for the page from its
 * top to `bottom`. The pixels live in the arena; canvas_close() frees the rest. */
gradin_status layer_open(canvas *layer, gradin_arena *arena, const canvas *like, double bottom,
                         gradin_error *error);
void layer_wipe(canvas *layer, bool is_white);
/* The page becomes what the layer is, white below. */
void layer_copy(canvas *page, canvas *layer);
gradin_status layer_find_drawn(canvas *layer, gradin_arena *arena, layer_tiles *tiles,
                               gradin_error *error);
/* What is drawn of the layer goes over the page. */
void layer_over(canvas *page, canvas *layer, const layer_tiles *tiles);

#endif
