/* Colour scale and contrast. Relative luminance and contrast: WCAG 2.1, definitions "relative
 * luminance" and "contrast ratio" (sRGB of IEC 61966-2-1). */
#include "render/draw/colour.h"

#include <math.h>

colour colour_at(double quality) {
    if (isnan(quality)) return COLOUR_WHITE;
    double clamped = fmin(fmax(quality, 0.0), 1.0);
    int shade = (int)(clamped * (COLOUR_SHADES - 1) + 0.5);
    const unsigned char *entry =
        colour_table[(shade * (COLOUR_COUNT - 1) + COLOUR_SHADES / 2) / (COLOUR_SHADES - 1)];
    return (colour){entry[0] / 255.0, entry[1] / 255.0, entry[2] / 255.0};
}

double colour_linear(double channel) {
    return channel <= 0.04045 ? channel / 12.92 : pow((channel + 0.055) / 1.055, 2.4);
}

colour colour_text_on(colour fill) {
    double luminance = 0.2126 * colour_linear(fill.r) + 0.7152 * colour_linear(fill.g) +
                       0.0722 * colour_linear(fill.b);
    double on_black = (luminance + 0.05) / 0.05, on_white = 1.05 / (luminance + 0.05);
    return on_black >= on_white ? (colour){0.0, 0.0, 0.0} : COLOUR_WHITE;
}
