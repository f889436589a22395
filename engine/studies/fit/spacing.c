/* Rows against the venue's least row depth and clearway, and its places for wheelchairs. The row
 * depth is that of the tread a row stands on; what the block's seat_depth leaves of it is the way
 * between its seats, tipped up, and the backs of the row in front. The first row of a block has
 * none in front, and rows on towers are the maker's. */
#include "studies/fit/fit.h"

static const double SLACK_M = 1e-6;

static bool is_counted(const gradin_model *m, int seat) {
    return m->seats.row[seat] > 1 && m->seats.kind[seat] == GRADIN_SEAT_STANDARD &&
           m->machinery->block_seating[m->seats.block[seat]] != -1;
}

/* The seat of the block whose row is closest to the one in front; -1 when it has no such row. */
static int closest_of(const gradin_model *m, int block) {
    int found = -1;
    for (int i = 0; i < m->seats.n_seat; i++)
        if (m->seats.block[i] == block && is_counted(m, i) &&
            (found < 0 || m->seats.depth_m[i] < m->seats.depth_m[found] - SLACK_M))
            found = i;
    return found;
}

/* NAN and 0 are no rule. */
static bool is_under(double value_m, double least_m) {
    return least_m > 0.0 && value_m < least_m - SLACK_M;
}

static void check_block(gradin_fit *fit, int block, gradin_tight_row *made) {
    const gradin_model *m = fit->model;
    const gradin_local_rules *rules = &m->machinery->rules;
    int seat = closest_of(m, block);
    if (seat < 0) return;
    const double *seat_depth_m = m->machinery->block_seat_depth_m;
    double depth_m = m->seats.depth_m[seat];
    gradin_tight_row row = {.block = m->block_name[block],
                            .row = m->seats.row[seat],
                            .row_label = m->seats.row_label ? m->seats.row_label[seat] : NULL,
                            .depth_m = depth_m,
                            .clearway_m = seat_depth_m ? depth_m - seat_depth_m[block] : NAN};
    row.is_depth = is_under(depth_m, rules->row_depth_m);
    row.is_clearway = is_under(row.clearway_m, rules->clearway_m);
    fit->n_no_seat_depth += rules->clearway_m > 0.0 && isnan(row.clearway_m);
    if (row.is_depth || row.is_clearway) made[fit->n_tight_row++] = row;
}

/* Companions come with the places that are needed, whether they are there or not. */
static void count_wheelchairs(gradin_fit *fit) {
    const gradin_local_rules *rules = &fit->model->machinery->rules;
    const gradin_seats *s = &fit->model->seats;
    fit->wheelchairs_needed = gradin_wheelchairs_needed(rules, s->n_seat);
    int n_wheelchair =
        s->n_wheelchair > fit->wheelchairs_needed ? s->n_wheelchair : fit->wheelchairs_needed;
    fit->companions_needed = rules->companions > 0 ? rules->companions * n_wheelchair : -1;
}

bool fit_spacing(gradin_arena *arena, gradin_fit *fit) {
    gradin_tight_row *made = gradin_arena_alloc(arena, (size_t)fit->model->n_block, sizeof *made);
    if (!made) return false;
    for (int i = 0; i < fit->model->n_block; i++) check_block(fit, i, made);
    fit->tight_row = made;
    count_wheelchairs(fit);
    return true;
}
