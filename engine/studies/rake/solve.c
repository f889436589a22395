/* Settings for a wanted C, in the section through the middle of the block and at every seat of it:
 * off the middle a seat looks past other heads and to a nearer edge. Within a rank the treads rise
 * evenly, so one riser serves all of its rows; between ranks each row stands as low as it may.
 * Heights and risers are whole steps. */
#include "studies/rake/rake.h"

#define SLACK_M 1e-9

static const char *const flat = "rows share a tread: the lifts make too few for them";
static const char *const steep = "the greatest riser between the treads of a lift";
static const char *const high = "the travel of the lifts";
static const char *const platform = "a riser of 2 m, the greatest of a platform row";
static const char *const raised = "the first row, which is raised by 2 m at most";

#define MOST_RISER_M 2.0

static double r_m(const gradin_rake *rake, int k, bool before) {
    const gradin_rake_row *row = &rake->row[k];
    return (before ? row->floor_before_m : row->floor_m) + row->eye_height_m - rake->focus_z_m;
}

double rake_row_c_m(const gradin_rake *rake, int k, bool before) {
    double front_m = r_m(rake, k - 1, before);
    return gradin_c_value_m(rake->row[k - 1].d_m, front_m, r_m(rake, k, before) - front_m,
                            rake->row[k].t_m);
}

static double step_up_m(double value_m, double step_m) {
    return step_m * ceil((value_m - SLACK_M) / step_m);
}

/* Rows first..last-1 of one rank on a riser; the first row's floor stands. */
static void lay(rake_job *job, int first, int last, double riser_m) {
    gradin_rake *rake = job->rake;
    gradin_rake_rank *rank = &rake->rank[rake->row[first].rank];
    double floor_m = rake->row[first].floor_m;
    for (int k = first; k < last; k++)
        rake->row[k].floor_m = floor_m + (rake->row[k].tread - rake->row[first].tread) * riser_m;
    if (rank->n_step > 1) rank->riser_m = riser_m;
    rank->height_m = floor_m - rake->row[first].tread * (rank->n_step > 1 ? riser_m : 0.0);
    rake_raise_rows(job, first, last);
}

/* The least C of the row: in the section, and of its seats. */
static double least_c_m(rake_job *job, int k) {
    int seat;
    double least_m = k > 0 ? rake_row_c_m(job->rake, k, false) : INFINITY;
    return job->seats ? fmin(least_m, rake_seats_c_m(job, k, &seat)) : least_m;
}

static bool has(rake_job *job, int k, double c_m) {
    if (k > 0 && rake_row_c_m(job->rake, k, false) < c_m - SLACK_M) return false;
    return least_c_m(job, k) >= c_m - SLACK_M;
}

static bool all_have(rake_job *job, int first, int last, double c_m) {
    for (int k = first; k < last; k++)
        if (!has(job, k, c_m)) return false;
    return true;
}

static bool is_in_travel(const rake_job *job, int r) {
    const gradin_rake_rank *rank = &job->rake->rank[r];
    const double *travel_m = job->limit[r].travel_m;
    double top_m = rank->height_m + (rank->n_step - 1) * rank->riser_m;
    return rank->height_m >= travel_m[0] - SLACK_M && top_m <= travel_m[1] + SLACK_M;
}

/* The least riser that gives c_m to all rows of the rank behind its first. */
static bool set_rank(rake_job *job, int first, int last, double c_m, const char **hindrance) {
    gradin_rake *rake = job->rake;
    int r = rake->row[first].rank;
    double step_m = rake->wanted.step_m;
    if (last - first == 1) { /* the riser does nothing for one row: it stays */
        lay(job, first, last, rake->rank[r].riser_m);
        *hindrance = high;
        return is_in_travel(job, r);
    }
    double low_m = rake->rank[r].n_step > 1 ? step_up_m(job->limit[r].riser_m[0], step_m) : 0.0;
    double most_m = rake->rank[r].n_step > 1 ? job->limit[r].riser_m[1] : 0.0;
    int n = (int)floor((most_m - low_m) / step_m + 1e-6);
    *hindrance = rake->rank[r].n_step > 1 ? steep : flat;
    for (int i = 0; i <= n; i++) {
        lay(job, first, last, low_m + i * step_m);
        if (!all_have(job, first, last, c_m)) continue;
        *hindrance = high;
        return is_in_travel(job, r);
    }
    return false;
}

/* Raises the first row of a rank by whole steps from low_m until its seats have the C. What its
 * riser will be does not matter to it: it stands on its floor. */
static bool climb(rake_job *job, int k, double low_m, double most_m, double c_m) {
    gradin_rake_row *row = &job->rake->row[k];
    double step_m = job->rake->wanted.step_m;
    for (int i = 0; low_m + i * step_m <= most_m + SLACK_M; i++) {
        row->floor_m = low_m + i * step_m;
        if (!job->seats) return true;
        rake_raise_rows(job, k, k + 1);
        if (has(job, k, c_m)) return true;
    }
    return false;
}

/* Over the row in front; the first row stays unless its seats have others in front. */
static bool set_first(rake_job *job, int k, double c_m, const char **hindrance) {
    gradin_rake *rake = job->rake;
    gradin_rake_row *row = &rake->row[k];
    *hindrance = k > 0 ? platform : raised;
    if (k == 0) return climb(job, 0, row->floor_before_m, row->floor_before_m + MOST_RISER_M, c_m);
    const gradin_rake_row *front = &rake->row[k - 1];
    double rise_m = gradin_riser_m(c_m, front->d_m, r_m(rake, k - 1, false), row->t_m);
    double floor_m = front->floor_m + rise_m + front->eye_height_m - row->eye_height_m;
    double most_m = front->floor_m + job->limit[row->rank].riser_m[1];
    bool is_lift = rake->rank[row->rank].section != NULL;
    floor_m = fmax(step_up_m(floor_m, rake->wanted.step_m), front->floor_m); /* never down */
    return climb(job, k, floor_m, is_lift ? floor_m + MOST_RISER_M : most_m, c_m);
}

static int end_of_rank(const gradin_rake *rake, int first) {
    int last = first + 1;
    while (last < rake->n_row && rake->row[last].rank == rake->row[first].rank) last++;
    return last;
}

bool rake_solve_constant_c(rake_job *job, double c_m, const char **hindrance) {
    gradin_rake *rake = job->rake;
    for (int first = 0, last; first < rake->n_row; first = last) {
        last = end_of_rank(rake, first);
        if (!set_first(job, first, c_m, hindrance)) return false;
        if (!set_rank(job, first, last, c_m, hindrance)) return false;
    }
    *hindrance = NULL;
    return true;
}

/* One riser for all rows, by the number of rows and not of treads: a rank whose rows skip or share
 * treads cannot have it. */
static bool lay_all(rake_job *job, double riser_m, const char **hindrance) {
    gradin_rake *rake = job->rake;
    for (int first = 0, last; first < rake->n_row; first = last) {
        int r = rake->row[first].rank;
        last = end_of_rank(rake, first);
        rake->row[first].floor_m = rake->row[0].floor_m + first * riser_m;
        lay(job, first, last, riser_m);
        for (int k = first + 1; k < last; k++) {
            *hindrance = flat;
            if (rake->row[k].tread != rake->row[k - 1].tread + 1) return false;
            *hindrance = steep;
            if (riser_m < job->limit[r].riser_m[0] - SLACK_M ||
                riser_m > job->limit[r].riser_m[1] + SLACK_M)
                return false;
        }
        *hindrance = high;
        if (!is_in_travel(job, r)) return false;
    }
    return true;
}

/* The worst of all rows; once it is below enough_m, any such figure. */
static double worst_c_m(rake_job *job, double enough_m) {
    double worst = INFINITY;
    for (int k = 1; k < job->rake->n_row; k++)
        worst = fmin(worst, rake_row_c_m(job->rake, k, false));
    for (int k = 0; k < job->rake->n_row && worst > enough_m; k++)
        worst = fmin(worst, least_c_m(job, k));
    return worst;
}

bool rake_solve_constant_riser(rake_job *job, const char **hindrance) {
    gradin_rake *rake = job->rake;
    double step_m = rake->wanted.step_m, best_m = 0.0, best_c_m = -INFINITY;
    int n = (int)floor(MOST_RISER_M / step_m + 1e-6);
    const char *why = platform;
    set_first(job, 0, rake->wanted.c_m, &why);
    bool is_stopped = false; /* the first limit beyond the best is what stands in the way */
    for (int i = 0; i <= n; i++) {
        const char *broken;
        if (!lay_all(job, i * step_m, &broken)) {
            if (!is_stopped) why = broken;
            is_stopped = true;
            continue;
        }
        double c_m = worst_c_m(job, best_c_m);
        if (c_m <= best_c_m) continue;
        is_stopped = false;
        best_c_m = c_m;
        best_m = i * step_m;
        if (c_m >= rake->wanted.c_m - SLACK_M) break;
    }
    lay_all(job, best_m, hindrance);
    *hindrance = best_c_m >= rake->wanted.c_m - SLACK_M ? NULL : why;
    return !*hindrance;
}
