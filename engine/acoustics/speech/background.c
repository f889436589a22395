/* The hall's own noise by thirds, and as what it masks.
 *
 * An octave of it is spread evenly over its hertz, as broadband noise of ventilation is (common
 * practice, no source): third b of octave o has (1) L = L_o + 10 lg(width_b/width_o). The spectrum
 * level of a third is (2) L - 10 lg width_b. Widths are those of base-10 bands, IEC 61260-1. */
#include "acoustics/speech/background.h"

#include "acoustics/bands/bands.h"

static const double third_width = 0.2307; /* of the mid-band: 10^0.05 - 10^-0.05 */

double gradin_third_width_hz(int band) {
    return third_width * gradin_band_mid_hz(band);
}

void gradin_background_levels(const gradin_background *background, double *level_db) {
    double octave_db[GRADIN_N_OCTAVE], share = pow(10.0, 0.15) - pow(10.0, -0.15);
    if (!background || !level_db) return;
    bool is_curve = background->nc > 0.0;
    for (int b = 0; b < GRADIN_N_BAND; b++) level_db[b] = background->level_db[b];
    if (!is_curve && !background->is_octave) return;
    if (!is_curve) gradin_octaves_db(background->level_db, octave_db);
    for (int o = 0; o < GRADIN_N_OCTAVE && is_curve; o++)
        octave_db[o] = gradin_nc_level_db(background->nc, o);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        level_db[b] =
            octave_db[b / 3] + 10.0 * log10(gradin_third_width_hz(b) /
                                            (share * gradin_octave_mid_hz(b / 3))); /* (1) */
}

double gradin_background_dba(const gradin_background *background) {
    double sum = 0.0, level_db[GRADIN_N_BAND];
    if (!background) return NAN;
    gradin_background_levels(background, level_db);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        sum += gradin_a_energy(b) * pow(10.0, 0.1 * level_db[b]);
    return 10.0 * log10(sum);
}

double gradin_background_density(double level_db, int band) {
    return pow(10.0, 0.1 * level_db) / gradin_third_width_hz(band); /* (2) */
}
