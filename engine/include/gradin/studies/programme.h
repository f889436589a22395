/* gradin/studies/programme.h: which layout each show of a programme is played in, and when the
 * changeovers between them are worked. It plans and controls nothing: nobody under or on moving
 * machinery, trained operators, the maker's procedure; hours of work are for law and agreement.
 *
 * Ownership and threads: A plan lives in the arena that is given and points into the programme and
 * the models, which must outlive it; plans of different arenas may be made in different threads. */
#ifndef GRADIN_STUDIES_PROGRAMME_PLAN_H
#define GRADIN_STUDIES_PROGRAMME_PLAN_H

#include "gradin/programme.h"
#include "gradin/studies/changeover.h"

#ifdef __cplusplus
extern "C" {
#endif

/* What cannot be had as asked. */
typedef enum gradin_clash {
    GRADIN_CLASH_NONE,
    GRADIN_CLASH_SEATS,       /* no allowed layout has the seats */
    GRADIN_CLASH_WHEELCHAIRS, /* those with the seats lack places for wheelchairs */
    GRADIN_CLASH_GAP,         /* the changeover before it does not fit */
    GRADIN_CLASH_WAY          /* no order of moves leads to its layout from the one before */
} gradin_clash;

/* A show as it is planned, and the changeover before it. */
typedef struct gradin_staging {
    int layout, from_layout; /* alike: nothing changes */
    int64_t free_s, due_s; /* window of the changeover: after clear_s, before margin and ready_s */
    int64_t begin_s, done_s;          /* of its work; alike without a changeover */
    double person_hours, night_hours; /* night_hours of them lie in the night */
    double cost;
    const char *no_way; /* why no changeover leads there; NULL: one does */
    int short_s;        /* by which it misses the window; 0: it fits */
    gradin_clash needs; /* of the show itself: seats, wheelchairs or none */
    int most;           /* of what is needed, in any allowed layout */
} gradin_staging;

/* What one more day between two shows would save. */
typedef struct gradin_free_day {
    int before; /* the show that would start a day later, with all after it; -1: none saves */
    double saved_cost;
    int saved_clashes;
    double saved_short_s; /* of what changeovers miss their windows by */
    int saved_no_way;     /* of the clashes: changeovers that no order of moves makes */
} gradin_free_day;

typedef struct gradin_programme_plan {
    const gradin_programme *programme;
    const gradin_model *model;           /* [n_layout] */
    const gradin_changeover *changeover; /* [n_layout][n_layout]; move NULL where none was needed */
    const gradin_staging *staging;       /* [n_booking] */
    int n_changeover, n_clash;
    double person_hours, night_hours, cost;
    gradin_free_day free_day;
    bool has_more_crew;    /* the same with one person more was worked out */
    double more_crew_cost; /* then */
    int more_crew_clashes;
} gradin_programme_plan;

typedef struct gradin_programme_terms {
    bool with_more_crew; /* plan again with one person more */
    int n_node;          /* of each changeover's search, 0: GRADIN_PLAN_NODES_OF_MANY */
} gradin_programme_terms;

/* The plan with the fewest clashes, of these the least hours missed, of these the least cost; where
 * costs are alike the fewest changeovers. Proven by dynamic programming over all choices; each
 * changeover's own length is that of gradin_changeover_plan_on() with so many steps.
 * model[n_layout] are the programme's layouts, all of one venue that states a crew; two between
 * which no order of moves is allowed clash. terms may be NULL. GRADIN_BAD_INPUT as of
 * gradin_changeover_plan(). */
GRADIN_API gradin_status gradin_programme_plan_make(
    gradin_arena *arena, const gradin_programme *programme, const gradin_model *model,
    const gradin_programme_terms *terms, gradin_programme_plan *plan, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
