/* Points of studies: Sobol's sequence, grids. */
#include "gradin/study.h"

#include <criterion/criterion.h>
#include <string.h>

/* The first eight points in four dimensions: Bratley and Fox 1988 with the numbers of Joe and Kuo
 * 2008, in natural order (worked out by hand from the recursion). */
Test(points, the_first_points_of_the_sequence) {
    static const double expected[8][4] = {
        {0.0, 0.0, 0.0, 0.0},         {0.5, 0.5, 0.5, 0.5},         {0.25, 0.75, 0.75, 0.75},
        {0.75, 0.25, 0.25, 0.25},     {0.125, 0.625, 0.375, 0.125}, {0.625, 0.125, 0.875, 0.625},
        {0.375, 0.375, 0.625, 0.875}, {0.875, 0.875, 0.125, 0.375}};
    for (int i = 0; i < 8; i++)
        for (int k = 0; k < 4; k++)
            cr_assert(gradin_sobol(i, k) == expected[i][k], "point %d, dimension %d: %g", i, k,
                      gradin_sobol(i, k));
}

/* A property of the sequence: of 2^k points each interval of length 2^-k holds one, in every
 * dimension. */
Test(points, every_dimension_is_even) {
    enum { N = 256 };
    for (int k = 0; k < GRADIN_MAX_VARIED; k++) {
        int count[N] = {0};
        for (int i = 0; i < N; i++) count[(int)(gradin_sobol(i, k) * N)]++;
        for (int i = 0; i < N; i++) cr_assert(count[i] == 1, "dimension %d, interval %d", k, i);
    }
    cr_assert(isnan(gradin_sobol(1, GRADIN_MAX_VARIED)) && isnan(gradin_sobol(-1, 0)));
}

/* Integral of the product of 2 x_k over the unit box is 1; 4,096 points find it to a hundredth in
 * six dimensions, which chance would miss by about a twentieth. */
Test(points, a_mean_over_the_box) {
    double sum = 0.0;
    for (int i = 0; i < 4096; i++) {
        double product = 1.0;
        for (int k = 0; k < 6; k++) product *= 2.0 * gradin_sobol(i, k);
        sum += product;
    }
    cr_assert(fabs(sum / 4096 - 1.0) < 0.01, "%g", sum / 4096);
}

Test(points, a_grid_has_every_combination_once) {
    const char *const glass[] = {"4", "6", "8"}, *const crew[] = {"2", "9"};
    gradin_varied varied[2] = {{.name = "glass", .value = glass, .n_value = 3},
                               {.name = "crew", .value = crew, .n_value = 2}};
    gradin_study s = {.varied = varied, .n_varied = 2};
    char text[GRADIN_VALUE_CHARS];
    cr_assert(gradin_study_points(&s) == 6);
    for (int i = 0; i < 6; i++) {
        cr_assert(gradin_study_index(&s, i, 0) == i / 2 && gradin_study_index(&s, i, 1) == i % 2);
        cr_assert(gradin_study_value(&s, i, 0, text) && strcmp(text, glass[i / 2]) == 0);
    }
    cr_assert(!gradin_study_value(&s, 6, 0, text) && gradin_study_index(&s, 0, 2) == -1);
    varied[1].n_value = 0; /* a range has no place in a grid */
    cr_assert(gradin_study_points(&s) == 0);
    varied[1].to = 3.0;
    s.n_design = 4;
    cr_assert(gradin_study_points(&s) == 4);
    cr_assert(gradin_study_value(&s, 2, 1, text) && strcmp(text, "2.25") == 0, "%s", text);
}
