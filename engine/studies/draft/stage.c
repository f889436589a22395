/* What is asked of the wished stage alone. */
#include "studies/draft/draft.h"

static const double STEP_M = 0.05; /* a stage no higher than this is walked over */

bool draft_is_end(gradin_form form) {
    return form == GRADIN_FORM_END_STAGE || form == GRADIN_FORM_FLAT_FLOOR;
}

bool draft_is_stage_level(const draft_job *job) {
    return job->w->stage_height_m < STEP_M;
}
