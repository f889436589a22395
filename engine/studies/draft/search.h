/* studies/draft/search.h: the choices that are counted, and one of them drafted whole. */
#ifndef GRADIN_STUDIES_DRAFT_SEARCH_H
#define GRADIN_STUDIES_DRAFT_SEARCH_H

#include "studies/draft/draft.h"

typedef struct counted {
    draft_choice choice;
    int n_seat, order;
    bool is_enough; /* reaches the wanted count */
} counted;

typedef struct choices {
    counted *item;
    int n, capacity;
    int n_weighed;   /* with any seat */
    int n_over_exit; /* more than the doors let out */
} choices;

typedef struct whole {
    gradin_layout *layout;
    gradin_model *model;
    gradin_fit *fit;
} whole;

/* Why a choice is given up, and the wish that asks too much. */
typedef struct refusal {
    const char *text; /* NULL: it is not */
    gradin_wish wish;
} refusal;

/* choices.c */
/* Fills `all`; false when out of memory. */
bool draft_weigh_choices(draft_job *job, choices *all, draft_scheme *scheme);
/* Machines, banks or chairs of a choice; false when it seats nobody. */
bool draft_make_scheme(const draft_job *job, const draft_choice *choice, draft_scheme *scheme);
/* Wheelchair places for so many seats. */
int draft_places_needed(const draft_job *job, int n_seat);

/* whole.c: *why tells what stands against the choice, the ways out apart. The status fails only for
 * lack of memory or when the machine fails. */
gradin_status draft_try_choice(draft_job *job, const draft_choice *choice, draft_scheme *scheme,
                               whole *out, refusal *why);
gradin_status draft_find_ways(const draft_job *job, whole *out, refusal *why);

#endif
