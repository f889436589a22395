/* How well people see a finished draft, from a few rays: what drafts are compared by. */
#include "studies/draft/draft.h"

static const gradin_sight_options few = {.n_sample = 64};

gradin_status draft_weigh_sight(const draft_job *job, const gradin_model *model,
                                draft_worth *worth) {
    gradin_sight *sight = gradin_arena_alloc(job->arena, 1, sizeof *sight);
    if (!sight) return gradin_error_add(job->error, GRADIN_NO_MEMORY, NULL, "no memory");
    gradin_status status = gradin_sight_compute(job->arena, model, &few, sight, job->error);
    if (status != GRADIN_OK) return status;
    int n_seen = sight->n_rating[GRADIN_RATING_CLEAR] + sight->n_rating[GRADIN_RATING_GOOD];
    *worth = (draft_worth){.share = (double)n_seen / model->seats.n_seat,
                           .n_poor = sight->n_rating[GRADIN_RATING_POOR]};
    for (int i = 0; i < model->seats.n_seat; i++) {
        if (model->machinery->block_seating[model->seats.block[i]] != -1) continue;
        worth->n_tower++;
        worth->n_poor_tower += sight->rating[i] == GRADIN_RATING_POOR;
    }
    return GRADIN_OK;
}
