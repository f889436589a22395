/* render/maps/easel.h: what maps drawn one after another share: a canvas with its fonts, memory to
 * encode in, and what lies below and above the seats of the sheet drawn last. */
#ifndef GRADIN_RENDER_EASEL_H
#define GRADIN_RENDER_EASEL_H

#include "render/draw/layers.h"
#include "render/maps/quantity.h"
#include "render/plan/plan.h"

typedef struct easel {
    gradin_arena *arena, *scratch;     /* of the canvases; of one picture */
    canvas page, below, above;         /* PNG alone has the latter two */
    bool is_open, has_layers, is_used; /* the layers have been drawn on */
    view v;
    label_grid grid;
    layer_tiles drawn;         /* of above */
    const gradin_model *model; /* what the layers show */
    const gradin_outlook *outlook;
    int sheet;
} easel;

gradin_status easel_open(easel *e, gradin_error *error);
void easel_close(easel *e); /* also of one that failed to open */
/* A page with all that lies below the seats of a sheet; then, the seats drawn, what lies above
 * them. Pixels of both are drawn once for quantities of one sheet that follow each other. */
gradin_status easel_begin(easel *e, const view *v, const quantity *q, int sheet,
                          gradin_error *error);
void easel_end(easel *e, const quantity *q);

#endif
