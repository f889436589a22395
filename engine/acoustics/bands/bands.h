/* bands/bands.h: bands among the 21 thirds. */
#ifndef GRADIN_BANDS_BANDS_H
#define GRADIN_BANDS_BANDS_H

enum { GRADIN_BAND_100_HZ = 3 }; /* the first of the 16 that ISO 717-1 rates */

/* Energy factor of the A-weighting at a band's exact middle. */
double gradin_a_energy(int band);

#endif
