/* What a layout offers and what changes between two, in all and block by block. */
#include "studies/compare/compare.h"
#include "studies/shared/spread.h"

static gradin_status sum_seats(gradin_arena *arena, const gradin_assessment *a, const int *block_of,
                               int block, double *scratch, gradin_seat_sums *sum) {
    const gradin_seats *seats = &a->model->seats;
    gradin_status status = GRADIN_OK;
    for (int i = 0; i < seats->n_seat; i++) {
        if (block >= 0 && block_of[seats->block[i]] != block) continue;
        sum->n_seat++;
        sum->n_wheelchair += seats->kind[i] == GRADIN_SEAT_WHEELCHAIR;
        sum->n_companion += seats->kind[i] == GRADIN_SEAT_COMPANION;
        sum->n_rating[a->sight.rating[i]]++;
        sum->n_reason[a->sight.reason[i]]++;
        if (a->has_noise) sum->n_verdict[a->noise.verdict[i]]++;
    }
    for (int k = 0; k < GRADIN_N_FIGURE && status == GRADIN_OK; k++) {
        int n = 0;
        for (int i = 0; i < seats->n_seat; i++)
            if (block < 0 || block_of[seats->block[i]] == block)
                scratch[n++] = compare_value(a, (gradin_figure)k, i);
        status = studies_spread(arena, scratch, n, &sum->figure[k]);
    }
    return status;
}

gradin_status compare_seat_sums(gradin_arena *arena, const gradin_assessment *a,
                                const int *block_of, int n_block, gradin_compared_layout *layout) {
    double *scratch = gradin_arena_alloc(arena, (size_t)a->sight.n_seat, sizeof *scratch);
    layout->block = gradin_arena_alloc(arena, (size_t)n_block, sizeof *layout->block);
    if (!scratch || !layout->block) return GRADIN_NO_MEMORY;
    gradin_status status = sum_seats(arena, a, block_of, -1, scratch, &layout->all);
    for (int k = 0; k < n_block && status == GRADIN_OK; k++)
        status = sum_seats(arena, a, block_of, k, scratch, &layout->block[k]);
    return status;
}

static void add(const gradin_seat_change *c, gradin_change_sums *sum) {
    sum->n_matched[c->matched]++;
    if (c->matched == GRADIN_MATCHED_NOT) {
        sum->n_alone[c->seat[0] < 0]++;
        return;
    }
    sum->n_better += c->steps > 0;
    sum->n_same += c->steps == 0;
    sum->n_worse += c->steps < 0;
    if (c->steps != 0) sum->n_cause[c->steps > 0][c->cause]++;
    for (int k = 0; k < GRADIN_N_FIGURE; k++) sum->n_effect[k][c->effect[k]]++;
}

gradin_status compare_change_sums(gradin_arena *arena, const gradin_assessment *const side[2],
                                  const int *const block_of[2], int n_block,
                                  gradin_compared_pair *pair) {
    pair->block = gradin_arena_alloc(arena, (size_t)n_block, sizeof *pair->block);
    if (!pair->block) return GRADIN_NO_MEMORY;
    for (int i = 0; i < pair->n_change; i++) {
        const gradin_seat_change *c = &pair->change[i];
        int of = c->seat[0] < 0;
        add(c, &pair->all);
        add(c, &pair->block[block_of[of][side[of]->model->seats.block[c->seat[of]]]]);
    }
    return GRADIN_OK;
}
