/* gradin/acoustics/noise_rating.h: what may be said of a spectrum of steady noise in one number:
 * dB(A), NC, NR, the speech interference level and the speech intelligibility index.
 *
 * Ownership and threads: Ratings live in the arena that is given and point to the spectra, which
 * must outlive them; ratings of different arenas may be worked out in different threads. */
#ifndef GRADIN_NOISE_RATING_H
#define GRADIN_NOISE_RATING_H

#include "gradin/acoustics/spectrum.h"
#include "gradin/acoustics/speech.h"

#ifdef __cplusplus
extern "C" {
#endif

/* NC curves of ANSI/ASA S12.2-2019: octave 0 is 16 Hz, 9 is 8 kHz. */
enum { GRADIN_N_NC_OCTAVE = 10 };
/* A-weighted level of noise that lies on NC 15: what a very quiet hall has of its own. */
#define GRADIN_QUIET_HALL_DBA 27.0
/* NC 15..70, held there beyond; linear between tabled curves. NAN for an octave not there. */
GRADIN_API double gradin_room_nc_level_db(double nc, int octave);
/* The lowest curve that no octave of octave_db[GRADIN_N_NC_OCTAVE] exceeds; NAN marks one that is
 * not given. -INFINITY below NC 15, INFINITY above NC 70, NAN without any octave. *octave (may be
 * NULL) gets the one that sets it, or -1. */
GRADIN_API double gradin_room_nc(const double *octave_db, int *octave);

/* NR curves of ISO/R 1996: octave 0 is 31.5 Hz, 8 is 8 kHz, as gradin_nr_level_db() has them. */
enum { GRADIN_N_NR_OCTAVE = 9 };
/* The same by octave_db[GRADIN_N_NR_OCTAVE]: -INFINITY below NR 0, INFINITY above NR 130. */
GRADIN_API double gradin_nr(const double *octave_db, int *octave);

/* What a criterion makes of a spectrum; octaves are wide ones. */
typedef struct gradin_criterion_rating {
    double value;    /* as by gradin_room_nc() or gradin_nr(); NAN when not rated */
    int octave;      /* that sets it, or -1 */
    int first, last; /* octaves that it was worked out over */
} gradin_criterion_rating;

typedef struct gradin_spectrum_rating {
    const gradin_spectrum *spectrum;
    int first_band, last_band;              /* wide bands given; octaves: their middle thirds */
    double octave_db[GRADIN_N_WIDE_OCTAVE]; /* NAN where not given or not whole */
    double a_db;                            /* A-weighted, of the bands given */
    double sil_db;                          /* NAN without the octaves 500 to 4000 Hz */
    gradin_criterion_rating nc, nr;         /* not rated without the octaves 125 to 4000 Hz */
    double sii;                             /* NAN without 160 Hz to 5 kHz */
    bool is_top_held;                       /* the index takes 6.3 and 8 kHz as at 5 kHz */
} gradin_spectrum_rating;

typedef struct gradin_spectrum_sheet {
    const gradin_spectra *source;
    const gradin_spectrum_rating *rating; /* [source->n_spectrum] */
    const gradin_spectrum *speech;        /* that the index is for, or NULL: the standard one */
    gradin_effort effort;                 /* of the standard one */
} gradin_spectrum_sheet;

/* Rates every spectrum. The index is that of speech (NULL: the standard spectrum at this effort, 1
 * m before the talker in a free field) under the noise, for normal hearing. Results into the arena.
 * GRADIN_BAD_INPUT when the speech lacks bands of 160 Hz to 5 kHz. */
GRADIN_API gradin_status gradin_spectra_rate(gradin_arena *arena, const gradin_spectra *spectra,
                                             const gradin_spectrum *speech, gradin_effort effort,
                                             gradin_spectrum_sheet *sheet, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
