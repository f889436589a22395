/* gradin/acoustics/speech.h: how well an unamplified voice from the stage is understood.
 *
 * Speech bands are the 18 third octaves 160 Hz .. 8 kHz; levels in them are spectrum levels.
 *
 * Ownership and threads: A voice lives in the arena that is given; any number of threads may ask
 * one voice. */
#ifndef GRADIN_SPEECH_H
#define GRADIN_SPEECH_H

#include "gradin/acoustics.h"
#include "gradin/acoustics/traffic.h"

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

/* Its thirds, level_db[GRADIN_N_BAND]; octaves are even over their hertz. */
GRADIN_API void gradin_background_levels(const gradin_background *background, double *level_db);
/* A-weighted sum of the thirds; NAN for NULL. */
GRADIN_API double gradin_background_dba(const gradin_background *background);

/* A voice on the stage as it reaches the seats, beside each background. */
typedef struct gradin_voice {
    gradin_effort effort;
    int n_seat, n_background; /* at least 1: silence when none is given */
    gradin_vec3 mouth_m;
    double *useful_db; /* [n_seat][GRADIN_N_SPEECH_BAND] direct and within 50 ms */
    double *masking;   /* [n_background][n_seat][GRADIN_N_SPEECH_BAND] 10^(L/10) of what masks it
                        always: late reverberation and the hall's own noise */
    double *sii;       /* [n_background][n_seat] without traffic */
} gradin_voice;

/* The mouth is 1.5 m above the middle of the heaviest floor of the focus; without a floor it is the
 * heaviest point, or stands 1.5 m above the foot of the heaviest upright. background[n_background],
 * at most GRADIN_MAX_BACKGROUND; NULL and 0 are silence. */
GRADIN_API gradin_status gradin_voice_make(gradin_arena *arena, const gradin_model *model,
                                           gradin_effort effort,
                                           const gradin_background *background, int n_background,
                                           gradin_voice *voice, gradin_error *error);
/* SII at a seat beside a background while noise of band_db[GRADIN_N_BAND] is on. */
GRADIN_API double gradin_voice_sii(const gradin_voice *voice, int background, int seat,
                                   const double *band_db);

#ifdef __cplusplus
}
#endif

#endif
