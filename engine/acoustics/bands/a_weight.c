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

/* 10^(A/10) of (E.6) at the exact middles, for it is asked at each seat and moment; a unit test
 * works them out again. */
static const double energy[GRADIN_N_BAND] = {
    0x1.f173189e2fcd9p-11, 0x1.3ad46087327ecp-9,
    0x1.7036ecbf75191p-8,  0x1.8f2ee54e66cd8p-7,
    0x1.9253a46ce192dp-6,  0x1.7ac182cccbbedp-5,
    0x1.4f36f0a8398b1p-4,  0x1.18bcd564e9b5fp-3,
    0x1.beeb568e6c58fp-3,  0x1.526ba3c03e0cbp-2,
    0x1.e67207b14946cp-2,  0x1.4a89f0b565e38p-1,
    0x1.a787b7637e1fap-1,  0x1p+0,
    0x1.2554755be4ac6p+0,  0x1.40db1361dc64fp+0,
    0x1.51781dc9e513cp+0,  0x1.57032b648d2b8p+0,
    0x1.515f61bae79e2p+0,  0x1.400ea99993ae8p+0,
    0x1.2278fb7c436d9p+0,
};

double gradin_a_energy(int band) {
    return band >= 0 && band < GRADIN_N_BAND ? energy[band] : NAN;
}
