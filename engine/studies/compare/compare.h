/* studies/compare/compare.h: the parts of a comparison. */
#ifndef GRADIN_STUDIES_COMPARE_H
#define GRADIN_STUDIES_COMPARE_H

#include "gradin/studies/compare.h"

/* match.c */

/* Where the seats of the first layout are looked for in the second. */
typedef struct compare_way {
    bool is_mirrored;
    double axis_deg;          /* bearing of the mirror's line */
    gradin_vec2 from_m, to_m; /* middle of the first hall and of the second */
} compare_way;

/* The seats of `to` that those of `from` are: partner[n of from], -1 without. matched gets how. */
typedef struct compare_partners {
    int *partner, *back; /* [n of from], [n of to] */
    gradin_matched *matched;
    double *apart_m;
    int n;
} compare_partners;

gradin_vec2 compare_moved(const compare_way *way, gradin_vec3 at_m);
gradin_status compare_match_names(gradin_arena *arena, const gradin_seats *from,
                                  const gradin_seats *to, compare_partners *partners);
/* Of those without a partner yet; scratch in the arena. */
gradin_status compare_match_places(gradin_arena *arena, const gradin_seats *from,
                                   const gradin_seats *to, const compare_way *way,
                                   compare_partners *partners);
gradin_status compare_no_partners(gradin_arena *arena, int n_from, int n_to,
                                  compare_partners *partners);

/* mirror.c: matches by the rule; fills by, is_mirror_found, axis_deg and n_elsewhere of the pair.
 */
gradin_status compare_match(gradin_arena *arena, const gradin_model *from, const gradin_model *to,
                            gradin_match_by by, compare_partners *partners,
                            gradin_compared_pair *pair, gradin_error *error);

/* focus.c: what two layouts are both asked to see. */

typedef struct compare_focus {
    bool is_other;                      /* they are not asked to see the same */
    bool is_part;                       /* and are compared by what is common, which is not all */
    int n, area[2][GRADIN_MAX_FOCUS];   /* areas of the first and of the second that are common */
    double weight[2][GRADIN_MAX_FOCUS]; /* by area of each model; 0: not common */
} compare_focus;

compare_focus compare_find_focus(const gradin_model *a, const gradin_model *b);
/* The share that a seat of the first (of 0) or of the second (of 1) sees of it. */
double compare_seen(const compare_focus *focus, const gradin_assessment *a, int of, int seat);

/* tells.c: which differences can be told. */

/* Standard error of a visible share by the samples of each area; weight[n_focus] in place of
 * the areas' own, or NULL. */
double compare_sample_error(const gradin_assessment *a, const double *weight);
/* Fraction of the seats of which samples or draws leave open whether they are rated so well. */
double compare_class_tells(const gradin_assessment *a, gradin_rating rating);
gradin_common_noise compare_common_noise(const gradin_assessment *a, const gradin_assessment *b);
/* Of the levels at seat i of a and seat j of b; seats of -1: in the mean of all. */
double compare_noise_tells(const gradin_assessment *a, int i, const gradin_assessment *b, int j,
                           const gradin_common_noise *common);
/* tells[GRADIN_N_FIGURE] of a seat of either layout. */
void compare_tells(const gradin_assessment *a, int i, const gradin_assessment *b, int j,
                   const gradin_common_noise *common, const compare_focus *focus, double *tells);

/* change.c */

double compare_value(const gradin_assessment *a, gradin_figure figure, int seat);
/* Of a figure where more, or less, is better. */
gradin_effect compare_effect(double change, double tells, bool is_more_better);
bool compare_is_more_better(gradin_figure figure);
gradin_status compare_changes(gradin_arena *arena, const gradin_assessment *a,
                              const gradin_assessment *b, const compare_partners *partners,
                              gradin_compared_pair *pair);

/* sums.c; block_of gives the place of each block of a model in the common list. */
gradin_status compare_seat_sums(gradin_arena *arena, const gradin_assessment *a,
                                const int *block_of, int n_block, gradin_compared_layout *layout);
gradin_status compare_change_sums(gradin_arena *arena, const gradin_assessment *const side[2],
                                  const int *const block_of[2], int n_block,
                                  gradin_compared_pair *pair);

/* front.c: aims, who is ahead in which, who is on the front. */
void compare_front(gradin_comparison *comparison);

#endif
