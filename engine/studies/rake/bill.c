/* What the setting gives and costs: C of every row in the section and of the real seats, and how
 * far the lifts travel. */
#include "studies/rake/rake.h"

#include <string.h>

#define MOVED_M 1e-6
#define SHORT_M 0.0005 /* less is not printed */

/* R' = (R + C)(D + T)/D from row to row, without steps or limits. */
static void find_ideal(gradin_rake *rake) {
    gradin_rake_row *row = rake->row;
    double r_m = row[0].floor_before_m + row[0].eye_height_m - rake->focus_z_m;
    row[0].ideal_riser_m = NAN;
    for (int k = 1; k < rake->n_row; k++) {
        double rise_m = gradin_riser_m(rake->wanted.c_m, row[k - 1].d_m, r_m, row[k].t_m);
        row[k].ideal_riser_m = rise_m + row[k - 1].eye_height_m - row[k].eye_height_m;
        r_m += rise_m;
    }
}

static void find_rows(gradin_rake *rake) {
    rake->least_c_m = INFINITY;
    rake->row[0].riser_m = rake->row[0].c_m = rake->row[0].c_before_m = NAN;
    for (int k = 1; k < rake->n_row; k++) {
        gradin_rake_row *row = &rake->row[k];
        row->riser_m = row->floor_m - rake->row[k - 1].floor_m;
        row->c_m = rake_row_c_m(rake, k, false);
        row->c_before_m = rake_row_c_m(rake, k, true);
        if (row->c_m >= rake->least_c_m) continue;
        rake->least_c_m = row->c_m;
        rake->least_row = row->row;
    }
}

/* Sections of the rank that stand as this one does now move alike with it. */
static int n_alike(const rake_job *job, const gradin_rake_rank *rank, int section) {
    const gradin_machine *m = job->model->section[section].machine;
    int n = 0;
    for (int i = 0; i < rank->n_section; i++) {
        const gradin_machine *other = job->model->section[rank->section[i]].machine;
        n += other->group == m->group && gradin_setting_equal(&other->setting, &m->setting);
    }
    return n;
}

static int rank_move_s(const rake_job *job, const gradin_rake_rank *rank, int section) {
    const gradin_machine *m = job->model->section[section].machine;
    const gradin_setting to = {rank->height_m, rank->n_step, rank->n_step > 1 ? rank->riser_m : 0.0,
                               rank->facing_deg};
    return gradin_moves_s(&m->setting, &to, &m->drive, n_alike(job, rank, section));
}

static void find_move(const rake_job *job, int r) {
    gradin_rake *rake = job->rake;
    gradin_rake_rank *rank = &rake->rank[r];
    for (int k = 0; k < rake->n_row; k++)
        if (rake->row[k].rank == r)
            rank->move_m =
                fmax(rank->move_m, fabs(rake->row[k].floor_m - rake->row[k].floor_before_m));
    rank->is_changed = rank->move_m > MOVED_M;
    for (int i = 0; i < rank->n_section && rank->is_changed; i++) {
        int move_s = rank_move_s(job, rank, rank->section[i]);
        rake->n_section_moved++;
        rake->travel_m += rank->move_m;
        rake->longest_m = fmax(rake->longest_m, rank->move_m);
        if (move_s > rake->move_s) rake->move_s = move_s;
    }
}

static bool is_moved(const gradin_rake *rake, int section) {
    for (int r = 0; r < rake->n_rank; r++)
        for (int i = 0; i < rake->rank[r].n_section && rake->rank[r].is_changed; i++)
            if (rake->rank[r].section[i] == section) return true;
    return false;
}

static void find_others(const rake_job *job) {
    const gradin_seats *s = &job->model->seats;
    for (int i = 0; i < s->n_seat; i++)
        if (s->block[i] != job->rake->block && s->section[i] >= 0 &&
            is_moved(job->rake, s->section[i]))
            job->rake->n_other_seat++;
}

static const gradin_rake_row *row_of(const gradin_rake *rake, int row) {
    for (int k = 0; k < rake->n_row; k++)
        if (rake->row[k].row == row) return &rake->row[k];
    return NULL;
}

/* The model with the block's seats at their new heights; what hides is left as it was, for only
 * C-values are taken from it. */
static bool raise_seats(const rake_job *job, gradin_model *raised) {
    const gradin_seats *from = &job->model->seats;
    size_t n = (size_t)from->n_seat;
    *raised = *job->model;
    gradin_seats *to = &raised->seats;
    to->eye_m = gradin_arena_alloc(job->arena, n, sizeof *to->eye_m);
    to->floor_m = gradin_arena_alloc(job->arena, n, sizeof *to->floor_m);
    if (!to->eye_m || !to->floor_m) return false;
    memcpy(to->eye_m, from->eye_m, n * sizeof *to->eye_m);
    memcpy(to->floor_m, from->floor_m, n * sizeof *to->floor_m);
    for (int i = 0; i < from->n_seat; i++) {
        const gradin_rake_row *row =
            from->block[i] == job->rake->block ? row_of(job->rake, from->row[i]) : NULL;
        if (!row) continue;
        to->floor_m[i].z = row->floor_m;
        to->eye_m[i].z += row->floor_m - from->floor_m[i].z;
    }
    return true;
}

static gradin_status find_seats(rake_job *job) {
    gradin_model raised;
    gradin_sight sight;
    gradin_sight_options few = {.n_sample = 1};
    gradin_rake *rake = job->rake;
    if (!raise_seats(job, &raised))
        return gradin_error_add(job->error, GRADIN_NO_MEMORY, NULL, "no memory for the rake");
    gradin_status status = gradin_sight_compute(job->arena, &raised, &few, &sight, job->error);
    if (status != GRADIN_OK) return status;
    for (int k = 0; k < rake->n_row; k++) {
        rake->row[k].c_seats_m = NAN;
        for (int i = 0; i < sight.n_seat; i++)
            if (raised.seats.block[i] == rake->block && raised.seats.row[i] == rake->row[k].row)
                rake->row[k].c_seats_m = fmin(rake->row[k].c_seats_m, sight.c_m[i]);
    }
    rake->is_reached_at_seats = rake->is_reached;
    for (int k = 0; k < rake->n_row; k++)
        if (rake->row[k].c_seats_m < rake->wanted.c_m - SHORT_M) rake->is_reached_at_seats = false;
    return GRADIN_OK;
}

gradin_status rake_make_bill(rake_job *job) {
    find_ideal(job->rake);
    find_rows(job->rake);
    for (int r = 0; r < job->rake->n_rank; r++) find_move(job, r);
    find_others(job);
    return find_seats(job);
}
