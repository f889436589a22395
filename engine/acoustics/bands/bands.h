/* bands/bands.h: bands among the 21 thirds. */
#ifndef GRADIN_BANDS_BANDS_H
#define GRADIN_BANDS_BANDS_H

/* Energy factor of the A-weighting at a band's exact middle. */
double gradin_a_energy(int band);

#endif
