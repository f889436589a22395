/* render/draw/labels.h: finds free spots for labels on the plan. */
#ifndef GRADIN_RENDER_LABELS_H
#define GRADIN_RENDER_LABELS_H

#include "render/draw/canvas.h"
#include "render/draw/view.h"

/* A grid over the plan that knows which cells are taken. */
typedef struct label_grid {
    unsigned char *taken; /* [rows][columns] */
    int columns, rows;
    double left, top;
} label_grid;

gradin_status labels_open(label_grid *grid, gradin_arena *arena, const view *v,
                          gradin_error *error);
/* The same over a box of page units. */
gradin_status labels_open_box(label_grid *grid, gradin_arena *arena, gradin_box2 box,
                              gradin_error *error);
/* Marks the turned rectangle with half sizes `half_right`, `half_forward`, facing a bearing. */
void labels_take(label_grid *grid, gradin_vec2 centre, double half_right, double half_forward,
                 double facing_deg);
void labels_take_line(label_grid *grid, gradin_vec2 a, gradin_vec2 b, double half_width);
/* A thin line on which a label stands only where there is no other free spot. */
void labels_shun_line(label_grid *grid, gradin_vec2 a, gradin_vec2 b);
/* Boxes that labels keep off until they are released. */
void labels_keep_off(label_grid *grid, gradin_box2 box);
void labels_release(label_grid *grid);

/* Writes text at the free spot nearest to `wanted` within the box (page units): upright, else (when
 * may_turn) reading upwards. Leaves it out and returns false when there is none. */
bool labels_put(label_grid *grid, canvas *page, text_style style, gradin_box2 within,
                gradin_vec2 wanted, bool may_turn, const char *text);
/* The same on no thin line: turned before it would stand on one, or much further away. */
bool labels_put_off_lines(label_grid *grid, canvas *page, text_style style, gradin_box2 within,
                          gradin_vec2 wanted, const char *text);
/* Writes text with its middle at a spot, or leaves it out and returns false where that is taken. */
bool labels_put_at(label_grid *grid, canvas *page, text_style style, gradin_vec2 spot,
                   const char *text);
/* Writes text upright at the free spot nearest to a mark, at most `reach` away on each axis; a thin
 * line leads to it where it does not stand beside the mark, whose half size is given. */
bool labels_put_led(label_grid *grid, canvas *page, text_style style, gradin_vec2 mark,
                    double half_mark, double reach, const char *text);

#endif
