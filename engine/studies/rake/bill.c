/* What the setting gives and costs: C of every row in the section and of the real seats, and how
 * far the lifts travel. */
#include "studies/rake/rake.h"

#define MOVED_M 1e-6
#define SHORT_M 0.0005 /* less is not printed */

static const char *const riders = "seats of other blocks that move with the lifts";

/* R' = (R + C)(D + T)/D from row to row, without steps or limits. */
static void find_ideal(gradin_rake *rake) {
    gradin_rake_row *row = rake->row;
    double r_m = row[0].floor_m + row[0].eye_height_m - rake->focus_z_m;
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
        rake->least_row_label = row->row_label;
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
    const gradin_machinery *all = job->model->machinery;
    return gradin_moves_s(&m->setting, &to, &m->drive, all ? all->power_kw : INFINITY,
                          n_alike(job, rank, section));
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

/* C of the real seats at the heights as set; what is not reached at one of them is not reached. */
static void find_seats(rake_job *job) {
    gradin_rake *rake = job->rake;
    rake->least_seat_c_m = INFINITY;
    rake->least_seat = -1;
    for (int k = 0; k < rake->n_row; k++) {
        gradin_rake_row *row = &rake->row[k];
        double least_m = rake_seats_c_m(job, k, &row->least_seat);
        row->c_seats_m = row->least_seat < 0 ? NAN : least_m;
        if (least_m < rake->wanted.c_m - SHORT_M && rake->is_reached) {
            rake->is_reached = false;
            rake->hindrance = riders;
        }
        if (!(least_m < rake->least_seat_c_m)) continue;
        rake->least_seat_c_m = least_m;
        rake->least_seat = row->least_seat;
    }
    if (rake->least_seat < 0) rake->least_seat_c_m = NAN;
}

gradin_status rake_make_bill(rake_job *job) {
    find_ideal(job->rake);
    find_rows(job->rake);
    for (int r = 0; r < job->rake->n_rank; r++) find_move(job, r);
    find_others(job);
    find_seats(job);
    return job->failed;
}
