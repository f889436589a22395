/* Bands, A-weighting and sums of levels. */
#include "acoustics/bands/bands.h"
#include <criterion/criterion.h>

#include "gradin/acoustics.h"
#include "unit/acoustics/csv.h"

Test(bands, thirds_and_octaves_agree) {
    for (int o = 0; o < GRADIN_N_OCTAVE; o++) {
        double third_hz = gradin_band_mid_hz(3 * o + 1), octave_hz = gradin_octave_mid_hz(o);
        cr_assert(fabs(third_hz / octave_hz - 1.0) < 1e-14, "octave %d: %.9f, %.9f", o, third_hz,
                  octave_hz);
        cr_assert(gradin_band_nominal_hz(3 * o + 1) == gradin_octave_nominal_hz(o), "octave %d", o);
    }
    /* Upper edge of a band is the lower edge of the next (IEC 61260-1, edges 10^(+-0.05)). */
    for (int b = 0; b + 1 < GRADIN_N_BAND; b++) {
        double up_hz = gradin_band_mid_hz(b) * pow(10.0, 0.05);
        double low_hz = gradin_band_mid_hz(b + 1) * pow(10.0, -0.05);
        cr_assert(fabs(up_hz / low_hz - 1.0) < 1e-14, "band %d", b);
        double nominal_hz = gradin_band_nominal_hz(b);
        cr_assert(nominal_hz > gradin_band_mid_hz(b) / 1.013 &&
                      nominal_hz < gradin_band_mid_hz(b) * 1.013,
                  "band %d is called %g Hz", b, nominal_hz);
    }
}

Test(bands, outside_the_range) {
    cr_assert(isnan(gradin_band_mid_hz(-1)) && isnan(gradin_band_mid_hz(GRADIN_N_BAND)));
    cr_assert(isnan(gradin_octave_mid_hz(-1)) && isnan(gradin_octave_mid_hz(GRADIN_N_OCTAVE)));
    cr_assert(gradin_band_nominal_hz(-1) == 0 && gradin_band_nominal_hz(GRADIN_N_BAND) == 0);
    cr_assert(gradin_octave_nominal_hz(-1) == 0 && gradin_octave_nominal_hz(GRADIN_N_OCTAVE) == 0);
}

/* IEC 61672-1 Table 3, 25 Hz to 10 kHz, at the exact mid-bands; confirmed. */
Test(bands, a_weighting_is_the_published_one) {
    csv table = csv_read("iec-61672/a-weighting.csv", 27, 3);
    for (int i = 0; i < table.n_row; i++) {
        double a_db = gradin_a_weight_db(1000.0 * pow(10.0, table.cell[i][1] / 10.0));
        cr_assert(fabs(a_db - table.cell[i][2]) <= 0.05, "%g Hz: %.4f", table.cell[i][0], a_db);
    }
    cr_assert(gradin_a_weight_db(1000.0) == 0.0);
}

Test(bands, sums_of_levels) {
    const double silence = -INFINITY, mixed_db[4] = {silence, 60.0, silence, 60.0};
    cr_assert(gradin_level_sum_db(NULL, 0) == -INFINITY);
    cr_assert(gradin_level_sum_db(&silence, 1) == -INFINITY);
    cr_assert(fabs(gradin_level_sum_db(mixed_db, 4) - 60.0 - 10.0 * log10(2.0)) < 1e-12);
    double even_db[100];
    for (int i = 0; i < 100; i++) even_db[i] = 35.0;
    cr_assert(fabs(gradin_level_sum_db(even_db, 100) - 55.0) < 1e-12);
}

/* Octaves hold the energy of the thirds, each third once. */
Test(bands, octaves_keep_the_energy) {
    double band_db[GRADIN_N_BAND], octave_db[GRADIN_N_OCTAVE];
    for (int b = 0; b < GRADIN_N_BAND; b++) band_db[b] = 40.0 + 7.0 * sin(3.0 * b);
    gradin_octaves_db(band_db, octave_db);
    cr_assert(fabs(gradin_level_sum_db(octave_db, GRADIN_N_OCTAVE) -
                   gradin_level_sum_db(band_db, GRADIN_N_BAND)) < 1e-12);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double one_db[GRADIN_N_BAND];
        for (int k = 0; k < GRADIN_N_BAND; k++) one_db[k] = k == b ? 50.0 : -INFINITY;
        gradin_octaves_db(one_db, octave_db);
        for (int o = 0; o < GRADIN_N_OCTAVE; o++)
            cr_assert(o == b / 3 ? fabs(octave_db[o] - 50.0) < 1e-12 : octave_db[o] == -INFINITY,
                      "band %d octave %d", b, o);
        double a_db = 50.0 + gradin_a_weight_db(gradin_band_mid_hz(b));
        cr_assert(fabs(gradin_level_a_db(one_db) - a_db) < 1e-12, "band %d", b);
    }
}

Test(bands, a_energy_is_that_of_the_weighting) {
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double wanted = pow(10.0, 0.1 * gradin_a_weight_db(gradin_band_mid_hz(b)));
        cr_assert_float_eq(gradin_a_energy(b), wanted, 1e-14 * wanted, "band %d", b);
    }
    cr_assert(isnan(gradin_a_energy(-1)) && isnan(gradin_a_energy(GRADIN_N_BAND)));
}
