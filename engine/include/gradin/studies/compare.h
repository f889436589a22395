/* gradin/studies/compare.h: layouts beside each other: which seats gain and lose by which figure,
 * what each layout offers in all, and what lies between two in hours of work. A difference that the
 * figures cannot tell from none is no difference.
 *
 * Ownership and threads: A comparison lives in the arena that is given and points into the
 * assessments and their models, which must outlive it; comparisons of different arenas may run in
 * different threads. */
#ifndef GRADIN_COMPARE_H
#define GRADIN_COMPARE_H

#include "gradin/studies.h"
#include "gradin/studies/changeover.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { GRADIN_MAX_COMPARED = 6, GRADIN_N_LARGEST = 20 };
/* Seats no further apart on plan stand in the same place; less than half a seat and a bit. */
#define GRADIN_SAME_PLACE_M 0.3

/* A figure that two seats are compared by. */
typedef enum gradin_figure {
    GRADIN_FIGURE_VISIBLE,    /* fraction of the focus seen */
    GRADIN_FIGURE_CLEAR_VIEW, /* share of drawn audiences */
    GRADIN_FIGURE_C_VALUE,    /* m */
    GRADIN_FIGURE_DISTANCE,   /* m */
    GRADIN_FIGURE_OFF_AXIS,   /* degrees */
    GRADIN_FIGURE_DOWN,       /* degrees */
    GRADIN_FIGURE_TURN,       /* degrees */
    GRADIN_FIGURE_LAMAX,      /* dB(A), shades as set */
    GRADIN_N_FIGURE
} gradin_figure;

GRADIN_API const char *gradin_figure_name(gradin_figure figure); /* "focus seen", "C-value" ... */

/* What a figure of the second layout is beside that of the first. */
typedef enum gradin_effect {
    GRADIN_EFFECT_NONE, /* one of them has no such figure */
    GRADIN_EFFECT_WORSE,
    GRADIN_EFFECT_SAME, /* no difference that can be told */
    GRADIN_EFFECT_BETTER,
    GRADIN_N_EFFECT
} gradin_effect;

/* How seats of two layouts find each other. */
typedef enum gradin_match_by {
    GRADIN_MATCH_NAME,   /* block, row and seat; then, of what is left, the place on plan */
    GRADIN_MATCH_PLACE,  /* the place on plan alone */
    GRADIN_MATCH_MIRROR, /* the place mirrored across an axis of the hall */
    GRADIN_N_MATCH_BY
} gradin_match_by;

typedef enum gradin_matched {
    GRADIN_MATCHED_NOT, /* the seat stands in one of the layouts only */
    GRADIN_MATCHED_NAME,
    GRADIN_MATCHED_PLACE,
    GRADIN_MATCHED_MIRROR,
    GRADIN_N_MATCHED
} gradin_matched;

/* One seat in two layouts, or in one of them. */
typedef struct gradin_seat_change {
    int seat[2]; /* index into the seats of the first and of the second; -1 in one: not matched */
    gradin_matched matched;
    double apart_m;                   /* on plan, after mirroring; NAN when not matched */
    double value[2][GRADIN_N_FIGURE]; /* NAN when there is none */
    double change[GRADIN_N_FIGURE];   /* second less first; NAN unless both have it */
    double tells[GRADIN_N_FIGURE];    /* a change no larger is no difference */
    gradin_effect effect[GRADIN_N_FIGURE];
    int steps; /* classes of rating by which the second is better (+) or worse (-); 0 also when the
                  figure that sets the class has not moved by what can be told */
    gradin_figure cause;  /* the figure that moved it; GRADIN_N_FIGURE when steps is 0 */
    gradin_cause hidden;  /* whose share of what is hidden changed most */
    double hidden_change; /* of the focus, second less first; NAN when not matched */
} gradin_seat_change;

/* Seats of one layout: all, or those of a block. */
typedef struct gradin_seat_sums {
    int n_seat, n_wheelchair, n_companion;
    int n_rating[GRADIN_N_RATING], n_verdict[GRADIN_N_VERDICT];
    int n_reason[GRADIN_N_REASON]; /* by the figure that sets the rating; NONE: clear */
    gradin_spread figure[GRADIN_N_FIGURE];
} gradin_seat_sums;

/* Seats of two layouts: all, or those of a block, which a matched seat has in the first. */
typedef struct gradin_change_sums {
    int n_matched[GRADIN_N_MATCHED];                /* NOT: in one of them only */
    int n_alone[2];                                 /* in the first only, in the second only */
    int n_better, n_same, n_worse;                  /* matched seats by steps */
    int n_cause[2][GRADIN_N_FIGURE];                /* of the worse and of the better */
    int n_effect[GRADIN_N_FIGURE][GRADIN_N_EFFECT]; /* matched seats by each figure */
} gradin_change_sums;

/* What two predicted levels have in common cancels in their difference. */
typedef struct gradin_common_noise {
    bool source;   /* the same levels of the same source */
    bool envelope; /* the same elements that let the same in */
    bool room;     /* the same seats in a room of the same size */
} gradin_common_noise;

typedef struct gradin_compared_pair {
    int first, second; /* index into gradin_comparison.layout */
    gradin_match_by by;
    bool is_mirror_found;       /* nobody asked for the mirror; the seats showed it */
    double axis_deg;            /* bearing of the mirror's line on plan; NAN without a mirror */
    gradin_seat_change *change; /* [n_change] seats of the first in their order, then those of the
                                   second that are not matched */
    int n_change;
    int n_elsewhere; /* matched by name, but further apart on plan than a place may be */
    gradin_change_sums all, *block; /* [n_block] */
    int largest[GRADIN_N_LARGEST];  /* index into change, the largest first */
    int n_largest;
    gradin_common_noise common;
    bool is_limit_other[GRADIN_N_REASON]; /* the two are rated by different limits of it */
    bool is_criterion_other;              /* or held against different limits of noise */
    bool is_other_venue;
    bool is_focus_other; /* the two do not name the same areas, or weigh them otherwise */
    int n_common_focus;  /* areas that both name; where that is not all of them, seats are compared
                            by these alone, with the first's weights, unless there are none */
} gradin_compared_pair;

/* What is wanted of a layout as a whole. */
typedef enum gradin_aim {
    GRADIN_AIM_SEATS,
    GRADIN_AIM_CLEAR,      /* share of the seats rated clear */
    GRADIN_AIM_GOOD,       /* share of the seats rated clear or good */
    GRADIN_AIM_NOISE,      /* level at the median seat */
    GRADIN_AIM_CHANGEOVER, /* hours into it, mean from the others */
    GRADIN_N_AIM
} gradin_aim;

typedef struct gradin_compared_layout {
    const gradin_assessment *assessment;
    gradin_seat_sums all, *block; /* [n_block] */
    double aim[GRADIN_N_AIM];     /* seats, fraction, dB(A), seconds; NAN without */
    bool is_on_front;             /* no other is ahead in an aim and behind in none */
    gradin_effect against[GRADIN_MAX_COMPARED][GRADIN_N_AIM]; /* beside each other layout */
    double tells[GRADIN_MAX_COMPARED][GRADIN_N_AIM];          /* from what difference on */
} gradin_compared_layout;

typedef struct gradin_compared_changeover {
    bool is_planned;
    char why_not[GRADIN_TEXT_CHARS]; /* "" when it is planned, and from a layout to itself */
    gradin_changeover plan;
} gradin_compared_changeover;

typedef struct gradin_comparison {
    gradin_compared_layout *layout; /* [n_layout] */
    int n_layout;
    const char **block_name; /* [n_block] of all layouts, in order of first mention */
    int n_block;
    gradin_compared_pair *pair;             /* [n_layout - 1] the first beside each other one */
    gradin_compared_changeover *changeover; /* [n_layout][n_layout] from, to */
} gradin_comparison;

/* All noughts is a good start. */
typedef struct gradin_compare_options {
    gradin_match_by by;
    bool is_without_changeovers;
    int n_node; /* of each changeover's search, 0: GRADIN_PLAN_NODES_OF_MANY */
} gradin_compare_options;

/* assessment [n], 2 to GRADIN_MAX_COMPARED of them, with the tables' arrays; for equal samples and
 * draws all see the same audiences. options may be NULL. Changeovers that cannot be planned say why
 * and are no failure. GRADIN_BAD_INPUT when the mirror is asked for and no axis of the hall matches
 * a seat. */
GRADIN_API gradin_status gradin_compare(gradin_arena *arena,
                                        const gradin_assessment *const *assessment, int n,
                                        const gradin_compare_options *options,
                                        gradin_comparison *comparison, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
