/* Limits by the work in a stretch of time: what of the tasks cannot lie outside it must not be more
 * than the limit lets through there (time-table edge finding: Vilim, Timetable edge finding
 * filtering algorithm for discrete cumulative resources, 2011; its reasons: Schutt, Feydy and
 * Stuckey, Explaining time-table-edge-finding propagation for the cumulative resource constraint,
 * 2013; both from memory). Stretches go from an earliest start to a latest end. Upper bounds are
 * lower bounds in time that runs backwards. */
#include "studies/schedule/learn.h"

enum { PAIRS_A_WORK = 16, MOST_IDLE = 8, MOST_PASS = 64 };

typedef struct stretch {
    int from, until, back; /* back 1: time runs backwards */
} stretch;

static int lesser(int a, int b) {
    return a < b ? a : b;
}

static int greater(int a, int b) {
    return a > b ? a : b;
}

static int earliest(const learn *l, const learn_task *t, int back) {
    return l->value[2 * t->variable + back] - back * t->duration;
}

static int latest(const learn *l, const learn_task *t, int back) {
    return -l->value[2 * t->variable + 1 - back] - back * t->duration;
}

static learn_atom starts_from(const learn_task *t, int at, int back) {
    return (learn_atom){2 * t->variable + back, at + back * t->duration};
}

static learn_atom starts_until(const learn_task *t, int at, int back) {
    return (learn_atom){2 * t->variable + 1 - back, -at - back * t->duration};
}

/* For how long a task is in a stretch whatever its start. */
static int inside(const learn *l, const learn_task *t, stretch s) {
    int head = earliest(l, t, s.back) + t->duration - s.from;
    int tail = s.until - latest(l, t, s.back);
    int least = lesser(lesser(head, tail), lesser(t->duration, s.until - s.from));
    return greater(least, 0);
}

/* What the limit lets through in a stretch beside the tasks but one; negative when it cannot. */
static int64_t room_in(const learn *l, const learn_limit *limit, int but, stretch s) {
    int64_t room = (int64_t)limit->capacity * (s.until - s.from);
    for (int i = 0; i < limit->n_task; i++)
        if (i != but) room -= (int64_t)limit->task[i].demand * inside(l, &limit->task[i], s);
    return room;
}

/* Into the pool: why all work of the tasks but one is in a stretch, save so much of it. */
static bool tell_work(learn *l, const learn_limit *limit, int but, stretch s, int64_t save) {
    for (int i = 0; i < limit->n_task; i++) {
        const learn_task *t = &limit->task[i];
        int least = i == but ? 0 : inside(l, t, s);
        int saved = save / t->demand < least ? (int)(save / t->demand) : least;
        save -= (int64_t)saved * t->demand;
        least -= saved;
        if (least > 0 &&
            (!learn_add_to_pool(l, starts_from(t, s.from + least - t->duration, s.back)) ||
             !learn_add_to_pool(l, starts_until(t, s.until - least, s.back))))
            return false;
    }
    return true;
}

static bool tell_overload(learn *l, const learn_limit *limit, stretch s, int64_t over) {
    int first = l->n_pool;
    return tell_work(l, limit, -1, s, over - 1) && learn_refuse_pool(l, first);
}

/* A task that has room in a stretch only for less than it would have there starts later. */
static bool push(learn *l, const learn_limit *limit, int i, stretch s) {
    const learn_task *t = &limit->task[i];
    int64_t room = room_in(l, limit, i, s);
    if (room < 0) return tell_overload(l, limit, s, -room);
    int most = room / t->demand < t->duration ? (int)(room / t->demand) : t->duration;
    int first = l->n_pool, has_more_from = s.from + most + 1 - t->duration;
    if (most == t->duration || earliest(l, t, s.back) < has_more_from) return true;
    int64_t over = (int64_t)t->demand * (most + 1) - room;
    return learn_add_to_pool(l, starts_from(t, has_more_from, s.back)) &&
           tell_work(l, limit, i, s, over - 1) &&
           learn_raise(l, starts_from(t, s.until - most, s.back), first, l->n_pool - first);
}

/* What the limit lets through until then beside what runs in any case. */
static int64_t room_until(const learn_limit *limit, int at, int back) {
    int to = back ? -at : at;
    int64_t room = (int64_t)limit->capacity * to;
    for (int k = 0; k + 1 < limit->n_piece && limit->piece_at[k] < to; k++)
        room -= (int64_t)limit->piece_height[k] *
                (lesser(limit->piece_at[k + 1], to) - limit->piece_at[k]);
    return back ? -room : room;
}

static learn_weight weight_of(const learn *l, const learn_limit *limit, int i, int back) {
    const learn_task *t = &limit->task[i];
    int from = earliest(l, t, back), to = latest(l, t, back), end = from + t->duration;
    int part = greater(0, end - to);
    return (learn_weight){.task = i,
                          .from = from,
                          .until = to + t->duration,
                          .part_from = to,
                          .part = part,
                          .rest_from = greater(to, end),
                          .rest = t->duration - part};
}

/* Nearly in order already. */
static void sort(int *order, const int *key, int n) {
    for (int i = 1; i < n; i++) {
        int held = order[i], k = i;
        for (; k > 0 && key[order[k - 1]] < key[held]; k--) order[k] = order[k - 1];
        order[k] = held;
    }
}

/* The tasks that are not fixed, the last start first; then their ends, each once. */
static void lay_out(const learn *l, learn_limit *limit, int back) {
    int n = limit->n_task;
    for (int i = 0; i < n; i++) {
        limit->from[i] = earliest(l, &limit->task[i], back);
        limit->until[i] = latest(l, &limit->task[i], back) + limit->task[i].duration;
    }
    sort(limit->last_from, limit->from, n);
    sort(limit->last_until, limit->until, n);
    limit->n_weight = limit->n_until = 0;
    for (int at = 0; at < n; at++) {
        int i = limit->last_from[at], k = limit->last_until[at], *end = &limit->end[limit->n_until];
        if (!learn_is_fixed(l, limit->task[i].variable)) {
            learn_weight *w = &limit->weight[limit->n_weight++];
            *w = weight_of(l, limit, i, back);
            w->room = room_until(limit, w->from, back);
        }
        if (learn_is_fixed(l, limit->task[k].variable)) continue;
        if (limit->n_until > 0 && end[-1] == limit->until[k]) continue;
        *end = limit->until[k];
        limit->n_until++;
    }
}

static int rest_in(const learn_weight *w, int until) {
    return lesser(greater(until - w->rest_from, 0), w->rest);
}

/* What a task of a stretch can have in it beyond what it must. */
static int more_in(const learn_weight *w, int until) {
    int part = lesser(greater(until - w->part_from, 0), w->part);
    return lesser(w->part + w->rest, until - w->from) - part - rest_in(w, until);
}

/* All stretches that end there, the shortest first; of the tasks in one, the one that could have
 * most in it beyond what it must is looked at. */
static bool weigh_until(learn *l, const learn_limit *limit, int until, int back) {
    int64_t end = room_until(limit, until, back), work = 0, most_more = 0;
    int most = -1;
    for (int at = 0; at < limit->n_weight; at++) {
        const learn_weight *w = &limit->weight[at];
        stretch s = {w->from, until, back};
        if (w->from >= until) continue;
        int64_t demand = limit->task[w->task].demand, more = demand * more_in(w, until);
        work += demand * rest_in(w, until);
        if (more > most_more) most_more = more, most = w->task;
        int64_t spare = end - w->room - work;
        if (spare >= most_more) continue;
        if (spare < 0) return tell_overload(l, limit, s, -room_in(l, limit, -1, s));
        if (!push(l, limit, most, s)) return false;
        most_more = 0;
    }
    return true;
}

static bool weigh(learn *l, learn_limit *limit) {
    for (int back = 0; back < 2 && l->n_done == l->n_trail; back++) {
        lay_out(l, limit, back);
        l->n_work += limit->n_weight * limit->n_until / PAIRS_A_WORK;
        for (int k = 0; k < limit->n_until; k++)
            if (!weigh_until(l, limit, limit->end[k], back)) return false;
    }
    return true;
}

/* A limit that has told nothing for long is passed over more and more often. */
bool learn_weigh_limit(learn *l, learn_limit *limit) {
    if (limit->n_pass > 0) {
        limit->n_pass--;
        return true;
    }
    bool is_well = weigh(l, limit);
    if (!is_well || l->n_done < l->n_trail)
        limit->n_idle = 0;
    else if (++limit->n_idle > MOST_IDLE)
        limit->n_pass = lesser(limit->n_idle - MOST_IDLE, MOST_PASS);
    return is_well;
}
