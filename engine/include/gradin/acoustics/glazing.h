/* gradin/acoustics/glazing.h: build-ups of glass compared: R by band, measured and predicted, every
 * rating, critical frequencies, resonances, mass. Part of the acoustics room.
 *
 * Ownership and threads: Results live in the arena that is given and point to the build-ups, which
 * must outlive them; comparisons of different arenas may run in different threads. */
#ifndef GRADIN_GLAZING_H
#define GRADIN_GLAZING_H

#include "gradin/acoustics.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Ratings of a whole curve. */

/* Enlarged frequency ranges of the spectrum adaptation terms, ISO 717-1 Annex B. */
typedef enum gradin_range {
    GRADIN_RANGE_50_3150,
    GRADIN_RANGE_50_5000,
    GRADIN_RANGE_100_5000,
    GRADIN_N_RANGE
} gradin_range;

typedef struct gradin_enlarged {
    bool applies;            /* every band of the range is given */
    int c_db, ctr_db;        /* C50-3150, Ctr,50-3150 ... */
    double x_c_db, x_ctr_db; /* before rounding */
} gradin_enlarged;

/* r_db[GRADIN_N_BAND], NAN where not given; rating_db is Rw. */
GRADIN_API gradin_enlarged gradin_adapt_enlarged(const double *r_db, gradin_range range,
                                                 int rating_db);

typedef struct gradin_ratings {
    bool has_rw;
    gradin_weighted rw; /* when has_rw: thirds, or octaves for a curve of octaves */
    gradin_enlarged enlarged[GRADIN_N_RANGE]; /* none for octaves */
    bool has_stc, has_oitc;                   /* thirds with every band of the rating */
    int stc, oitc;
    int stc_limit_hz; /* nominal band that the 8 dB rule stops, 0 when the sum of 32 dB does */
} gradin_ratings;

/* r_db[GRADIN_N_BAND], NAN where not given; octaves stand in their middle thirds. Whatever rating
 * the bands allow: Rw needs 100 to 3150 Hz (octaves 125 to 2000 Hz), STC 125 to 4000 Hz, OITC 80 to
 * 4000 Hz. */
GRADIN_API gradin_ratings gradin_rate_curve(const double *r_db, bool is_octave);

/* First and last band of a measured build-up. GRADIN_BAD_INPUT when nothing is measured, a band
 * between them is missing or one is no finite number. */
GRADIN_API gradin_status gradin_measured_run(const gradin_buildup *buildup, int *first, int *last,
                                             gradin_error *error);
/* Measured r_db[GRADIN_N_BAND]; beyond the run the predicted curve moved to its nearest three
 * bands, or without layers the nearest value. */
GRADIN_API gradin_status gradin_measured_fill(const gradin_buildup *buildup, double *r_db,
                                              gradin_error *error);

/* Standard uncertainty u_db[GRADIN_N_BAND] of the index of a build-up, systematic: of laboratories
 * for a measured one (ISO 12999-1), of the method for a predicted one. Returns its basis, a clause.
 */
GRADIN_API const char *gradin_glazing_uncertainty_db(const gradin_buildup *buildup, double *u_db);

/* What holds the panes of a build-up, decided where it is left to the gap. */
GRADIN_API gradin_frames gradin_glazing_frames(const gradin_buildup *buildup);

enum { GRADIN_N_OBLIQUE = 46, GRADIN_N_ALONG = 7 };

/* Power that a pane passes of what a plane wave carries through a square metre across its path,
 * over the pane's area, at even steps of the angle from the normal to grazing; and what a wave that
 * runs along the width .. the height of the pane passes more than the mean over these. */
typedef struct gradin_oblique {
    double passed[GRADIN_N_BAND][GRADIN_N_OBLIQUE];
    double along[GRADIN_N_BAND][GRADIN_N_OBLIQUE][GRADIN_N_ALONG];
} gradin_oblique;

/* Of a pane of a size. Its diffuse mean is the index that gradin_glazing_finite_r_db() gives. */
GRADIN_API gradin_status gradin_oblique_make(const gradin_buildup *buildup, double width_m,
                                             double height_m, gradin_oblique *oblique,
                                             gradin_error *error);
/* Power passed is intensity x area x this. angle_rad from the normal, 0 to pi/2; along_rad is the
 * direction of the wave's trace on the pane, 0 along its width, pi/2 along its height, NAN for the
 * mean over all. Finite at grazing. */
GRADIN_API double gradin_oblique_passed(const gradin_oblique *oblique, int band, double angle_rad,
                                        double along_rad);
/* R(theta) = -10 lg(passed/cos theta); -INFINITY at grazing, where no power falls on the pane. */
GRADIN_API double gradin_oblique_r_db(const gradin_oblique *oblique, int band, double angle_rad,
                                      double along_rad);

/* Constants fitted to a measurement. */

typedef struct gradin_glazing_fit {
    const gradin_buildup *buildup;
    double loss;                       /* of every plate */
    double shear_pa;                   /* of every interlayer; NAN without one */
    bool is_at_bound;                  /* one of them stopped at the end of its range */
    double rms_before_db, rms_db;      /* of predicted less measured, before and after */
    double residual_db[GRADIN_N_BAND]; /* predicted less measured, after */
} gradin_glazing_fit;

/* Needs layers and measured thirds, else GRADIN_BAD_INPUT. */
GRADIN_API gradin_status gradin_glazing_fit_make(const gradin_buildup *buildup,
                                                 gradin_glazing_fit *fit, gradin_error *error);
/* Puts the fitted values into copies of all build-ups: loss into plates of the density and modulus
 * of the fitted pane's first plate, shear modulus into interlayers. */
GRADIN_API gradin_status gradin_glazing_fit_apply(gradin_arena *arena,
                                                  const gradin_glazing_fit *fit,
                                                  gradin_buildups *buildups, gradin_error *error);

/* A comparison. */

/* How the predicted curves are taken: zero for a tight pane of the usual sample without a shade. */
typedef struct gradin_glazing_view {
    double width_m, height_m;  /* of the pane; 0: those of the usual sample */
    bool is_in_place;          /* with the perimeter path of a window in place */
    const gradin_shade *shade; /* shut behind the glass, or NULL */
} gradin_glazing_view;

/* A window in place passes sound round its perimeter, which a sample sealed into a laboratory's
 * opening does not: a joint of this sound reduction per metre, one value for all, round the pane
 * or, when none is given, round one of this size. It was chosen on the single glass of UFC
 * 3-450-01: a fit (reference/ufc-glass). */
#define GRADIN_IN_PLACE_JOINT_DB 44.0
#define GRADIN_IN_PLACE_WIDTH_M 1.25
#define GRADIN_IN_PLACE_HEIGHT_M 1.5

/* R of a pane with a joint round it: tau + perimeter/area 10^(-joint/10). */
GRADIN_API double gradin_jointed_r_db(double r_db, double joint_r_db, double width_m,
                                      double height_m);

enum { GRADIN_MAX_GLAZED = 12, GRADIN_MAX_PANEL = 24 };

typedef struct gradin_glazed_curve {
    bool is_given;
    bool is_octave;
    double r_db[GRADIN_N_BAND];           /* NAN where not given */
    double uncertainty_db[GRADIN_N_BAND]; /* standard, systematic; NAN as r_db */
    const char *uncertainty_basis;
    gradin_ratings ratings;
} gradin_glazed_curve;

typedef struct gradin_glazed {
    const gradin_buildup *buildup;
    gradin_glazed_curve measured, predicted;
    double difference_db[GRADIN_N_BAND]; /* predicted less measured; NAN where not both */
    double mean_abs_db;                  /* of it; NAN without */
    double mass_kgm2;                    /* NAN without layers */
    double shear_pa, shear_loss; /* of its first interlayer that knows frequency, at 1 kHz and the
                                    build-up's temperature; NAN without */
    gradin_frames frames;        /* that hold its panes */
    int n_panel;                 /* plates, or plates joined by interlayers */
    double critical_hz[GRADIN_MAX_PANEL]; /* [n_panel]; INFINITY for a limp sheet */
    int n_resonance;
    double resonance_hz[GRADIN_MAX_PANEL]; /* [n_resonance] mass-air-mass, normal incidence, rising
                                            */
} gradin_glazed;

typedef struct gradin_glazing_sheet {
    const gradin_buildups *source;
    const gradin_glazed *glazed; /* [n_glazed] in the order of the build-ups */
    int n_glazed;
    gradin_glazing_view view;
    const gradin_glazing_fit *fit; /* whose values the predicted curves use, or NULL */
} gradin_glazing_sheet;

/* Everything about the build-ups, at most GRADIN_MAX_GLAZED of them, by the view (NULL: the zero
 * one); results into the arena, which and the build-ups must outlive the sheet. */
GRADIN_API gradin_status gradin_glazing_compare(gradin_arena *arena,
                                                const gradin_buildups *buildups,
                                                const gradin_glazing_view *view,
                                                gradin_glazing_sheet *sheet, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
