/* Schedules whose moves need trips of one carrier, against all schedules there are: up to three
 * moves at every start with their trips at every place, second by second. */
#include "studies/schedule/schedule.h"

#include <criterion/criterion.h>
#include <string.h>

enum { MAX_N = 3, HORIZON = 24, N_RANDOM = 300 };

typedef struct instance {
    int n, duration_s[MAX_N], demand[MAX_N], capacity, n_trip[MAX_N], trip_s, trip_demand;
    bool before[MAX_N * MAX_N], apart[MAX_N * MAX_N];
} instance;

typedef struct day {
    const instance *x;
    int used[HORIZON];
    bool is_out[HORIZON]; /* the carrier */
    int start_s[MAX_N];
    int best_s;
} day;

static unsigned long state = 99;

static int draw(int least, int most) {
    state = state * 6364136223846793005UL + 1442695040888963407UL;
    return least + (int)((state >> 40) % (unsigned long)(most - least + 1));
}

static instance draw_instance(void) {
    instance x = {
        .n = draw(2, MAX_N), .capacity = 4, .trip_s = draw(1, 2), .trip_demand = draw(0, 2)};
    for (int i = 0; i < x.n; i++) {
        x.duration_s[i] = draw(2, 5);
        x.demand[i] = draw(0, 4 - x.trip_demand);
        x.n_trip[i] = draw(0, x.duration_s[i] / x.trip_s);
        if (x.n_trip[i] > 2) x.n_trip[i] = 2;
        for (int k = i + 1; k < x.n; k++) x.before[i * x.n + k] = draw(0, 6) == 0;
    }
    return x;
}

static bool use(day *d, int from_s, int until_s, int demand, bool is_trip) {
    bool fits = true;
    for (int t = from_s; t < until_s; t++) {
        d->used[t] += demand;
        fits = fits && d->used[t] <= d->x->capacity && !(is_trip && d->is_out[t]);
    }
    return fits;
}

static void try_move(day *d, int k, int total_s);

static void try_trips(day *d, int k, int from_s, int left, int total_s) {
    const instance *x = d->x;
    int end_s = d->start_s[k] + x->duration_s[k];
    if (left == 0) {
        try_move(d, k + 1, total_s);
        return;
    }
    for (int t = from_s; t + left * x->trip_s <= end_s; t++) {
        bool fits = use(d, t, t + x->trip_s, x->trip_demand, true);
        if (fits) {
            memset(&d->is_out[t], 1, (size_t)x->trip_s);
            try_trips(d, k, t + x->trip_s, left - 1, total_s);
            memset(&d->is_out[t], 0, (size_t)x->trip_s);
        }
        use(d, t, t + x->trip_s, -x->trip_demand, false);
    }
}

/* before[][] only ties a move to later ones, so starts are tried in that order. */
static void try_move(day *d, int k, int total_s) {
    const instance *x = d->x;
    int from_s = 0;
    if (total_s >= d->best_s) return;
    if (k == x->n) {
        d->best_s = total_s;
        return;
    }
    for (int i = 0; i < k; i++)
        if (x->before[i * x->n + k] && d->start_s[i] + x->duration_s[i] > from_s)
            from_s = d->start_s[i] + x->duration_s[i];
    for (int t = from_s; t + x->duration_s[k] < d->best_s; t++) {
        int end_s = t + x->duration_s[k];
        d->start_s[k] = t;
        if (use(d, t, end_s, x->demand[k], false))
            try_trips(d, k, t, x->n_trip[k], end_s > total_s ? end_s : total_s);
        use(d, t, end_s, -x->demand[k], false);
    }
}

static int least_of(const instance *x) {
    day d = {.x = x, .best_s = HORIZON};
    try_move(&d, 0, 0);
    return d.best_s;
}

static void expect_valid(const instance *x, const schedule_result *found, int number) {
    day d = {.x = x};
    const int *trip_start_s = found->trip_start_s;
    for (int k = 0; k < x->n; k++) {
        int end_s = found->start_s[k] + x->duration_s[k];
        cr_assert(use(&d, found->start_s[k], end_s, x->demand[k], false), "instance %d", number);
        for (int i = 0; i < x->n; i++)
            if (x->before[i * x->n + k])
                cr_assert_leq(found->start_s[i] + x->duration_s[i], found->start_s[k]);
        for (int trip = 0; trip < x->n_trip[k]; trip++, trip_start_s++) {
            cr_assert_geq(*trip_start_s, found->start_s[k], "instance %d", number);
            cr_assert_leq(*trip_start_s + x->trip_s, end_s, "instance %d", number);
            cr_assert(use(&d, *trip_start_s, *trip_start_s + x->trip_s, x->trip_demand, true),
                      "instance %d: trip at %d", number, *trip_start_s);
            memset(&d.is_out[*trip_start_s], 1, (size_t)x->trip_s);
        }
    }
}

Test(schedule_trips, valid_enclose_the_least_and_prove_only_the_least) {
    gradin_arena *arena = gradin_arena_create();
    int n_least = 0, n_proven = 0, n_carried = 0;
    for (int number = 0; number < N_RANDOM; number++) {
        instance x = draw_instance();
        schedule_problem p = {.n = x.n,
                              .n_limit = 1,
                              .duration_s = x.duration_s,
                              .demand = x.demand,
                              .capacity = &x.capacity,
                              .before = x.before,
                              .apart = x.apart,
                              .n_trip = x.n_trip,
                              .trip_s = x.trip_s,
                              .trip_demand = &x.trip_demand};
        schedule_result found;
        int least = least_of(&x);
        cr_assert_eq(schedule_solve(arena, &p, &(schedule_budget){.n_node = 10000}, &found, NULL),
                     GRADIN_OK);
        expect_valid(&x, &found, number);
        cr_assert_leq(found.lower_bound_s, least, "instance %d", number);
        cr_assert_geq(found.total_s, least, "instance %d", number);
        n_least += found.total_s == least;
        n_proven += found.total_s == found.lower_bound_s;
        instance free = x;
        memset(free.n_trip, 0, sizeof free.n_trip);
        n_carried += least_of(&free) < least;
    }
    cr_expect_gt(n_carried, N_RANDOM / 10, "the carrier matters in %d only", n_carried);
    cr_expect_gt(n_least, N_RANDOM * 95 / 100, "%d of %d least", n_least, N_RANDOM);
    cr_expect_gt(n_proven, N_RANDOM / 2, "%d proven", n_proven);
    gradin_arena_destroy(arena);
}
