/* What a search goes by, less is better.
 *
 *   from -1 to 1   the point surely keeps the needs: its first aim, the others a thousandth of it
 *                  each time
 *   from 2 to 3    it does not: the part by which the worst bound and the figure as stated miss;
 *                  where nothing bounds a figure, so that no point is ever sure, up to 2.5 the aims
 *                  of those that keep the needs by the figures as stated
 *   4              it cannot stand
 * Only the order of two costs and their lie near each other matter. Which point is the best one is
 * told by the rows themselves, as a sweep tells it. */
#include "studies/seek/seek.h"
#include "studies/sweep/sweep.h"

static const double aim_share = 1e-3;

static double squeezed(double x) {
    return x / (1.0 + fabs(x));
}

static double part(double miss) {
    return isfinite(miss) ? miss / (1.0 + miss) : 1.0;
}

static double aim_cost(seek_job *job, const gradin_sweep_row *row, int aim) {
    const gradin_study_aim *a = &job->study->aim[aim];
    double value = row->figure[sweep_column(job->study, a->figure)].value;
    if (isnan(value)) return 1.0;
    if (job->scale[aim] == 0.0) job->scale[aim] = fmax(fabs(value), 1e-9);
    return squeezed((a->wants_most ? -value : value) / job->scale[aim]);
}

/* The row with the bound in place of the figure that keeps each need less. */
static double sure_miss(const gradin_study *s, const gradin_sweep_row *row) {
    double most = 0.0;
    for (int i = 0; i < s->n_bound; i++) {
        const gradin_known *k = &row->figure[sweep_column(s, s->bound[i].figure)];
        most = fmax(most, fmax(sweep_part_missed(k->low, &s->bound[i]),
                               sweep_part_missed(k->high, &s->bound[i])));
    }
    return most;
}

/* From -1 to 1. */
static double cost_of_aims(seek_job *job, const gradin_sweep_row *row) {
    double share = 1.0, cost = 0.0;
    for (int i = 0; i < job->study->n_aim; i++, share *= aim_share)
        cost += share * aim_cost(job, row, i);
    return cost / (1.0 + 2.0 * aim_share);
}

double seek_cost(seek_job *job, int point) {
    const gradin_sweep_row *row = &job->row[point];
    if (row->refused) return 4.0;
    if (sweep_judge(job->study, row) == GRADIN_VERDICT_WITHIN) return cost_of_aims(job, row);
    double sure = sure_miss(job->study, row), stated = sweep_miss(job->study, row);
    if (isinf(sure) && stated == 0.0) return 2.25 + 0.25 * cost_of_aims(job, row);
    return 2.0 + 0.5 * part(sure) + 0.5 * part(stated);
}

bool seek_is_better(seek_job *job, int a, int b) {
    const gradin_sweep_row *p = &job->row[a], *q = &job->row[b];
    bool is_sure = !p->refused && sweep_judge(job->study, p) == GRADIN_VERDICT_WITHIN;
    bool is_other_sure = !q->refused && sweep_judge(job->study, q) == GRADIN_VERDICT_WITHIN;
    if (is_sure != is_other_sure) return is_sure;
    if (is_sure) return sweep_compare(job->study, p, q) < 0;
    double x = seek_cost(job, a), y = seek_cost(job, b);
    return x < y || (x == y && a < b);
}
