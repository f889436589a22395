/* The colour scale against its published table and against CIE lightness. */
#include "gradin/base.h"
#include "render/colour.h"

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
