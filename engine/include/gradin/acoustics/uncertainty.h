/* gradin/acoustics/uncertainty.h: how well a level inside is known, and what may be said of it
 * beside a limit.
 *
 * Standard uncertainties in dB. What is systematic moves all events of a hall alike: the stated
 * level of a source, the envelope, the room. Scatter is that of one event about its class.
 *
 * Ownership and threads: plain values; any number of threads. */
#ifndef GRADIN_UNCERTAINTY_H
#define GRADIN_UNCERTAINTY_H

#include "gradin/acoustics/room.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct gradin_uncertainty {
    double source_db;                  /* of a class's level as stated */
    double scatter_db;                 /* of one event about that level */
    double room_db;                    /* of the way from the envelope to a seat */
    double envelope_db[GRADIN_N_BAND]; /* of what the envelope lets in */
} gradin_uncertainty;

/* Envelope's part at a sum of bands, dB unweighted [GRADIN_N_BAND], A-weighted: the bands err
 * together (ISO 12999-1:2020, annex B), each by its share of the energy. */
GRADIN_API double gradin_envelope_uncertainty_db(const gradin_uncertainty *uncertainty,
                                                 const double *band_db);
/* Systematic part of that A-weighted level. */
GRADIN_API double gradin_systematic_db(const gradin_uncertainty *uncertainty,
                                       const double *band_db);
/* Of one event's level in bands first to last alone, alike in energy: systematic and scatter. */
GRADIN_API double gradin_band_uncertainty_db(const gradin_uncertainty *uncertainty, int first,
                                             int last);

/* Chance that what is predicted excess_db over a limit is over it. No uncertainty: 0 or 1. */
GRADIN_API double gradin_chance_over(double excess_db, double uncertainty_db);
/* One-sided coverage factor k: a chance of `confidence`, 0.5 to below 1, lies within +k. */
GRADIN_API double gradin_coverage_factor(double confidence);

typedef enum gradin_verdict {
    GRADIN_VERDICT_NONE, /* no limit, or no figure */
    GRADIN_VERDICT_WITHIN,
    GRADIN_VERDICT_NEAR, /* too near to tell */
    GRADIN_VERDICT_OVER,
    GRADIN_N_VERDICT
} gradin_verdict;

/* "", "within", "too near to tell", "over". */
GRADIN_API const char *gradin_verdict_name(gradin_verdict verdict);
/* Over when that has at least the chance `confidence`, within when being within has it. */
GRADIN_API gradin_verdict gradin_verdict_of(double excess_db, double uncertainty_db,
                                            double confidence);
/* The same where up to adds_db of unknown size is not in the level: within only if it stays so with
 * all of it. */
GRADIN_API gradin_verdict gradin_verdict_despite(double excess_db, double adds_db,
                                                 double uncertainty_db, double confidence);
/* Of a seat held against two limits: over when over one, within when within all that there are. */
GRADIN_API gradin_verdict gradin_verdict_both(gradin_verdict a, gradin_verdict b);

#ifdef __cplusplus
}
#endif

#endif
