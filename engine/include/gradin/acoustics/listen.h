/* gradin/acoustics/listen.h: the overflight at a seat as sound: noise in third octaves that follows
 * the levels worked out for the seat, with or without noise shaped as a voice on the stage, behind
 * a tone of known level.
 *
 * Ownership and threads: A recording lives in the arena that is given and points to the model,
 * which must outlive it; recordings are made from one thread of a process at a time, for the room
 * sets the threads of BLAS. */
#ifndef GRADIN_LISTEN_H
#define GRADIN_LISTEN_H

#include "gradin/acoustics/event.h"

#ifdef __cplusplus
extern "C" {
#endif

enum {
    GRADIN_LISTEN_RATE_HZ = 48000,
    GRADIN_LISTEN_TONE_S = 5,  /* at the head of a recording */
    GRADIN_LISTEN_PAUSE_S = 1, /* behind the tone */
    GRADIN_LISTEN_LEAST_S = 2,
    GRADIN_LISTEN_MOST_S = 120,
    GRADIN_N_LISTEN_BAND = 23 /* 50 Hz .. 8 kHz */
};
#define GRADIN_LISTEN_TONE_HZ 1000.0
#define GRADIN_LISTEN_TONE_DB 70.0

typedef struct gradin_listen_options {
    const char *seat; /* required: its name */
    gradin_shade_state shades;
    bool has_voice;
    gradin_effort effort;     /* of the voice */
    int length_s;             /* GRADIN_LISTEN_LEAST_S .. _MOST_S, about the seat's maximum */
    double full_scale_db;     /* level of a sine of full amplitude */
    uint32_t seed;            /* another one gives other noise of the same levels */
    const char *cache_folder; /* as for gradin_room_prepare(); NULL: none */
} gradin_listen_options;

/* One second of the overflight. */
typedef struct gradin_listen_second {
    double from_s;                 /* in the recording */
    double event_s;                /* the same as the track counts it */
    double a_dba;                  /* energy mean over the second, no voice */
    double band_db[GRADIN_N_BAND]; /* the same by band */
} gradin_listen_second;

typedef struct gradin_recording {
    const gradin_model *model;
    int seat; /* index into the model's seats */
    gradin_shade_state shades;
    bool has_voice;
    gradin_effort effort;
    double full_scale_db;
    uint32_t seed;
    int n_sample;                          /* mono, GRADIN_LISTEN_RATE_HZ */
    const float *sample;                   /* [n_sample] 1 is full scale */
    int n_second;                          /* of the overflight, which ends the recording */
    const gradin_listen_second *second;    /* [n_second] */
    double voice_db[GRADIN_N_LISTEN_BAND]; /* of the voice at the seat, with its reverberation;
                                              -INFINITY without */
    double voice_dba;
    double most_dba;                    /* of the seconds */
    double peak_db;                     /* highest sample, over full scale */
    gradin_gaps gaps;                   /* what of the envelope is not in it */
    char cache_note[GRADIN_TEXT_CHARS]; /* as of the room */
    char room_note[GRADIN_TEXT_CHARS];  /* what to know of the room's method, or "" */
} gradin_recording;

/* Needs model->pass and an envelope. GRADIN_BAD_INPUT for a seat that is not there, or when samples
 * go beyond full scale. Time weighting of the pass is left out. The same bytes for any thread
 * count.
 */
GRADIN_API gradin_status gradin_listen(gradin_arena *arena, const gradin_model *model,
                                       const gradin_listen_options *options,
                                       gradin_recording *recording, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
