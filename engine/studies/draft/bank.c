/* One bank: how high its ranks stand for the wanted C, and where its aisles go.
 *
 * The heights are those of the rake study: the lowest setting of every rank that gives each row the
 * wanted C over the row in front (studies/rake/solve.c), the first row at floor level; a rank that
 * no setting can bring there is left out, with all ranks behind it. Aisles run straight from front
 * to back; their number is the least that the venue's row lengths allow. Row lengths where a venue
 * states none: 7 seats from one aisle and 14 between two (International Building Code, from
 * memory). */
#include "studies/draft/draft.h"
#include "studies/rake/rake.h"

#include <string.h>

static const double GAP_M = 0.14;   /* less between two seats is no gap in a row */
static const double BEFORE_M = 1.0; /* before a place on a level first rank: the way out */
static const double BACK_M = 0.4;   /* and behind it, where there is room for both */
static const double CLIMB_M = 0.5;  /* between two platforms; more is no way, as fit has it */
enum { LEAST_SEATS = 4 };           /* of a row that is worth an aisle */
static const char *const no_rank = "no section is left behind it";
static const char *const a_solid = "something fixed stands on the lifts";
static const char *const too_steep =
    "the next row would rise more than 0.50 m above the one before";
static const char *const no_floor = "no floor is left behind it";
static const char *const a_thing = "something fixed stands behind it, or a door needs its way";

int draft_bank_depth(const draft_bank *bank) {
    return bank->quarter % 2 == 0 ? bank->cells.r1 - bank->cells.r0
                                  : bank->cells.c1 - bank->cells.c0;
}

/* From the bank's front edge to the near edge of the focus. */
static double focus_ahead_m(const draft_job *job, const draft_bank *bank) {
    gradin_box2 first = draft_rank_box(job, bank, 0), focus = job->focus_box;
    switch (bank->quarter) {
    case 0:
        return focus.y_min_m - first.y_max_m;
    case 1:
        return focus.x_min_m - first.x_max_m;
    case 2:
        return first.y_min_m - focus.y_max_m;
    default:
        return first.x_min_m - focus.x_max_m;
    }
}

static int steps_of(const draft_job *job, const draft_bank *bank) {
    const gradin_lift_grid *g = job->plan;
    int n = (int)floor(bank->rank_m / job->w->row_depth_m + 1e-6);
    if (n > g->most_steps) n = g->most_steps;
    return n < 1 || !g->faces[bank->quarter] ? 1 : n;
}

static void add_row(rake_job *rake, double d_m, double eye_m, int rank, int tread) {
    gradin_rake *r = rake->rake;
    int k = r->n_row++;
    r->row[k] = (gradin_rake_row){.row = k + 1,
                                  .d_m = d_m,
                                  .t_m = k > 0 ? d_m - r->row[k - 1].d_m : NAN,
                                  .eye_height_m = eye_m,
                                  .rank = rank,
                                  .tread = tread};
}

double draft_first_m(const draft_bank *bank) {
    return bank->is_front ? bank->n_first * bank->rank_m : bank->rank_m;
}

/* The way out lies on the rank and on what is free before it. */
static double before_m(const draft_bank *bank) {
    return fmax(BEFORE_M - bank->free_m, 0.0);
}

/* With ranks of the floor free before them places stand at the back: the next row rises less. */
double draft_front_row_m(const draft_bank *bank) {
    double first_m = draft_first_m(bank);
    if (bank->n_first > 1 && bank->free_m > 0.0) return first_m - DRAFT_PLACE_DEPTH_M / 2.0;
    double back_m = fmin(fmax(first_m - DRAFT_PLACE_DEPTH_M - before_m(bank), 0.0), BACK_M);
    return first_m - back_m - DRAFT_PLACE_DEPTH_M / 2.0;
}

static void add_rank(const draft_job *job, rake_job *rake, const draft_bank *bank, int rank) {
    static const int lift = 0; /* a rank of sections, not a platform */
    const gradin_lift_grid *g = job->plan;
    int n_step = bank->is_front && rank == 0 ? 1 : bank->n_step;
    double front_m = focus_ahead_m(job, bank);
    if (rank > 0) front_m += draft_first_m(bank) + (rank - 1) * bank->rank_m;
    rake->rake->rank[rank] = (gradin_rake_rank){.section = &lift, .n_step = n_step};
    rake->limit[rank] =
        (rake_limit){{g->travel_m[0], g->travel_m[1]}, {g->riser_m[0], g->riser_m[1]}};
    bool is_places = bank->is_front && rank == 0;
    for (int i = 0; i < n_step; i++) {
        bool is_walk = rank == 0 && i < bank->n_walk; /* nobody sits there: a head at the floor */
        double behind_m = is_places ? draft_front_row_m(bank) : (i + 0.5) * bank->rank_m / n_step;
        add_row(rake, front_m + behind_m,
                is_walk     ? 0.0
                : is_places ? job->w->audience.wheelchair_eye_height_m
                            : job->w->audience.eye_height_m,
                rank, i);
    }
    rake->rake->n_rank = rank + 1;
}

/* Is the wanted C reached by n ranks? */
static bool solve(const draft_job *job, rake_job *rake, const draft_bank *bank, int n,
                  const char **hindrance) {
    double step_m = job->main < 0 ? job->w->platform_step_m : job->step_m;
    memset(rake->rake, 0, sizeof *rake->rake);
    rake->rake->wanted = (gradin_rake_options){.c_m = job->w->c_m, .step_m = step_m};
    rake->rake->focus_z_m = job->focus_z_m;
    for (int rank = 0; rank < n; rank++) add_rank(job, rake, bank, rank);
    bool is_solved = rake->rake->n_row <= GRADIN_MAX_RAKE_ROW && rake->rake->row[0].d_m > 0.1 &&
                     rake_solve_constant_c(rake, job->w->c_m, hindrance);
    if (!is_solved || job->main >= 0) return is_solved;
    for (int rank = 1; rank < n; rank++)
        if (rake->rake->rank[rank].height_m - rake->rake->rank[rank - 1].height_m >
            CLIMB_M + 1e-9) {
            *hindrance = too_steep;
            return false;
        }
    return true;
}

static void keep(draft_bank *bank, const gradin_rake *rake, int n) {
    bank->n_rank = n;
    bank->least_c_m = INFINITY;
    for (int rank = 0; rank < n; rank++) {
        bank->height_m[rank] = rake->rank[rank].height_m;
        bank->riser_m[rank] = rake->rank[rank].n_step > 1 ? rake->rank[rank].riser_m : 0.0;
    }
    for (int k = bank->n_walk + 1; k < rake->n_row; k++)
        bank->least_c_m = fmin(bank->least_c_m, rake_row_c_m(rake, k, false));
}

/* On the floor the way through a door is kept free as well. */
static bool meets_fixed(const draft_job *job, gradin_polygon shape) {
    if (job->main < 0) return draft_fixed_name(job->hall, shape, DRAFT_LANDING_M);
    for (int i = 0; i < job->hall->n_solid; i++)
        if (gradin_polygon_overlap(shape, job->hall->solid[i].polygon, 0.02)) return true;
    return false;
}

/* Ranks up to the first on which something fixed stands. */
static int free_ranks(const draft_job *job, draft_bank *bank, int most) {
    for (int rank = 0; rank < most; rank++) {
        gradin_box2 b = draft_rank_box(job, bank, rank);
        gradin_vec2 corner_m[4];
        draft_box_corners(b, corner_m);
        if (meets_fixed(job, (gradin_polygon){corner_m, 4})) {
            bank->hindrance = job->main < 0 ? a_thing : a_solid;
            return rank;
        }
    }
    return most;
}

/* Treads for a way along the front as wide as the venue's rule. */
static int walk_treads(const draft_job *job, const draft_bank *bank) {
    return (int)ceil(draft_way_m(job) / (bank->rank_m / bank->n_step) - 1e-6);
}

void draft_rake_bank(const draft_job *job, draft_bank *bank, int most_rank, bool has_walk) {
    const gradin_lift_grid *g = job->plan;
    rake_job *rake = job->rake;
    bank->rank_m = g->size_m[1 - bank->quarter % 2];
    bank->across_m = g->size_m[bank->quarter % 2];
    bank->n_step = steps_of(job, bank);
    bank->n_first = 1;
    if (job->main < 0)
        bank->n_first = (int)ceil((DRAFT_PLACE_DEPTH_M + before_m(bank)) / bank->rank_m);
    bank->hindrance = job->main < 0 ? no_floor : no_rank;
    bank->n_walk = has_walk && !bank->is_front ? walk_treads(job, bank) : 0;
    if (bank->n_walk >= bank->n_step) return;
    bank->n_across =
        bank->quarter % 2 == 0 ? bank->cells.c1 - bank->cells.c0 : bank->cells.r1 - bank->cells.r0;
    if (job->main < 0) { /* rows run on from end to end */
        bank->across_m *= bank->n_across;
        bank->n_across = 1;
    }
    int n = draft_bank_depth(bank) - (bank->is_front ? bank->n_first - 1 : 0);
    if (n > most_rank + bank->is_front) n = most_rank + bank->is_front;
    if (n < 0) n = 0;
    n = free_ranks(job, bank, n);
    const char *why;
    for (; n > bank->is_front; n--) {
        if (solve(job, rake, bank, n, &why)) break;
        bank->hindrance = why;
    }
    if (n > bank->is_front) keep(bank, rake->rake, n);
}

int draft_bank_rows(const draft_bank *bank) {
    return (bank->n_rank - bank->is_front) * bank->n_step - bank->n_walk;
}

void draft_row_rule(const draft_job *job, int *one_aisle, int *two_aisles) {
    const gradin_local_rules *rules = &job->hall->rules;
    bool is_stated = rules->row_one_aisle > 0 && rules->row_two_aisles > 0;
    *one_aisle = is_stated ? rules->row_one_aisle : 7;
    *two_aisles = is_stated ? rules->row_two_aisles : 14;
}

/* Shares the seats that k aisles leave of n among the runs between them: the two end runs are
 * alike, and end and inner runs are about in the proportion of the rule. False when they break the
 * rule. */
static bool share_out(int n, int gone, int k, int one_aisle, int two_aisles, int *first) {
    int rest = n - k * gone, at = 0;
    if (rest < 0 || rest > 2 * one_aisle + (k - 1) * two_aisles) return false;
    int end = (rest * one_aisle + one_aisle) / (2 * one_aisle + (k - 1) * two_aisles);
    if (k == 1) end = (rest + 1) / 2;
    if (end > one_aisle) end = one_aisle;
    while (end < one_aisle && rest - 2 * end > (k - 1) * two_aisles) end++;
    int inner = k > 1 ? rest - 2 * end : 0;
    if (k > 1 && inner < 0) return false;
    for (int i = 0; i < k; i++) {
        at += i == 0 ? end : inner / (k - 1) + (i - 1 < inner % (k - 1));
        first[i] = at;
        at += gone;
    }
    return n - at <= one_aisle;
}

bool draft_aisles(int n, int gone, int one_aisle, int two_aisles, int *first, int *n_aisle) {
    for (int k = 1; k <= DRAFT_MAX_AISLE; k++)
        if (share_out(n, gone, k, one_aisle, two_aisles, first)) {
            *n_aisle = k;
            return true;
        }
    return false;
}

/* Seats of a section: where the wished width leaves a gap between sections, wider ones, so that
 * rows run on. */
static void choose_seats(const draft_job *job, draft_bank *bank) {
    bank->seat_m = job->w->seat_width_m;
    bank->per_section = (int)floor(bank->across_m / bank->seat_m + 1e-6);
    if (job->main >= 0 && bank->per_section > 0 &&
        bank->across_m - bank->per_section * bank->seat_m > GAP_M)
        bank->seat_m = floor(1000.0 * bank->across_m / bank->per_section) / 1000.0;
}

/* Low edge of seat i of a row, from the bank's low end. */
static double seat_edge_m(const draft_bank *bank, int i) {
    double width_m = bank->seat_m;
    int section = i / bank->per_section, seat = i % bank->per_section;
    double margin_m = (bank->across_m - bank->per_section * width_m) / 2.0;
    return section * bank->across_m + margin_m + seat * width_m;
}

static bool is_even(const int *first, int n_aisle, int gone, int n) {
    for (int i = 0; i < n_aisle; i++)
        if (first[i] + first[n_aisle - 1 - i] + gone != n) return false;
    return true;
}

static int seats_gone(const draft_job *job, double width_m) {
    return (int)ceil(job->w->aisle_m / width_m - 1e-6);
}

double draft_least_row_m(const draft_job *job) {
    double width_m = job->w->seat_width_m;
    return (LEAST_SEATS + seats_gone(job, width_m)) * width_m;
}

void draft_cut_aisles(const draft_job *job, draft_bank *bank) {
    int one_aisle, two_aisles, first[DRAFT_MAX_AISLE];
    draft_row_rule(job, &one_aisle, &two_aisles);
    choose_seats(job, bank);
    double width_m = bank->seat_m;
    int n = bank->n_across * bank->per_section, gone = seats_gone(job, width_m);
    int n_row = draft_bank_rows(bank);
    bank->n_aisle = bank->n_seat = 0;
    if (n == 0 || n_row <= 0 ||
        !draft_aisles(n, gone, one_aisle, two_aisles, first, &bank->n_aisle))
        return;
    if (job->main < 0 && job->w->is_symmetric && !is_even(first, bank->n_aisle, gone, n)) {
        bank->per_section = --n; /* one seat less, and both ends of the rows are alike */
        if (!draft_aisles(n, gone, one_aisle, two_aisles, first, &bank->n_aisle)) return;
    }
    if (job->main < 0 && n - bank->n_aisle * gone < LEAST_SEATS) return;
    for (int k = 0; k < bank->n_aisle; k++) {
        bank->aisle_m[k][0] = seat_edge_m(bank, first[k]);
        bank->aisle_m[k][1] = seat_edge_m(bank, first[k] + gone - 1) + width_m;
    }
    bank->n_seat = n_row * (n - bank->n_aisle * gone);
}
