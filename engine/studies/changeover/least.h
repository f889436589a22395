/* studies/changeover/least.h: what other studies ask of a changeover: what it takes whatever the
 * order of its moves, and a plan of many. */
#ifndef GRADIN_STUDIES_CHANGEOVER_LEAST_H
#define GRADIN_STUDIES_CHANGEOVER_LEAST_H

#include "gradin/studies/changeover.h"

typedef struct changeover_least {
    int total_s;         /* no plan is shorter */
    double person_hours; /* of every plan */
} changeover_least;

/* By the moves alone, some hundredth of the time of gradin_changeover_plan(). Refuses what no plan
 * can be made of for its moves. */
gradin_status changeover_find_least(const gradin_model *from, const gradin_model *to,
                                    changeover_least *least, gradin_error *error);

/* n_node 0: GRADIN_PLAN_NODES_OF_MANY. */
static inline gradin_status changeover_plan_of_many(gradin_arena *arena, const gradin_model *from,
                                                    const gradin_model *to, int n_node,
                                                    gradin_changeover *c, gradin_error *error) {
    const gradin_changeover_terms terms = {.n_node =
                                               n_node > 0 ? n_node : GRADIN_PLAN_NODES_OF_MANY};
    return gradin_changeover_plan_on(arena, from, to, &terms, c, error);
}

#endif
