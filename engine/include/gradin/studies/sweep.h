/* gradin/studies/sweep.h: every point of a study worked out, and what all of them say together.
 * Approves nothing: a point that comes out best is a layout to look at, not one to build.
 *
 * Ownership and threads: What is returned lives in the arena that is given and points into the
 * study, which must outlive it. Points are worked out from one thread of a process at a time, for
 * rooms set the threads of BLAS. */
#ifndef GRADIN_SWEEP_H
#define GRADIN_SWEEP_H

#include "gradin/acoustics/event.h"
#include "gradin/journal.h"
#include "gradin/studies.h"
#include "gradin/studies/fit.h"
#include "gradin/study_inputs.h"

#ifdef __cplusplus
extern "C" {
#endif

/* A figure and its bounds: of ratings, what samples leave open; of levels and events, their
 * systematic part at the confidence of the brief. NAN: there is none. high INFINITY: the envelope
 * is not stated whole, and nobody knows how much more comes in. */
typedef struct gradin_known {
    double value, low, high;
} gradin_known;

typedef struct gradin_sweep_row {
    int point;
    const char *asked;          /* digest of the values, of a row from a search's journal; NULL */
    const char *refused;        /* why the point cannot stand; NULL: it can */
    const gradin_known *figure; /* [study.n_figure]; NULL when refused */
} gradin_sweep_row;

/* Stages that a key's change works out anew, 1 << gradin_stage each; all of them for a key that the
 * table of dependencies does not name. */
GRADIN_API unsigned gradin_sweep_depends(const gradin_varied *varied);

typedef struct gradin_sweep_options {
    gradin_study_reader read; /* required */
    int n_sample;             /* rays per seat; 0: GRADIN_DEFAULT_SAMPLE */
    const char *room_cache;   /* folder that keeps rooms by radiosity; NULL: none */
    bool is_from_scratch;     /* nothing is taken from another point */
    bool keeps_checks;        /* a point that opens edges or misses rough checks which the files as
                                 they are keep is one that cannot stand */
} gradin_sweep_options;

/* Rough checks of the files as they are. */
typedef struct gradin_sweep_checks {
    bool is_known;
    bool is_missed[GRADIN_N_FIT_PART];
    double open_m; /* edges without a rail, what carries the focus left out */
} gradin_sweep_checks;

struct gradin_sweep_memory;
struct gradin_sweep_rays;

/* Works points of one study out, one after the other. What a point shares with others that came
 * before is taken from them. */
typedef struct gradin_sweep {
    const gradin_study *study;
    gradin_sweep_options options;
    gradin_kept_room kept;
    gradin_sweep_checks checks;
    struct gradin_sweep_memory *memory; /* the library's own, and so are */
    struct gradin_sweep_rays *rays;     /* the last ones */
    int n_worked[GRADIN_N_STAGE];       /* how often each stage was worked out */
} gradin_sweep;

/* Readies *sweep; end it with gradin_sweep_end(), also after a failure. */
GRADIN_API gradin_status gradin_sweep_begin(const gradin_study *study,
                                            const gradin_sweep_options *options,
                                            gradin_sweep *sweep, gradin_error *error);
GRADIN_API void gradin_sweep_end(gradin_sweep *sweep);
/* One point, its row in the arena; point -1: the files as they are written. GRADIN_BAD_INPUT only
 * where no point of the study could be read; a point that cannot stand is a row that says so. */
GRADIN_API gradin_status gradin_sweep_point(gradin_arena *arena, gradin_sweep *sweep, int point,
                                            gradin_sweep_row *row, gradin_error *error);

/* All points in the order in which most is shared: order[gradin_study_points()]. */
GRADIN_API gradin_status gradin_sweep_order(gradin_arena *arena, const gradin_study *study,
                                            int **order, gradin_error *error);

/* Rows on the disk, each as soon as it is there. */

/* Digest of the study, its files as they are without any change, the count of samples and this
 * version: a journal of another one is of other figures. GRADIN_BAD_INPUT when
 * the layout cannot stand as it is written, or a key has no place in any file. */
GRADIN_API gradin_status gradin_sweep_digest(gradin_arena *arena, const gradin_study *study,
                                             const gradin_sweep_options *options, char digest[33],
                                             gradin_error *error);
/* Fills those of row[n_row], by point, whose `point` is -1 and that the journal has. A journal that
 * is not there has none. GRADIN_BAD_INPUT for the journal of another digest. */
GRADIN_API gradin_status gradin_sweep_journal_read(gradin_arena *arena, const char *path,
                                                   const gradin_study *study, const char *digest,
                                                   gradin_sweep_row *row, int n_row,
                                                   gradin_journal_lines *lines,
                                                   gradin_error *error);
/* Was a row worked out for the values that its point has in the study? One of a journal may be of
 * another search. */
GRADIN_API bool gradin_sweep_is_of(const gradin_study *study, const gradin_sweep_row *row);
/* The journal with the lines that were read, damaged ones left out, open for more. */
GRADIN_API gradin_status gradin_sweep_journal_begin(gradin_arena *arena, const char *path,
                                                    const char *digest,
                                                    const gradin_journal_lines *lines,
                                                    gradin_journal *journal, gradin_error *error);
GRADIN_API gradin_status gradin_sweep_journal_add(gradin_journal *journal,
                                                  const gradin_study *study,
                                                  const gradin_sweep_row *row, gradin_error *error);

/* What the points say together. */

/* The mean of a figure over the points where a key has one of its values; of a range without
 * values, over a quarter of the range. */
typedef struct gradin_sweep_effect {
    int key, index;    /* of the value, or quarter 0..3 */
    const char *value; /* as text; "0.5 to 0.75" of a quarter */
    int n_point;       /* that stand */
    double *mean;      /* [n_figure] NAN where no point has the figure */
} gradin_sweep_effect;

/* What a search says of its points. */
typedef struct gradin_sought {
    int n_tried;      /* points; study->n_chosen, too */
    double n_all;     /* combinations that there are, a range in steps of its own */
    bool is_all;      /* every combination was tried */
    bool is_polished; /* all steps of one key, and of two together, from the best were tried */
    gradin_sweep_row as_written; /* the caller's to set; without figures it is left out */
} gradin_sought;

typedef struct gradin_sweep_result {
    const gradin_study *study;
    const gradin_sought *sought; /* NULL: the points were not searched; the caller's to set */
    const gradin_sweep_row *row; /* [n_row] by point */
    int n_row, n_refused;
    const char **value;      /* [n_row][n_varied] of each key, as it stands in its file */
    gradin_verdict *verdict; /* [n_row] WITHIN: keeps all needs surely; OVER when refused */
    int n_verdict[GRADIN_N_VERDICT];
    int *front; /* [n_front] points that no other beats in all aims, of those that may keep the
                   needs; the first aim's best first */
    int n_front;
    int best_sure;   /* row of the best point that surely keeps the needs; -1 */
    int best_stated; /* of those whose figures as stated keep them; -1 */
    int nearest;     /* where there is none: of those that stand, the one whose figures as stated
                        miss the needs by the least part of them; -1 */
    gradin_sweep_effect *effect; /* [n_effect] by key, then value */
    int n_effect;
    double *swing; /* [n_varied][n_figure] largest mean less the least; NAN without two */
} gradin_sweep_result;

/* row[n_row] are the rows of all points, in order. */
GRADIN_API gradin_status gradin_sweep_sum(gradin_arena *arena, const gradin_study *study,
                                          const gradin_sweep_row *row, int n_row,
                                          gradin_sweep_result *result, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
