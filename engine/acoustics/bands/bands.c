/* Mid-bands of one-third octaves and octaves.
 *
 * Method: IEC 61260-1, base-10 system: exact mid-bands (2) 1000 * G^(x/b) with G = 10^0.3 (1), 1000
 * Hz being a mid-band of both. Nominal names as in its Annex E. Equation numbers from memory.
 * Limits: 50 Hz to 5 kHz and 63 Hz to 4 kHz; an index outside gives NAN, or 0 for a nominal name.
 */
#include "gradin/acoustics.h"

enum { BAND_1K = 13, OCTAVE_1K = 4 };

static bool is_band(int band) {
    return band >= 0 && band < GRADIN_N_BAND;
}

static bool is_octave(int octave) {
    return octave >= 0 && octave < GRADIN_N_OCTAVE;
}

double gradin_band_mid_hz(int band) {
    return is_band(band) ? 1000.0 * pow(10.0, (band - BAND_1K) / 10.0) : NAN; /* (2) */
}

double gradin_octave_mid_hz(int octave) {
    return is_octave(octave) ? 1000.0 * pow(10.0, 3 * (octave - OCTAVE_1K) / 10.0) : NAN;
}

int gradin_octave_nominal_hz(int octave) {
    return is_octave(octave) ? gradin_band_nominal_hz(3 * octave + 1) : 0;
}
