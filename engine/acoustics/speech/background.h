/* speech/background.h: the hall's own noise beside speech. */
#ifndef GRADIN_SPEECH_BACKGROUND_H
#define GRADIN_SPEECH_BACKGROUND_H

#include "gradin/acoustics/speech.h"

double gradin_third_width_hz(int band);
/* 10^(L/10) of the spectrum level of a third's level. */
double gradin_background_density(double level_db, int band);

#endif
