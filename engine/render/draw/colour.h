/* render/draw/colour.h: the colour scale of all maps, that of differences, and text colours that
 * stand out on them. */
#ifndef GRADIN_RENDER_COLOUR_H
#define GRADIN_RENDER_COLOUR_H

enum { COLOUR_COUNT = 256 };
/* Of a scale that are drawn: a page with all of them and their edges has room in 256 colours. */
enum { COLOUR_SHADES = 128 };

extern const unsigned char colour_table[COLOUR_COUNT][3]; /* sRGB, dark to bright */

typedef struct colour {
    double r, g, b; /* sRGB, 0..1 */
} colour;

#define COLOUR_WHITE ((colour){1.0, 1.0, 1.0})
#define COLOUR_INK ((colour){0.12, 0.12, 0.14})
#define COLOUR_QUIET ((colour){0.38, 0.38, 0.41})
#define COLOUR_FAINT ((colour){0.72, 0.72, 0.75})

/* The scale at quality 0 (poor, dark) .. 1 (good, bright); beyond is clamped, NAN gives white. */
colour colour_at(double quality);
/* A difference at -1 .. +1 of its scale, white at 0; beyond is clamped, NAN gives white. */
colour colour_difference(double share);
/* A channel in proportion to light (IEC 61966-2-1). */
double colour_linear(double channel);
/* Black or white, whichever has the higher contrast on fill (WCAG 2.1 relative luminance). */
colour colour_text_on(colour fill);

#endif
