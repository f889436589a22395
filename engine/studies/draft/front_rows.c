/* Rows of wheelchair places and companions on the level first rank of a bank, one between each two
 * aisles. What the runs between the aisles take lies alike on both sides of the bank's middle,
 * where it can; banks that face each other across the stage's axis take as many each. */
#include "studies/draft/draft.h"

static const double CLEAR_M = 0.9; /* before the row, to come and go */

/* Adds a row; odd ones begin by turns with a wheelchair place and a companion's. */
void draft_add_row(draft_scheme *scheme, draft_wheelchair_row row) {
    int n_odd = 0;
    for (int i = 0; i < scheme->n_wheelchair_row; i++)
        n_odd += scheme->wheelchair_row[i].n_place % 2;
    row.starts_with_companion = row.n_place % 2 == 1 && n_odd % 2 == 1;
    scheme->wheelchair_row[scheme->n_wheelchair_row++] = row;
}

/* The k-th run of a bank's front between its aisles, along the rows from its low end. */
static void run_of_front(const draft_bank *bank, int k, double run_m[2]) {
    run_m[0] = k > 0 ? bank->aisle_m[k - 1][1] : 0.0;
    run_m[1] = k < bank->n_aisle ? bank->aisle_m[k][0] : bank->n_across * bank->across_m;
}

/* Middle of a row on the level first rank. */
static gradin_vec2 front_row_at_m(const draft_job *job, const draft_bank *bank, double along_m) {
    gradin_box2 box = draft_rank_box(job, bank, 0);
    double behind_m = draft_front_row_m(bank);
    const gradin_vec2 at_m[4] = {{box.x_min_m + along_m, box.y_max_m - behind_m},
                                 {box.x_max_m - behind_m, box.y_min_m + along_m},
                                 {box.x_min_m + along_m, box.y_min_m + behind_m},
                                 {box.x_min_m + behind_m, box.y_min_m + along_m}};
    return at_m[bank->quarter];
}

/* Of `n` on one side of the middle, a run nearer to it first. A row has two places or more. */
static int share_side(int n_run, const int *room, int first, int n, int *here) {
    int n_pair = n_run / 2;
    for (int i = 0; i < n_pair; i++) {
        int k = first - i, even = (n + n_pair - i - 1) / (n_pair - i);
        int take = even < room[k] ? even : room[k];
        if (n - take == 1) take += take < room[k] ? 1 : -1; /* nobody alone */
        if (take < 2) take = 0;
        here[k] = here[n_run - 1 - k] = take;
        n -= take;
    }
    return n;
}

/* Alike on both sides of the middle; the run in the middle takes whole pairs, or is odd as n is. */
static bool share_alike(int n_run, const int *room, int n, int *here) {
    int middle = n_run / 2, is_odd = n_run % 2;
    int most = is_odd ? room[middle] - (room[middle] + n) % 2 : 0;
    int even = is_odd ? (n / n_run + 1) / 2 * 2 + n % 2 : 0;
    for (int off = 0; off <= n; off += 2)
        for (int sign = -1; sign <= 1; sign += 2) {
            int take = even + sign * off;
            if (take < 0 || take > most || take > n || (n - take) % 2 == 1) continue;
            if (is_odd) here[middle] = take;
            if (share_side(n_run, room, middle - 1, (n - take) / 2, here) == 0) return true;
        }
    return false;
}

int draft_share_places(int n_run, const int *room, int n, bool may_be_odd, int *here) {
    int left = n;
    if ((n % 2 == 0 || (may_be_odd && n_run % 2 == 1)) && share_alike(n_run, room, n, here))
        return n;
    for (int k = 0; k < n_run; k++) {
        int n_after = n_run - k;
        here[k] = may_be_odd ? (left + n_after - 1) / n_after
                             : 2 * ((left / 2 + n_after - 1) / n_after); /* whole pairs */
        if (here[k] > room[k]) here[k] = room[k];
        if (!may_be_odd) here[k] -= here[k] % 2;
        if (may_be_odd && left - here[k] == 1) here[k] += here[k] < room[k] ? 1 : -1;
        if (here[k] < 2) here[k] = 0;
        left -= here[k];
    }
    return n - left;
}

/* As many of n as the level first rank of the bank takes, in a row between each two aisles. */
static int set_front_rows(const draft_job *job, draft_scheme *scheme, const draft_bank *bank, int n,
                          bool may_be_odd, int most) {
    int n_run = bank->n_aisle + 1, room[DRAFT_MAX_AISLE + 1] = {0};
    int here[DRAFT_MAX_AISLE + 1] = {0};
    int n_free = DRAFT_MAX_WHEELCHAIR_ROW - scheme->n_wheelchair_row;
    if (bank->free_m + draft_first_m(bank) < DRAFT_PLACE_DEPTH_M + CLEAR_M || n < 2 ||
        n_free < n_run)
        return 0;
    for (int k = 0; k < n_run; k++) {
        double run_m[2];
        run_of_front(bank, k, run_m);
        room[k] = (int)floor((run_m[1] - run_m[0]) / DRAFT_PLACE_WIDTH_M + 1e-6);
        if (most < room[k]) room[k] = most;
    }
    int taken = draft_share_places(n_run, room, n, may_be_odd, here);
    for (int k = 0; k < n_run; k++) {
        double run_m[2];
        run_of_front(bank, k, run_m);
        if (here[k] > 0)
            draft_add_row(scheme,
                          (draft_wheelchair_row){
                              .front_m = front_row_at_m(job, bank, (run_m[0] + run_m[1]) / 2.0),
                              .facing_deg = 90.0 * bank->quarter,
                              .n_place = here[k]});
    }
    return taken;
}

static bool is_beside(const draft_job *job, const draft_bank *bank) {
    return (bank->quarter - job->quarter) % 2 != 0;
}

static int count_fronts(const draft_scheme *scheme) {
    int n = 0;
    for (int i = 0; i < scheme->n_bank; i++) n += scheme->bank[i].is_front;
    return n;
}

/* A bank and the one like it across the axis. */
static bool are_a_pair(const draft_job *job, const draft_scheme *scheme, int i) {
    const draft_bank *bank = &scheme->bank[i], *next = bank + 1;
    return i + 1 < scheme->n_bank && is_beside(job, bank) && is_beside(job, next) &&
           bank->is_front && next->is_front && bank->n_aisle == next->n_aisle &&
           job->w->is_symmetric;
}

/* As many of n, which is even, as the level first ranks of the banks take. */
int draft_set_fronts(const draft_job *job, draft_scheme *scheme, int n, int most) {
    int left = n, n_front = count_fronts(scheme);
    for (int i = 0; i < scheme->n_bank && left > 1; i++) {
        const draft_bank *bank = &scheme->bank[i];
        if (!bank->is_front) continue;
        bool is_pair = are_a_pair(job, scheme, i);
        int here = 2 * ((left / 2 * (1 + is_pair) + n_front - 1) / n_front);
        if (here > left) here = left;
        for (int k = 0; k <= is_pair; k++)
            left -= set_front_rows(job, scheme, bank + k, here / (1 + is_pair), is_pair, most);
        n_front -= 1 + is_pair;
        i += is_pair;
    }
    return n - left;
}
