/* gradin/sightline.h: what each seat sees. C-value and rake formulas, occlusion of the focus by
 * cause, viewing angles, rating.
 *
 * Ownership and threads: Results live in the arena that is given and point into the model, which
 * must outlive them; computations of different arenas may run in different threads. */
#ifndef GRADIN_SIGHTLINE_H
#define GRADIN_SIGHTLINE_H

#include "gradin/model.h"

#ifdef __cplusplus
extern "C" {
#endif

/* C-value and rake (plane formulas). */

/* C = D(N+R)/(D+T) - R: height by which the rear eye's ray to the focus passes above the front eye.
 * d_m, r_m: front eye to focus, horizontal and vertical; n_m riser; t_m row depth. NAN when
 * d_m + t_m <= 0. */
GRADIN_API double gradin_c_value_m(double d_m, double r_m, double n_m, double t_m);
/* The riser that gives c_m: N = (R+C)(D+T)/D - R. NAN when d_m <= 0. */
GRADIN_API double gradin_riser_m(double c_m, double d_m, double r_m, double t_m);

/* Constant-C rake: eye heights above focus r_m[n_row] of rows at d_1_m, d_1_m + t_m, ... with the
 * first at r_1_m. */
GRADIN_API void gradin_rake_constant_c(double d_1_m, double r_1_m, double t_m, double c_m,
                                       int n_row, double *r_m);

typedef enum gradin_rake_form {
    GRADIN_RAKE_CONSTANT_C,    /* every row gets the wanted C with the least rise */
    GRADIN_RAKE_CONSTANT_RISER /* one riser for all rows; the back row decides */
} gradin_rake_form;

GRADIN_API const char *
gradin_rake_form_name(gradin_rake_form form); /* "constant C", "constant riser" */

/* Per seat. */

typedef enum gradin_c_case {
    GRADIN_C_NONE,          /* nobody between the eye and the focus in its viewing plane */
    GRADIN_C_ROW_IN_FRONT,  /* a head of the row in front stands in the viewing plane */
    GRADIN_C_TWO_AHEAD,     /* the row in front leaves a gap; a head two rows ahead stands in it */
    GRADIN_C_BETWEEN_HEADS, /* both rows leave a gap; C against the row in front is given */
    GRADIN_C_ACROSS_AISLE,  /* the same as the row in front, but it sits across an aisle */
    GRADIN_N_C_CASE
} gradin_c_case;

GRADIN_API const char *gradin_c_case_name(gradin_c_case c_case); /* "none", "row in front", ... */

/* A point of the line to which C is measured (gradin_model.c_line). */
typedef struct gradin_c_point {
    gradin_vec3 at_m;
    double ahead_m; /* on plan, from where it is looked for */
    int area;       /* index into gradin_model.focus whose edge it is of; -1: the layout's c_line */
} gradin_c_point;

/* Where the plan ray from_m + t*way, t >= 0, way of length 1, first meets the line; false when it
 * does not. An origin over a floor area meets it at once. */
GRADIN_API bool gradin_c_line_meet(const gradin_model *model, gradin_vec2 from_m, gradin_vec2 way,
                                   gradin_c_point *point);
/* The point of the line that is nearest on plan; false without any. */
GRADIN_API bool gradin_c_line_nearest(const gradin_model *model, gradin_vec2 from_m,
                                      gradin_c_point *point);

GRADIN_API const char *gradin_reason_name(gradin_reason reason);

/* The height by which the ray to the point of focus passes over something, and its D, N, R, T, all
 * [n_seat]: D, R from the top of that something, N the eye above it. */
typedef struct gradin_clearance {
    double *c_m, *d_m, *n_m, *r_m, *t_m;
} gradin_clearance;

/* Which of two occluders hides more is not said where they differ by less than this fraction of the
 * focus: 1,024 samples do not tell them apart (measured by tests/bench/sampling.c). */
enum { GRADIN_NONE_CLEARLY = -2 };
#define GRADIN_TELLS_APART 0.003

/* All arrays are [n_seat] unless said; a figure that does not apply is NAN. */
typedef struct gradin_sight {
    int n_seat, n_sample;              /* samples per seat, over all focus areas */
    double *visible;                   /* fraction of the focus seen, 0..1, by weight */
    int n_area;                        /* focus areas */
    double *area_visible;              /* [n_seat][n_area] fraction of each area seen, 0..1 */
    int area_sample[GRADIN_MAX_FOCUS]; /* [n_area] samples of each area */
    double *hidden;       /* [n_seat][GRADIN_N_CAUSE] fraction hidden, by first occluder met */
    int *worst_occluder;  /* index into model->occluder_name; -1 when none hides GRADIN_TELLS_APART,
                             GRADIN_NONE_CLEARLY when a second one hides as much within that */
    double *worst_hidden; /* fraction that the worst occluder hides */
    gradin_c_case *c_case;         /* which case c_m is */
    double *c_m;                   /* the C-value that applies */
    double *d_m, *n_m, *r_m, *t_m; /* its D, N, R, T */
    double *c_row_m;               /* C against the row in front, whatever the stagger */
    double *c_two_m;               /* C against two rows ahead */
    int *front_seat;               /* seat behind which c_m was taken, -1 */
    int *c_area; /* index into model->focus to whose edge C was taken; -1: the layout's c_line */
    double *window_deg; /* free angle between the two heads of the row in front beside the plane of
                           view; 0 when a head stands in it, NAN without a head on both sides */
    gradin_clearance over_rail;     /* over the top of the rail that the ray passes most closely */
    int *rail;                      /* that rail, index into model->rail, -1 */
    gradin_clearance over_standing; /* wheelchair places: over the eye of a person who stands up in
                                       the row in front */
    double *c_heads; /* fraction that heads hide of the floor that C is measured to, 0..1; NULL:
                        that of the whole focus is taken for C's class */
    double *both_eyes, *one_eye; /* fraction of the focus that both eyes see, and one alone; NULL
                                    without audience.eye_distance_m */
    double *distance_m;          /* to the middle of the floors by size, in space */
    double *nearest_m;           /* to the floors' nearest edge, on plan */
    double *off_axis_deg; /* between the stage axis and the line from there to the seat, on plan */
    double *down_deg;     /* from the eye down to there; negative looks up */
    double *turn_deg;     /* head turn from the seat's facing to there, 0..180 */
    double *width_deg;    /* width of the floors on plan, 0..360; no floor: uprights, else points */
    gradin_rating *rating;
    gradin_reason *reason;              /* figure that sets the rating; NONE when clear */
    int n_rating[GRADIN_N_RATING];      /* seats by rating */
    gradin_rating *c_class;             /* class of C by itself; GRADIN_N_RATING: nobody in front */
    int n_c_class[GRADIN_N_RATING + 1]; /* seats by that class, last those with nobody in front */
} gradin_sight;

enum { GRADIN_DEFAULT_SAMPLE = 1024 };

typedef struct gradin_sight_options {
    int n_sample; /* over all floors of the focus, 1..GRADIN_MAX_SAMPLE; 0: GRADIN_DEFAULT_SAMPLE */
    int n_draw;   /* audiences that gradin_assess() draws, 0..GRADIN_MAX_DRAW */
    bool use_reference;                                /* brute force, for tests */
    void (*progress)(void *user, int done, int total); /* may be NULL; called from one thread */
    void *progress_user;
} gradin_sight_options;

/* Results into the arena. The same for any thread count. n_draw is left to gradin_crowd_compute().
 */
GRADIN_API gradin_status gradin_sight_compute(gradin_arena *arena, const gradin_model *model,
                                              const gradin_sight_options *options,
                                              gradin_sight *sight, gradin_error *error);

/* c_m[n] of gradin_sight for these seats alone; NAN where nobody is in front. */
GRADIN_API gradin_status gradin_c_of_seats(const gradin_model *model, const int *seat, int n,
                                           double *c_m, gradin_error *error);

/* Real audiences. */

enum { GRADIN_MAX_DRAW = 10000 };

/* Draws of a whole audience from model->audience.population: eye heights, heads and shoulders of
 * everybody anew in each draw, all seats taken. All [n_seat]. */
typedef struct gradin_crowd {
    int n_seat, n_draw, n_sample;
    double clear_limit;   /* visible fraction from which a view counts as clear */
    double *clear;        /* share of draws with a clear view, 0..1 */
    double *clear_se;     /* its standard error */
    double *median, *p10; /* visible fraction: median, 10th percentile over the draws */
} gradin_crowd;

typedef struct gradin_crowd_options {
    int n_draw;                                        /* 1..GRADIN_MAX_DRAW */
    int n_sample;                                      /* per seat and draw; 0 means 1024 */
    uint32_t seed;                                     /* the same seed gives the same audiences */
    void (*progress)(void *user, int done, int total); /* in draws; may be NULL */
    void *progress_user;
} gradin_crowd_options;

GRADIN_API gradin_status gradin_crowd_compute(gradin_arena *arena, const gradin_model *model,
                                              const gradin_crowd_options *options,
                                              gradin_crowd *crowd, gradin_error *error);

/* Classes and ratings of all seats by the model's limits: the class of C by itself, and the worst
 * of the figures that count. crowd may be NULL: then nothing is known of drawn audiences.
 * gradin_sight_compute() has called it without. */
GRADIN_API gradin_status gradin_sight_rate(const gradin_model *model, const gradin_crowd *crowd,
                                           gradin_sight *sight, gradin_error *error);

/* Rails and overhangs: what if. */

/* One rail that hides something from one seat, by GRADIN_DEFAULT_SAMPLE samples. */
typedef struct gradin_rail_line {
    int seat, rail;
    double hides;      /* fraction of the focus whose rays meet this rail first */
    double gives_back; /* fraction that would be seen as well if this rail alone were away */
    double whole_m;    /* its highest top above its foot that hides nothing of what all else, as it
                          is, leaves to be seen; INFINITY when its height changes nothing */
} gradin_rail_line;

/* How high the rail that matters most to a seat could be, taken as filled up to its top. A figure
 * of geometry and no advice: local code and the venue's own minimum (gradin_model.rail_min_m)
 * decide. All [n_seat] but the lines. */
typedef struct gradin_rail_limits {
    int n_seat;
    int *rail;       /* index into model->rail of the rail that hides most; where none hides, of the
                        one with the least to spare; -1: none */
    double *whole_m; /* its highest top above its foot that hides nothing, as in its line; where
                        none hides, nothing of the focus */
    double *lost_m;  /* its top that hides all of it; NAN when the rail is too short for that */
    gradin_rail_line *line; /* [n_line] by seat, what hides most first */
    int n_line;
} gradin_rail_limits;

GRADIN_API gradin_status gradin_rail_limits_compute(gradin_arena *arena, const gradin_model *model,
                                                    gradin_rail_limits *limits,
                                                    gradin_error *error);

typedef enum gradin_top { GRADIN_TOP_ARCH, GRADIN_TOP_SET, GRADIN_N_TOP } gradin_top;

/* A row under overhangs: decks and soffits whose underside is above the eye. */
typedef struct gradin_overhang_row {
    int block, row, n_seat;
    const char *row_label;       /* as the house writes it; NULL: row */
    int n_lost[GRADIN_N_TOP];    /* seats that do not see all of the top */
    double seen_m[GRADIN_N_TOP]; /* height seen there by its worst seat, at most the top; NAN when
                                    there is no such thing */
    int occluder[GRADIN_N_TOP];  /* what cuts that seat's view, index into model->scene; -1 */
} gradin_overhang_row;

typedef struct gradin_overhangs {
    gradin_overhang_row *row; /* [n_row] by block and row */
    int n_row;
    bool has[GRADIN_N_TOP]; /* an arch header; set pieces */
} gradin_overhangs;

GRADIN_API gradin_status gradin_overhangs_compute(gradin_arena *arena, const gradin_model *model,
                                                  gradin_overhangs *overhangs, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
