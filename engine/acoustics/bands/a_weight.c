/* Frequency weighting A.
 *
 * Method: IEC 61672-1:2002 Annex E, equation (E.6) with the four pole frequencies of its clause
 * E.4; the value at 1 kHz is taken off exactly instead of the rounded -2.000 dB. */
#include "acoustics/bands/bands.h"
#include "gradin/acoustics.h"

static const double F1_HZ = 20.598997, F2_HZ = 107.65265, F3_HZ = 737.86223, F4_HZ = 12194.217;

static double response(double f_hz) {
    double f2 = f_hz * f_hz;
    return F4_HZ * F4_HZ * f2 * f2 /
           ((f2 + F1_HZ * F1_HZ) * sqrt((f2 + F2_HZ * F2_HZ) * (f2 + F3_HZ * F3_HZ)) *
            (f2 + F4_HZ * F4_HZ));
}

double gradin_a_weight_db(double f_hz) {
    return 20.0 * log10(response(f_hz) / response(1000.0)); /* (E.6) */
}

double gradin_a_energy(int band) {
    return pow(10.0, 0.1 * gradin_a_weight_db(gradin_band_mid_hz(band)));
}
