/* Events of a performance expected over each of several limits: mean of the seats, what a tenth of
 * them exceeds, and the worst. The chances and their bounds are those of season_expect.c. */
#include "studies/season/season.h"
#include "studies/shared/spread.h"

#include <stdlib.h>

static int by_value(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* The limit that seats are judged by and the others, each once, lowest first. */
static void list_limits(gradin_season *s) {
    double limit[GRADIN_MAX_LIMIT + 1];
    int n = 0;
    if (!isnan(s->limit_dba)) limit[n++] = s->limit_dba;
    for (int i = 0; i < s->traffic->n_more_limit && n <= GRADIN_MAX_LIMIT; i++)
        limit[n++] = s->traffic->more_limit_dba[i];
    qsort(limit, (size_t)n, sizeof *limit, by_value);
    for (int i = 0; i < n; i++)
        if (i == 0 || limit[i] != limit[i - 1])
            s->limit_count[s->n_limit++] = (gradin_limit_count){.limit_dba = limit[i]};
}

/* Counts of all seats, [n_seat] each. */
typedef struct counts {
    double *low, *expected, *high;
} counts;

static void count_limit(const gradin_season *s, const season_groups *groups, double limit_dba,
                        const counts *to) {
#pragma omp parallel for schedule(static)
    for (int seat = 0; seat < s->model->seats.n_seat; seat++) {
        season_chances show =
            season_expect_show(s, groups, seat, limit_dba, s->model->criterion.confidence);
        to->low[seat] = show.low / s->n_day;
        to->expected[seat] = show.expected / s->n_day;
        to->high[seat] = show.high / s->n_day;
    }
}

static double mean_of(const double *value, int n) {
    double sum = 0.0;
    for (int i = 0; i < n; i++) sum += value[i];
    return sum / n;
}

static gradin_status sum_up(gradin_arena *arena, const counts *of, int n, gradin_limit_count *c) {
    gradin_spread low, expected, high;
    gradin_status status = studies_spread(arena, of->low, n, &low);
    if (status == GRADIN_OK) status = studies_spread(arena, of->expected, n, &expected);
    if (status == GRADIN_OK) status = studies_spread(arena, of->high, n, &high);
    if (status != GRADIN_OK) return status;
    c->mean_low = mean_of(of->low, n);
    c->mean = mean_of(of->expected, n);
    c->mean_high = mean_of(of->high, n);
    c->p90_low = low.p90;
    c->p90 = expected.p90;
    c->p90_high = high.p90;
    for (int i = 1; i < n; i++)
        if (of->expected[i] > of->expected[c->worst_seat]) c->worst_seat = i;
    c->worst_low = of->low[c->worst_seat];
    c->worst = of->expected[c->worst_seat];
    c->worst_high = of->high[c->worst_seat];
    return GRADIN_OK;
}

gradin_status season_limits(gradin_arena *arena, gradin_season *s, const season_groups *groups) {
    int n = s->model->seats.n_seat;
    counts of = {.low = gradin_arena_alloc(arena, (size_t)n, sizeof(double)),
                 .expected = gradin_arena_alloc(arena, (size_t)n, sizeof(double)),
                 .high = gradin_arena_alloc(arena, (size_t)n, sizeof(double))};
    gradin_status status = of.low && of.expected && of.high ? GRADIN_OK : GRADIN_NO_MEMORY;
    list_limits(s);
    for (int i = 0; status == GRADIN_OK && i < s->n_limit; i++) {
        count_limit(s, groups, s->limit_count[i].limit_dba, &of);
        status = sum_up(arena, &of, n, &s->limit_count[i]);
    }
    return status;
}
