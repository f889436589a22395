/* render/draw/canvas.h: a raster to draw on in page units (1800 to the page's width), text in
 * DejaVu Sans, and the few figures that everything is drawn with. Failures of Cairo stick to the
 * canvas and come out in canvas_status(). */
#ifndef GRADIN_RENDER_CANVAS_H
#define GRADIN_RENDER_CANVAS_H

#include "gradin/geometry.h"
#include "gradin/picture.h"
#include "render/draw/colour.h"

#include <cairo.h>

#define PAGE_WIDTH 1800.0
#define PAGE_WIDTH_MM 297.0 /* A3 upright, A4 lying: ISO 216 */
#define UNITS_PER_POINT (PAGE_WIDTH * 25.4 / 72.0 / PAGE_WIDTH_MM) /* 72 points to the inch */
#define LEAST_TEXT (5.0 * UNITS_PER_POINT) /* the smallest letters of a map */

/* What a vector format has written so far, in the arena of the canvas. */
typedef struct canvas_stream {
    gradin_arena *arena;
    unsigned char *bytes;
    size_t size, capacity;
} canvas_stream;

typedef struct canvas {
    gradin_picture format;
    canvas_stream *stream; /* NULL for PNG */
    cairo_surface_t *surface;
    cairo_t *cr;
    cairo_font_face_t *regular, *bold, *mono; /* mono: NULL until canvas_use_mono() */
    unsigned char *pixels;                    /* PNG: ARGB32, [height_px][stride] */
    int width_px, height_px, stride;
    double zoom;       /* pixels per page unit */
    double least_text; /* size of the smallest letters drawn; 0 before any */
} canvas;

/* A white page of PAGE_WIDTH x height units. GRADIN_IO_FAILED without the DejaVu Sans font. The
 * pixels live in the arena; canvas_close() frees the rest and may be called on a failed canvas. */
gradin_status canvas_open(canvas *page, gradin_arena *arena, double height, double zoom,
                          gradin_error *error);
/* The same of another width. */
gradin_status canvas_open_wide(canvas *page, gradin_arena *arena, double width, double height,
                               double zoom, gradin_error *error);
/* The same as another kind of file; without pixels the zoom does not count. */
gradin_status canvas_open_as(canvas *page, gradin_arena *arena, gradin_picture format, double width,
                             double height, double zoom, gradin_error *error);
void canvas_turn(canvas *page); /* of a PDF: the page is done; the next one, as large */
void canvas_close(canvas *page);
/* Flushes; GRADIN_OK or what went wrong while drawing. */
gradin_status canvas_status(canvas *page, gradin_error *error);

/* Figures. */

void canvas_ink(canvas *page, colour ink);
void canvas_fill(canvas *page, colour ink);                 /* fills and drops the path */
void canvas_fill_keep(canvas *page, colour ink);            /* fills and keeps the path */
void canvas_stroke(canvas *page, colour ink, double width); /* strokes and drops the path */
void canvas_line(canvas *page, gradin_vec2 a, gradin_vec2 b, colour ink, double width);
void canvas_dashed(canvas *page, double on, double off); /* of later strokes; 0 is solid */
/* Slanted lines `step` apart over the current path, which stays. */
void canvas_hatch(canvas *page, colour ink, double width, double step);
/* A line with a head at its end `to`. */
void canvas_arrow(canvas *page, gradin_vec2 from, gradin_vec2 to, colour ink, double width);

/* Text. */

/* Needed before text that is_mono. */
gradin_status canvas_use_mono(canvas *page, gradin_error *error);

typedef enum text_align { TEXT_LEFT, TEXT_CENTRE, TEXT_RIGHT } text_align;

typedef struct text_style {
    double size;
    bool is_bold, is_mono;
    text_align align;
    colour ink;
    double condense; /* width factor of the letters; 0 means 1 */
    double turn_rad; /* clockwise about the anchor */
    double halo;     /* width of a border in halo_ink; 0 is none */
    colour halo_ink;
} text_style;

enum { TEXT_CHARS = 512 };

double canvas_text_width(canvas *page, text_style style, const char *text);
/* Baseline at y. Bytes that are no UTF-8 come out as '?'. */
void canvas_text(canvas *page, text_style style, double x, double y, const char *text);
/* The same within a width: smaller down to least_size, then cut and ended by an ellipsis. */
void canvas_text_within(canvas *page, text_style style, double x, double y, double width,
                        double least_size, const char *text);
/* The longest start of text that ends between words and fits the width (at least one word):
 * its length in bytes. */
size_t canvas_text_break(canvas *page, text_style style, double width, const char *text);
/* Text over as many lines as it needs; the baseline after the last. */
double canvas_text_wrapped(canvas *page, text_style style, double x, double y, double width,
                           const char *text);

#endif
