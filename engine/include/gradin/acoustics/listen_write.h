/* gradin/acoustics/listen_write.h: a recording as a sound file, and what belongs beside it.
 *
 * Ownership and threads: Texts and bytes live in the arena that is given, or become whole files;
 * any number of threads may write one recording, each with an arena of its own. */
#ifndef GRADIN_LISTEN_WRITE_H
#define GRADIN_LISTEN_WRITE_H

#include "gradin/acoustics/listen.h"

#ifdef __cplusplus
extern "C" {
#endif

/* RIFF WAVE, PCM of 24 bits, mono, with its levels in an INFO chunk. */
GRADIN_API gradin_status gradin_listen_wav(gradin_arena *arena, const gradin_recording *recording,
                                           unsigned char **bytes, size_t *size,
                                           gradin_error *error);
/* What the file holds, its levels, how to play it and cautions; at most 80 columns. wav_name is how
 * the text calls the file. */
GRADIN_API gradin_status gradin_listen_text(gradin_arena *arena, const gradin_recording *recording,
                                            const char *wav_name, char **text, gradin_error *error);
/* The same as JSON; schema in reference/listen-schema.json. */
GRADIN_API gradin_status gradin_listen_json(gradin_arena *arena, const gradin_recording *recording,
                                            const char *wav_name, char **text, size_t *size,
                                            gradin_error *error);
/* One line per second of the overflight: levels by band. */
GRADIN_API gradin_status gradin_listen_csv(gradin_arena *arena, const gradin_recording *recording,
                                           char **text, size_t *size, gradin_error *error);
/* The sound file at wav_path, which ends in .wav, and beside it the text and the table, in files of
 * its name that end in .txt and .csv. */
GRADIN_API gradin_status gradin_listen_write(const gradin_recording *recording,
                                             const char *wav_path, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
