/* The colour scale of differences: white at zero, blue below, orange-brown above.
 *
 * Method: straight lines in CIELAB (CIE 15:2018, 8.2.1; white point D65) from L* 97 without chroma
 * to L* 38 at either end, so that equal differences look equal and both signs weigh the same; then
 * XYZ to sRGB (IEC 61966-2-1). The hues 285 and 55 degrees stay apart for all three kinds of
 * colour blindness. In grey the sign is lost: the seats print it. */
#include "render/draw/colour.h"

#include "gradin/base.h"

static const double middle_l = 97.0, end_l = 38.0, end_chroma = 52.0;
static const double below_deg = 285.0, above_deg = 55.0;

/* CIE 15, inverse of f(t) = t^(1/3) with its straight part near zero. */
static double cube_of(double f) {
    const double delta = 6.0 / 29.0;
    return f > delta ? f * f * f : 3.0 * delta * delta * (f - 4.0 / 29.0);
}

static double companded(double linear) {
    double within = fmin(fmax(linear, 0.0), 1.0);
    return within <= 0.0031308 ? 12.92 * within : 1.055 * pow(within, 1.0 / 2.4) - 0.055;
}

static colour srgb_of_lab(double l, double a, double b) {
    double f = (l + 16.0) / 116.0;
    double x = 0.95047 * cube_of(f + a / 500.0), y = cube_of(f),
           z = 1.08883 * cube_of(f - b / 200.0);
    return (colour){companded(3.2406 * x - 1.5372 * y - 0.4986 * z),
                    companded(-0.9689 * x + 1.8758 * y + 0.0415 * z),
                    companded(0.0557 * x - 0.2040 * y + 1.0570 * z)};
}

colour colour_difference(double share) {
    if (isnan(share)) return COLOUR_WHITE;
    const double half = 60.0; /* shades of either sign: COLOUR_SHADES, but even in twentieths */
    double t = round(half * fmin(fabs(share), 1.0)) / half,
           hue = (share < 0.0 ? below_deg : above_deg) * GRADIN_PI / 180.0;
    double chroma = t * end_chroma;
    return srgb_of_lab(middle_l + t * (end_l - middle_l), chroma * cos(hue), chroma * sin(hue));
}
