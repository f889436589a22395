/* The colour scale against its published table and against CIE lightness; the scale of differences
 * against CIELAB and simulated colour blindness. */
#include "gradin/base.h"
#include "render/draw/colour.h"
#include "render/maps/quantity.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* The published values, reference/cividis/cividis.csv (Nunez, Anderton, Renslow 2018). */
Test(colour, table_is_the_published_one) {
    FILE *file = fopen(GRADIN_SOURCE_DIR "/reference/cividis/cividis.csv", "r");
    cr_assert_not_null(file);
    char line[128];
    cr_assert_not_null(fgets(line, sizeof line, file));
    for (int i = 0; i < COLOUR_COUNT; i++) {
        int index;
        double rgb[3];
        cr_assert_not_null(fgets(line, sizeof line, file));
        cr_assert_eq(sscanf(line, "%d,%lf,%lf,%lf", &index, &rgb[0], &rgb[1], &rgb[2]), 4);
        cr_assert_eq(index, i);
        for (int k = 0; k < 3; k++)
            cr_assert_eq(colour_table[i][k], (int)lround(255.0 * rgb[k]), "entry %d.%d", i, k);
    }
    cr_assert_null(fgets(line, sizeof line, file), "the table has more entries");
    fclose(file);
}

static double linear(double channel) {
    return channel <= 0.04045 ? channel / 12.92 : pow((channel + 0.055) / 1.055, 2.4);
}

/* Luminance of sRGB, IEC 61966-2-1 (D65). */
static double luminance(colour c) {
    return 0.2126 * linear(c.r) + 0.7152 * linear(c.g) + 0.0722 * linear(c.b);
}

/* L* of CIE 15 (CIELAB). */
static double lightness(double y) {
    return y > 216.0 / 24389.0 ? 116.0 * cbrt(y) - 16.0 : y * 24389.0 / 27.0;
}

Test(colour, lightness_rises_evenly) {
    double first = lightness(luminance(colour_at(0.0)));
    double last = lightness(luminance(colour_at(1.0)));
    cr_assert_gt(last - first, 70.0);
    for (int i = 0; i < COLOUR_COUNT; i++) {
        double t = i / 255.0, l = lightness(luminance(colour_at(t)));
        cr_assert_float_eq(l, first + t * (last - first), 2.0, "entry %d has L* %g", i, l);
        if (i >= 8) {
            double before = lightness(luminance(colour_at((i - 8) / 255.0)));
            cr_assert_gt(l, before, "no rise up to entry %d", i);
        }
    }
}

Test(colour, ends_and_gaps) {
    colour low = colour_at(-INFINITY), zero = colour_at(0.0), high = colour_at(7.0),
           one = colour_at(1.0), none = colour_at(NAN);
    cr_assert(low.r == zero.r && low.g == zero.g && low.b == zero.b);
    cr_assert(high.r == one.r && high.g == one.g && high.b == one.b);
    cr_assert(none.r == 1.0 && none.g == 1.0 && none.b == 1.0);
}

/* WCAG 2.1, 1.4.3: contrast of at least 4.5:1 for text. */
Test(colour, text_has_contrast_everywhere) {
    for (int i = 0; i < COLOUR_COUNT; i++) {
        colour fill = colour_at(i / 255.0);
        double a = luminance(fill) + 0.05, b = luminance(colour_text_on(fill)) + 0.05;
        cr_assert_geq(fmax(a, b) / fmin(a, b), 4.5, "entry %d", i);
    }
}

typedef struct lab {
    double l, a, b;
} lab;

static double cube_root(double t) {
    return t > 216.0 / 24389.0 ? cbrt(t) : (24389.0 / 27.0 * t + 16.0) / 116.0;
}

/* CIE 15 from linear sRGB of IEC 61966-2-1, white point D65. */
static lab lab_of(const double linear_rgb[3]) {
    static const double to_xyz[3][3] = {
        {0.4124, 0.3576, 0.1805}, {0.2126, 0.7152, 0.0722}, {0.0193, 0.1192, 0.9505}};
    static const double white[3] = {0.95047, 1.0, 1.08883};
    double f[3];
    for (int i = 0; i < 3; i++) {
        double sum = 0.0;
        for (int k = 0; k < 3; k++) sum += to_xyz[i][k] * linear_rgb[k];
        f[i] = cube_root(sum / white[i]);
    }
    return (lab){116.0 * f[1] - 16.0, 500.0 * (f[0] - f[1]), 200.0 * (f[1] - f[2])};
}

/* Severity 1 of protan, deutan and tritan vision: G. M. Machado, M. M. Oliveira, L. A. F.
 * Fernandes, "A physiologically-based model for simulation of color vision deficiency", IEEE Trans.
 * Vis. Comput. Graph. 15(6), 2009; matrices on linear RGB from memory. The first is normal vision.
 */
static const double vision[4][3][3] = {{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
                                       {{0.152286, 1.052583, -0.204868},
                                        {0.114503, 0.786281, 0.099216},
                                        {-0.003882, -0.048116, 1.051998}},
                                       {{0.367322, 0.860646, -0.227968},
                                        {0.280085, 0.672501, 0.047413},
                                        {-0.011820, 0.042940, 0.968881}},
                                       {{1.255528, -0.076749, -0.178779},
                                        {-0.078411, 0.930809, 0.147602},
                                        {0.004733, 0.691367, 0.303900}}};

static lab seen(colour c, int eye) {
    const double linear_rgb[3] = {linear(c.r), linear(c.g), linear(c.b)};
    double out[3];
    for (int i = 0; i < 3; i++) {
        out[i] = 0.0;
        for (int k = 0; k < 3; k++) out[i] += vision[eye][i][k] * linear_rgb[k];
    }
    return lab_of(out);
}

static double apart(lab p, lab q) {
    return hypot(hypot(p.l - q.l, p.a - q.a), p.b - q.b);
}

/* Equal steps look equal (CIE 1976 distance), and both signs weigh the same. */
Test(colour, differences_are_even_and_symmetric) {
    lab zero = seen(colour_difference(0.0), 0);
    cr_assert_gt(zero.l, 95.0);
    cr_assert_lt(hypot(zero.a, zero.b), 1.0, "zero has no hue");
    double step = apart(zero, seen(colour_difference(1.0), 0)) / 20.0;
    for (int i = 0; i < 20; i++)
        for (int sign = -1; sign <= 1; sign += 2) {
            lab p = seen(colour_difference(sign * i / 20.0), 0);
            lab q = seen(colour_difference(sign * (i + 1) / 20.0), 0);
            cr_assert_float_eq(apart(p, q), step, 0.1 * step, "step %d, sign %d", i, sign);
            lab other = seen(colour_difference(-sign * (i + 1) / 20.0), 0);
            cr_assert_float_eq(q.l, other.l, 0.5);
        }
}

/* A colour-blind reader sees that a value differs from zero, how far, and with which sign. */
Test(colour, differences_keep_their_sign_for_every_eye) {
    for (int eye = 0; eye < 4; eye++)
        for (int i = 1; i <= 10; i++) {
            lab zero = seen(colour_difference(0.0), eye);
            lab below = seen(colour_difference(-i / 10.0), eye);
            lab above = seen(colour_difference(i / 10.0), eye);
            cr_assert_gt(apart(below, above), 6.0 * i, "eye %d, %d tenths: %g", eye, i,
                         apart(below, above));
            cr_assert_gt(apart(zero, above), 5.0 * i);
            cr_assert_gt(apart(zero, below), 5.0 * i);
        }
}

/* Clear, good, fair and poor fall in lightness, well apart, in grey (L* of normal vision) and for
 * every eye; their marks stand off them by WCAG 2.1, 1.4.3. */
Test(colour, classes_keep_their_order_for_every_eye) {
    for (int eye = 0; eye < 4; eye++)
        for (int k = 0; k + 1 < GRADIN_N_RATING; k++) {
            lab better = seen(colour_at(quantity_class_quality((gradin_rating)k)), eye);
            lab worse = seen(colour_at(quantity_class_quality((gradin_rating)(k + 1))), eye);
            cr_assert_gt(better.l - worse.l, 15.0, "eye %d, class %d: %g", eye, k,
                         better.l - worse.l);
        }
    for (int k = 0; k < GRADIN_N_RATING; k++) {
        colour fill = colour_at(quantity_class_quality((gradin_rating)k));
        double a = luminance(fill) + 0.05, b = luminance(colour_text_on(fill)) + 0.05;
        cr_assert_geq(fmax(a, b) / fmin(a, b), 4.5);
    }
}

Test(colour, differences_beyond_the_ends) {
    colour low = colour_difference(-7.0), least = colour_difference(-1.0);
    cr_assert(low.r == least.r && low.g == least.g && low.b == least.b);
    cr_assert_eq(colour_difference(NAN).r, 1.0);
    for (int i = -20; i <= 20; i++) {
        colour fill = colour_difference(i / 20.0);
        double a = luminance(fill) + 0.05, b = luminance(colour_text_on(fill)) + 0.05;
        cr_assert_geq(fmax(a, b) / fmin(a, b), 4.5, "%d", i);
    }
}
