/* Downhill along the keys whose values are numbers, words held where they are.
 *
 * Subplex of NLopt (T. Rowan 1990; from memory): simplices in subspaces that follow the steps that
 * were made. It asks for values alone, so steps, plateaus and points that cannot stand do no harm
 * beyond its time. Every position is rounded to the nearest place. */
#include "studies/seek/seek.h"

#include <nlopt.h>

enum { CALLS_PER_KEY = 40 };

static const double first_step = 0.2; /* of a key's places */

typedef struct descent {
    seek_job *job;
    nlopt_opt opt;
    seek_place base;
    int key[SEEK_MOST_KEY]; /* [n] that move */
    int n, best;
} descent;

static seek_place round_to_place(const descent *d, const double *x) {
    seek_place p = d->base;
    for (int i = 0; i < d->n; i++) p.at[d->key[i]] = (int)lround(x[i]);
    return p;
}

static double ask(unsigned n, const double *x, double *gradient, void *user) {
    descent *d = user;
    (void)n;
    (void)gradient;
    seek_place p = round_to_place(d, x);
    int point = seek_try(d->job, &p);
    if (point < 0) {
        nlopt_force_stop(d->opt);
        return HUGE_VAL;
    }
    d->job->is_base[point] = true;
    if (seek_is_better(d->job, point, d->best)) d->best = point;
    return seek_cost(d->job, point);
}

static void set_up(const descent *d, double *x) {
    double low[SEEK_MOST_KEY], high[SEEK_MOST_KEY], step[SEEK_MOST_KEY];
    for (int i = 0; i < d->n; i++) {
        int last = d->job->axis[d->key[i]].n - 1;
        low[i] = 0.0;
        high[i] = last;
        x[i] = d->base.at[d->key[i]];
        step[i] = fmax(1.0, first_step * last) * (2.0 * x[i] > last ? -1.0 : 1.0);
    }
    nlopt_set_lower_bounds(d->opt, low);
    nlopt_set_upper_bounds(d->opt, high);
    nlopt_set_initial_step(d->opt, step);
    nlopt_set_xtol_abs1(d->opt, 0.3);
    nlopt_set_maxeval(d->opt, CALLS_PER_KEY * d->n);
}

int seek_descend(seek_job *job, int from) {
    double x[SEEK_MOST_KEY], least;
    descent d = {.job = job, .base = job->place[from], .best = from};
    for (int k = 0; k < job->n_axis; k++)
        if (job->axis[k].is_ordered && job->axis[k].n > 2) d.key[d.n++] = k;
    job->is_base[from] = true;
    if (d.n == 0) return from;
    d.opt = nlopt_create(NLOPT_LN_SBPLX, (unsigned)d.n);
    if (!d.opt || nlopt_set_min_objective(d.opt, ask, &d) < 0) {
        job->status = GRADIN_NO_MEMORY;
        nlopt_destroy(d.opt);
        return from;
    }
    set_up(&d, x);
    nlopt_result result = nlopt_optimize(d.opt, x, &least);
    if (result == NLOPT_OUT_OF_MEMORY) job->status = GRADIN_NO_MEMORY;
    nlopt_destroy(d.opt);
    return d.best;
}
