/* Limits by what runs in any case: between its latest start and its earliest end a task runs
 * whatever its start; where such parts leave no room, others go later or earlier (time table; its
 * reasons at one point of time: Schutt, Feydy, Stuckey and Wallace, Explaining the cumulative
 * propagator, 2011, from memory). */
#include "studies/schedule/learn.h"

bool learn_open_limit(learn *l, learn_limit *limit, int most) {
    size_t n = (size_t)most + 1;
    *limit = (learn_limit){.n_task = 0};
    limit->task = gradin_arena_alloc(l->arena, n, sizeof *limit->task);
    int **array[] = {&limit->part_from, &limit->part_until, &limit->by_from,
                     &limit->by_until,  &limit->last_from,  &limit->last_until,
                     &limit->from,      &limit->until,      &limit->end};
    limit->weight = gradin_arena_alloc(l->arena, n, sizeof *limit->weight);
    for (size_t i = 0; i < sizeof array / sizeof *array; i++) {
        *array[i] = gradin_arena_alloc(l->arena, n, sizeof(int));
        if (!*array[i]) return false;
    }
    limit->piece_at = gradin_arena_alloc(l->arena, 2 * n + 1, sizeof(int));
    limit->piece_height = gradin_arena_alloc(l->arena, 2 * n + 1, sizeof(int));
    return limit->task && limit->weight && limit->piece_at && limit->piece_height;
}

void learn_add_task(learn_limit *limit, learn_task task) {
    if (task.duration <= 0 || task.demand <= 0) return;
    int i = limit->n_task++;
    limit->task[i] = task;
    limit->by_from[i] = limit->by_until[i] = limit->last_from[i] = limit->last_until[i] = i;
}

static int earliest(const learn *l, const learn_task *t) {
    return l->value[2 * t->variable];
}

static int latest(const learn *l, const learn_task *t) {
    return -l->value[2 * t->variable + 1];
}

/* Nearly in order already. */
static void sort(int *order, const int *key, int n) {
    for (int i = 1; i < n; i++) {
        int held = order[i], k = i;
        for (; k > 0 && key[order[k - 1]] > key[held]; k--) order[k] = order[k - 1];
        order[k] = held;
    }
}

static bool has_part(const learn_limit *limit, int i) {
    return limit->part_from[i] < limit->part_until[i];
}

static void step(learn_limit *limit, int at, int by) {
    int n = limit->n_piece, height = n > 0 ? limit->piece_height[n - 1] : 0;
    if (n == 0 || limit->piece_at[n - 1] < at) {
        limit->piece_at[n] = at;
        limit->n_piece = ++n;
    }
    limit->piece_height[n - 1] = height + by;
}

static void build(const learn *l, learn_limit *limit) {
    int n = limit->n_task;
    for (int i = 0; i < n; i++) {
        const learn_task *t = &limit->task[i];
        limit->part_from[i] = latest(l, t);
        limit->part_until[i] = earliest(l, t) + t->duration;
    }
    sort(limit->by_from, limit->part_from, n);
    sort(limit->by_until, limit->part_until, n);
    limit->n_piece = 0;
    for (int at = 0, end = 0; end < n;) {
        int i = at < n ? limit->by_from[at] : -1, k = limit->by_until[end];
        if (i >= 0 && !has_part(limit, i)) {
            at++;
        } else if (!has_part(limit, k)) {
            end++;
        } else if (i >= 0 && limit->part_from[i] < limit->part_until[k]) {
            step(limit, limit->part_from[i], limit->task[i].demand);
            at++;
        } else {
            step(limit, limit->part_until[k], -limit->task[k].demand);
            end++;
        }
    }
}

bool learn_add_to_pool(learn *l, learn_atom a) {
    if (l->base[a.bound] >= a.value) return true;
    if (gradin_arena_grow(l->arena, (void **)&l->pool, l->n_pool, &l->pool_capacity,
                          sizeof *l->pool) != GRADIN_OK) {
        l->is_out_of_memory = true;
        return false;
    }
    l->pool[l->n_pool++] = a;
    return true;
}

bool learn_refuse_pool(learn *l, int first) {
    for (l->n_conflict = 0; first + l->n_conflict < l->n_pool; l->n_conflict++)
        l->conflict[l->n_conflict] = l->pool[first + l->n_conflict];
    return false;
}

/* Into the pool: tasks that run at a time in any case, but one, and demand more than spare. */
static bool tell_parts(learn *l, const learn_limit *limit, int at, int but, int spare) {
    int over = -1 - spare;
    for (int i = 0; i < limit->n_task; i++)
        if (i != but && limit->part_from[i] <= at && at < limit->part_until[i])
            over += limit->task[i].demand;
    for (int i = 0; i < limit->n_task; i++) {
        const learn_task *t = &limit->task[i];
        if (i == but || limit->part_from[i] > at || at >= limit->part_until[i]) continue;
        if (t->demand <= over) {
            over -= t->demand;
            continue;
        }
        if (!learn_add_to_pool(l, (learn_atom){2 * t->variable, at - t->duration + 1}) ||
            !learn_add_to_pool(l, (learn_atom){2 * t->variable + 1, -at}))
            return false;
    }
    return true;
}

static bool tell_overload(learn *l, const learn_limit *limit, int at) {
    int first = l->n_pool;
    return tell_parts(l, limit, at, -1, limit->capacity) && learn_refuse_pool(l, first);
}

/* A task that would run at a time without room for it starts after it, or ends before it. */
static bool keep_off(learn *l, const learn_limit *limit, int i, int at, bool is_later) {
    const learn_task *t = &limit->task[i];
    int first = l->n_pool;
    learn_atom runs = {2 * t->variable, at - t->duration + 1}, off = {2 * t->variable, at + 1};
    if (!is_later) {
        runs = (learn_atom){2 * t->variable + 1, -at};
        off = (learn_atom){2 * t->variable + 1, t->duration - at};
    }
    return learn_add_to_pool(l, runs) && tell_parts(l, limit, at, i, limit->capacity - t->demand) &&
           learn_raise(l, off, first, l->n_pool - first);
}

static bool is_own(const learn_limit *limit, int i, int piece) {
    return has_part(limit, i) && limit->piece_at[piece] >= limit->part_from[i] &&
           limit->piece_at[piece] < limit->part_until[i];
}

static bool push_later(learn *l, const learn_limit *limit, int i) {
    const learn_task *t = &limit->task[i];
    for (int k = 0; k + 1 < limit->n_piece; k++) {
        int until = limit->piece_at[k + 1];
        if (until <= earliest(l, t)) continue;
        if (limit->piece_at[k] >= earliest(l, t) + t->duration) break;
        if (limit->piece_height[k] + t->demand <= limit->capacity || is_own(limit, i, k)) continue;
        while (earliest(l, t) < until) {
            int end = earliest(l, t) + t->duration;
            if (!keep_off(l, limit, i, (end < until ? end : until) - 1, true)) return false;
        }
    }
    return true;
}

static bool push_earlier(learn *l, const learn_limit *limit, int i) {
    const learn_task *t = &limit->task[i];
    for (int k = limit->n_piece - 2; k >= 0; k--) {
        int from = limit->piece_at[k];
        if (from >= latest(l, t) + t->duration) continue;
        if (limit->piece_at[k + 1] <= latest(l, t)) break;
        if (limit->piece_height[k] + t->demand <= limit->capacity || is_own(limit, i, k)) continue;
        while (latest(l, t) + t->duration > from)
            if (!keep_off(l, limit, i, from > latest(l, t) ? from : latest(l, t), false))
                return false;
    }
    return true;
}

bool learn_fill_limit(learn *l, learn_limit *limit) {
    int most = 0;
    build(l, limit);
    limit->is_unweighed = true;
    l->n_work += 2 * limit->n_task;
    for (int k = 0; k < limit->n_piece; k++) {
        if (limit->piece_height[k] > limit->capacity)
            return tell_overload(l, limit, limit->piece_at[k]);
        if (limit->piece_height[k] > most) most = limit->piece_height[k];
    }
    for (int i = 0; i < limit->n_task; i++) {
        const learn_task *t = &limit->task[i];
        if (most + t->demand <= limit->capacity || learn_is_fixed(l, t->variable)) continue;
        l->n_work += limit->n_piece / 4;
        if (!push_later(l, limit, i) || !push_earlier(l, limit, i)) return false;
    }
    return true;
}
