/* studies/changeover/least.h: what a changeover takes whatever the order of its moves. */
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

#endif
