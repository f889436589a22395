/* gradin/acoustics/speech.h: how well an unamplified voice from the stage is understood.
 *
 * Speech bands are the 18 third octaves 160 Hz .. 8 kHz; levels in them are spectrum levels.
 *
 * Ownership and threads: A voice lives in the arena that is given; any number of threads may ask
 * one voice. */
#ifndef GRADIN_SPEECH_H
#define GRADIN_SPEECH_H

#include "gradin/acoustics.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { GRADIN_N_SPEECH_BAND = 18 };

typedef enum gradin_effort {
    GRADIN_EFFORT_NORMAL,
    GRADIN_EFFORT_RAISED,
    GRADIN_EFFORT_LOUD,
    GRADIN_EFFORT_SHOUT,
    GRADIN_N_EFFORT
} gradin_effort;

/* Standard speech spectrum level at 1 m before the talker, free field, dB. */
GRADIN_API double gradin_speech_level_db(gradin_effort effort, int band);
/* Speech intelligibility index of ANSI S3.5, 0..1, for spectrum levels of speech and noise at a
 * listener with normal hearing; -INFINITY is no noise. */
GRADIN_API double gradin_sii(const double *speech_db, const double *noise_db);

/* A voice on the stage as it reaches the seats. */
typedef struct gradin_voice {
    gradin_effort effort;
    int n_seat;
    gradin_vec3 mouth_m;
    double *useful_db; /* [n_seat][GRADIN_N_SPEECH_BAND] direct and within 50 ms */
    double *masking;   /* [n_seat][GRADIN_N_SPEECH_BAND] 10^(L/10) of what masks it always: late
                        reverberation and the hall's own noise */
    double *sii;       /* [n_seat] without traffic */
} gradin_voice;

/* The mouth is 1.5 m above the middle of the heaviest floor of the focus; without a floor it is the
 * heaviest point, or stands 1.5 m above the foot of the heaviest upright. The hall's own noise lies
 * on the curve of background_nc, 15..70; NAN is none. */
GRADIN_API gradin_status gradin_voice_make(gradin_arena *arena, const gradin_model *model,
                                           gradin_effort effort, double background_nc,
                                           gradin_voice *voice, gradin_error *error);
/* SII at a seat while noise of band_db[GRADIN_N_BAND] is on. */
GRADIN_API double gradin_voice_sii(const gradin_voice *voice, int seat, const double *band_db);

#ifdef __cplusplus
}
#endif

#endif
