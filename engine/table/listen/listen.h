/* table/listen/listen.h: what text and sound file say alike. */
#ifndef GRADIN_TABLE_LISTEN_H
#define GRADIN_TABLE_LISTEN_H

#include "gradin/acoustics/listen.h"
#include "table/shared/text.h"

extern const char *const listen_effort[GRADIN_N_EFFORT]; /* "normal", ... */
/* Level of the tone, of full scale, of the voice, and the shades, divided by `between`. */
void listen_put_levels(table_text *out, const gradin_recording *recording, const char *between);

#endif
