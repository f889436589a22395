/* render/draw/boxes.h: labels as boxes that never overlap: one that finds no free place is left
 * out. */
#ifndef GRADIN_RENDER_BOXES_H
#define GRADIN_RENDER_BOXES_H

#include "render/draw/canvas.h"

enum { BOXES_MOST = 512 };

typedef struct label_boxes {
    gradin_box2 within;          /* page units, y downwards */
    gradin_box2 box[BOXES_MOST]; /* [n] */
    int n;
    gradin_box2 taken[BOXES_MOST]; /* [n_taken] no label may stand there */
    int n_taken;
} label_boxes;

/* Keeps labels off a box; more than BOXES_MOST are not kept. */
void boxes_take(label_boxes *boxes, gradin_box2 box);

bool boxes_are_apart(gradin_box2 a, gradin_box2 b);
/* Takes a box of this size whose bottom's middle is at `foot`, or as many steps further up, at most
 * `tries`; *placed gets it. False when no such place is free. */
bool boxes_place(label_boxes *boxes, gradin_vec2 foot, double width, double height, double step,
                 int tries, gradin_box2 *placed);

#endif
