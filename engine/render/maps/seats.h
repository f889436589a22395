/* render/maps/seats.h: places drawn to scale, each with its value in print. */
#ifndef GRADIN_RENDER_SEATS_H
#define GRADIN_RENDER_SEATS_H

#include "render/draw/labels.h"
#include "render/maps/quantity.h"

/* One place as it is drawn, in page units. */
typedef struct seat_mark {
    gradin_vec2 centre;
    double width, depth; /* across and along the facing */
    double facing_deg;
    gradin_seat_kind kind;
    colour fill;
    bool is_marked;   /* worse than the last class boundary */
    bool is_near;     /* too near to a limit to tell */
    const char *text; /* NULL for the faint outline of another sheet's place */
} seat_mark;

void seat_draw(canvas *page, const seat_mark *mark);

/* The faint places of the other sheets. */
void seats_draw_others(canvas *page, const view *v, const gradin_seats *seats, int sheet);
/* The places of this sheet without a value: fill[n_seat], marked where is_marked[n_seat]. */
void seats_draw_plain(canvas *page, const view *v, const gradin_seats *seats, int sheet,
                      const colour *fill, const bool *is_marked);
/* The values of this sheet's places; then the outlines, which are those of every quantity. */
void seats_draw(canvas *page, const view *v, const quantity *q, int sheet);
void seats_draw_lines(canvas *page, const view *v, const gradin_seats *seats, int sheet);
/* Whether a value of this sheet would be too small to read, and is left out. */
bool seats_are_bare(canvas *page, const view *v, const quantity *q, int sheet);
/* Marks their ground as taken, so that no label covers a value. */
void seats_take(label_grid *grid, const view *v, const gradin_seats *seats, int sheet);

#endif
