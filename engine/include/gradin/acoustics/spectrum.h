/* gradin/acoustics/spectrum.h: spectra of noise as somebody measured them, in thirds or octaves.
 *
 * Wide bands are the 33 one-third octaves 12.5 Hz .. 20 kHz, wide octaves the 11 from 16 Hz to
 * 16 kHz, three thirds each. Levels dB re 20 uPa.
 *
 * Ownership and threads: Spectra belong to the caller and the library changes none of them, so any
 * number of threads may read them. */
#ifndef GRADIN_SPECTRUM_H
#define GRADIN_SPECTRUM_H

#include "gradin/base.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { GRADIN_N_WIDE_BAND = 33, GRADIN_N_WIDE_OCTAVE = 11, GRADIN_MAX_SPECTRUM = 12 };

/* 12.5 .. 20000; 0 for a band that is not there. */
GRADIN_API double gradin_wide_nominal_hz(int band);

typedef struct gradin_spectrum {
    const char *name;                    /* NULL: it has none */
    bool is_octave;                      /* each octave stands in its middle third */
    double level_db[GRADIN_N_WIDE_BAND]; /* NAN where not given; a run without a hole */
} gradin_spectrum;

typedef struct gradin_spectra {
    const char *source;              /* name of the file, without its folder; NULL: given */
    const gradin_spectrum *spectrum; /* [n_spectrum], at most GRADIN_MAX_SPECTRUM */
    int n_spectrum;
    char digest[33]; /* of the file; "" without one */
} gradin_spectra;

#ifdef __cplusplus
}
#endif

#endif
