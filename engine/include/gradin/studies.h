/* gradin/studies.h: whole studies that join the rooms' results.
 *
 * Ownership and threads: Results live in the arena that is given and point into the model, which
 * must outlive them; layouts with noise are assessed from one thread of a process at a time, for
 * they set the threads of BLAS, and all else from any. */
#ifndef GRADIN_STUDIES_H
#define GRADIN_STUDIES_H

#include "gradin/acoustics.h"
#include "gradin/acoustics/facade.h"
#include "gradin/sightline.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { GRADIN_N_WORST = 10 };

typedef struct gradin_spread {
    double least, p10, median, p90, most; /* NAN when no seat has the figure */
} gradin_spread;

/* Level of one octave or one third octave at every seat. */
typedef struct gradin_band_level {
    int nominal_hz;
    bool is_octave;
    double *level_db;        /* [n_seat] */
    gradin_verdict *verdict; /* [n_seat] one event beside limit_db; NULL without one */
    double limit_db; /* what the hall's NC allows in that octave; NAN for a third or without NC */
    double uncertainty_db; /* standard uncertainty of one event's level in it */
    gradin_spread spread;  /* over the seats */
} gradin_band_level;

/* The octaves wanted come first, then the thirds, each from low to high. */
typedef struct gradin_band_choice {
    bool octave[GRADIN_N_OCTAVE], third[GRADIN_N_BAND];
} gradin_band_choice;

/* band_db[n_seat][GRADIN_N_BAND] taken apart: *n_level of *level in the arena. Within its limit is
 * what stays so with all of the gaps. */
GRADIN_API gradin_status gradin_band_levels(
    gradin_arena *arena, const double *band_db, int n_seat, const gradin_criterion *criterion,
    const gradin_uncertainty *uncertainty, const gradin_gaps *gaps,
    const gradin_band_choice *choice, gradin_band_level **level, int *n_level, gradin_error *error);

/* The seats of one level. */
typedef struct gradin_level_sum {
    int n_seat, n_rating[GRADIN_N_RATING];
    gradin_spread visible;
} gradin_level_sum;

/* One layout assessed. The model must outlive it. */
/* One focus area of several, as every seat sees it. */
typedef struct gradin_area_sum {
    double *visible; /* [n_seat] fraction seen, 0..1 */
    gradin_spread spread;
} gradin_area_sum;

typedef struct gradin_assessment {
    const gradin_model *model;
    gradin_sight sight;
    bool has_noise; /* the layout names an overflight and the venue has a facade */
    gradin_noise noise;
    gradin_facade facade;           /* of the noise; no part without */
    int worst_seat[GRADIN_N_WORST]; /* worst first: rating, then visible fraction, then index */
    int n_worst;
    gradin_level_sum *level; /* [model->n_level] */
    gradin_area_sum *area;   /* [n_area] */
    int n_area;              /* as the focus has areas; 0 where it has but one */
    gradin_spread visible, c_value_m, distance_m, lamax_db[GRADIN_N_SHADE_STATE], nc;
    gradin_spread systematic;   /* standard uncertainty of a seat's level, its systematic part */
    gradin_spread predicted_db; /* of noise.lamax_predicted_db, where that is there */
    double *shade_gain_db; /* [n_seat] LAmax all shades open less all shut; NULL without shades */
    gradin_spread shade_gain;
    gradin_band_level *band; /* [n_band] at the maximum, as chosen by gradin_assess_bands() */
    int n_band;
    int n_verdict[GRADIN_N_VERDICT]; /* seats by noise.verdict; 0 without noise */
    bool has_crowd;                  /* audiences were drawn */
    gradin_crowd crowd;
    gradin_spread clear_view; /* chance of a clear view over the seats */
} gradin_assessment;

/* All noughts is a good start. */
typedef struct gradin_assess_options {
    gradin_sight_options sight;
    const char *room_cache;        /* folder that keeps rooms by radiosity; NULL: none */
    struct gradin_kept_room *kept; /* of gradin/acoustics/event.h: rooms and glass; NULL: none */
} gradin_assess_options;

/* options may be NULL. Results into the arena. */
GRADIN_API gradin_status gradin_assess(gradin_arena *arena, const gradin_model *model,
                                       const gradin_assess_options *options,
                                       gradin_assessment *assessment, gradin_error *error);
/* Adds levels by band to an assessment; GRADIN_BAD_USE for one without noise. */
GRADIN_API gradin_status gradin_assess_bands(gradin_arena *arena, gradin_assessment *assessment,
                                             const gradin_band_choice *choice, gradin_error *error);

/* Rake: the risers that a block needs for a wanted C. */

enum { GRADIN_MAX_RAKE_ROW = 200 };

typedef struct gradin_rake_options {
    const char *block;
    double c_m;    /* wanted */
    double step_m; /* heights and risers are set in whole steps of this */
    gradin_rake_form form;
} gradin_rake_options;

/* In the section through the middle of the block along its facing. */
typedef struct gradin_rake_row {
    int row;
    const char *row_label;          /* as the house writes it; NULL: row */
    double d_m;                     /* eye to the point of focus, horizontally */
    double t_m;                     /* to the row in front; NAN for the first row */
    double eye_height_m;            /* above its floor */
    double floor_before_m, floor_m; /* as the layout has it, and as set */
    double ideal_riser_m; /* by the row formula without steps and limits; NAN for the first row */
    double riser_m;       /* as set; NAN for the first row */
    double c_m;           /* got in the section; NAN for the first row */
    double c_before_m;    /* of the layout as it stands, in the section */
    double c_seats_m;     /* least C of the row's seats over their real neighbours; NAN: nobody is
                             in front of any */
    int least_seat;       /* the seat that has it, index into model->seats; -1 */
    int rank, tread;      /* what carries it: index into rank[], tread from the front */
} gradin_rake_row;

/* Lift sections that carry the same rows and are set alike; a platform row is a rank of its own. */
typedef struct gradin_rake_rank {
    const int *section; /* [n_section] index into model->section, in its order; NULL: platform */
    int n_section, n_step;
    double facing_deg;
    double height_m, riser_m; /* of the lowest tread; between treads */
    double move_m;            /* longest move of a row on it */
    bool is_changed;
} gradin_rake_rank;

typedef struct gradin_rake {
    const gradin_model *model;
    gradin_rake_options wanted;
    gradin_rake_row row[GRADIN_MAX_RAKE_ROW];
    gradin_rake_rank rank[GRADIN_MAX_RAKE_ROW];
    int n_row, n_rank, block;
    double focus_z_m;
    bool is_reached;             /* in the section and at every seat that has somebody in front */
    double least_c_m;            /* got over all rows in the section */
    int least_row;               /* the row that has it */
    const char *least_row_label; /* as the house writes it; NULL: least_row */
    double least_seat_c_m;       /* got over all seats; NAN: nobody is in front of any */
    int least_seat;              /* the seat that governs, index into model->seats; -1 */
    const char *hindrance;       /* why no setting reaches the wanted C; NULL when one does */
    int n_section_moved;
    double travel_m, longest_m; /* of lift sections: sum, longest */
    int move_s;       /* of the lift move that takes longest, as gradin_moves_s() counts it */
    int n_other_seat; /* seats of other blocks on sections that move */
} gradin_rake;

/* GRADIN_BAD_INPUT for a block that is not there, has one row or stands on a tower. When no setting
 * reaches the wanted C, the best one is given: the highest C that all rows can have. */
GRADIN_API gradin_status gradin_rake_compute(gradin_arena *arena, const gradin_model *model,
                                             const gradin_rake_options *options, gradin_rake *rake,
                                             gradin_error *error);

/* What to set on the lifts for it, front rank first; none for rows on platforms. */
GRADIN_API gradin_status gradin_rake_settings(gradin_arena *arena, const gradin_rake *rake,
                                              const gradin_lift_setting **settings, int *n_setting,
                                              gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
