/* Lower bounds of the total time: the longest chain, the work that each limit must let through (all
 * of it, and all that comes before or after one move), and sets of moves of which no two may
 * overlap (one-machine bound: least head + sum of durations + least tail; textbook bounds of
 * resource-constrained project scheduling). */
#include "studies/schedule/schedule.h"

bool schedule_order(const schedule_problem *p, int *order, int *stuck) {
    int n = p->n, done = 0;
    bool is_placed[n > 0 ? n : 1];
    for (int i = 0; i < n; i++) is_placed[i] = false;
    while (done < n) {
        int found = -1;
        for (int k = 0; k < n && found < 0; k++) {
            if (is_placed[k]) continue;
            bool is_free = true;
            for (int i = 0; i < n && is_free; i++) is_free = is_placed[i] || !p->before[i * n + k];
            if (is_free) found = k;
        }
        if (found < 0) break;
        is_placed[found] = true;
        order[done++] = found;
    }
    for (int k = 0; k < n && done < n; k++)
        if (!is_placed[k]) *stuck = k;
    return done == n;
}

static int at_least(int a, int b) {
    return a > b ? a : b;
}

void schedule_close(const schedule_problem *p, const int *order, bool *after) {
    int n = p->n;
    for (int i = 0; i < n * n; i++) after[i] = p->before[i];
    for (int at = n - 1; at >= 0; at--) {
        int i = order[at];
        for (int k = 0; k < n; k++)
            for (int m = 0; p->before[i * n + k] && m < n; m++)
                after[i * n + m] |= after[k * n + m];
    }
}

int64_t schedule_work(const schedule_problem *p, int k, int limit) {
    int64_t trips_s = (int64_t)schedule_trips(p, k) * p->trip_s;
    if (limit == p->n_limit) return trips_s;
    return (int64_t)p->duration_s[k] * p->demand[k * p->n_limit + limit] +
           (trips_s > 0 ? trips_s * p->trip_demand[limit] : 0);
}

int schedule_time_of(const schedule_problem *p, int limit, int64_t work) {
    int capacity = schedule_capacity(p, limit);
    return capacity > 0 ? (int)((work + capacity - 1) / capacity) : 0;
}

/* Time that the moves of one column (is_column) or row of `after` take for their work alone. */
static int work_s(const schedule_problem *p, const bool *after, int of, bool is_column) {
    int n = p->n, longest_s = 0;
    for (int r = 0; r <= p->n_limit; r++) {
        int64_t work = 0;
        for (int i = 0; i < n; i++)
            if (is_column ? after[i * n + of] : after[of * n + i]) work += schedule_work(p, i, r);
        longest_s = at_least(longest_s, schedule_time_of(p, r, work));
    }
    return longest_s;
}

void schedule_heads(const schedule_problem *p, const int *order, const bool *after, int *head_s) {
    int n = p->n;
    for (int at = 0; at < n; at++) {
        int k = order[at];
        head_s[k] = after ? work_s(p, after, k, true) : 0;
        for (int i = 0; i < n; i++)
            if (p->before[i * n + k]) head_s[k] = at_least(head_s[k], head_s[i] + p->duration_s[i]);
    }
}

void schedule_tails(const schedule_problem *p, const int *order, const bool *after, int *tail_s) {
    int n = p->n;
    for (int at = n - 1; at >= 0; at--) {
        int i = order[at], after_s = after ? work_s(p, after, i, false) : 0;
        for (int k = 0; k < n; k++)
            if (p->before[i * n + k]) after_s = at_least(after_s, tail_s[k]);
        tail_s[i] = p->duration_s[i] + after_s;
    }
}

bool schedule_excludes(const schedule_problem *p, int i, int k) {
    int n = p->n;
    if (p->apart[i * n + k] || p->before[i * n + k] || p->before[k * n + i]) return true;
    for (int r = 0; r < p->n_limit; r++)
        if (p->demand[i * p->n_limit + r] + p->demand[k * p->n_limit + r] > p->capacity[r])
            return true;
    return false;
}

/* Work over capacity, rounded up. */
static int limit_bound(const schedule_problem *p, int limit) {
    int64_t work = 0;
    for (int i = 0; i < p->n; i++) work += schedule_work(p, i, limit);
    return schedule_time_of(p, limit, work);
}

static int set_bound(const schedule_problem *p, const int *head_s, const int *tail_s,
                     const int *member, int n_member) {
    int head = head_s[member[0]], sum = 0, tail = tail_s[member[0]] - p->duration_s[member[0]];
    for (int m = 0; m < n_member; m++) {
        int i = member[m];
        if (head_s[i] < head) head = head_s[i];
        if (tail_s[i] - p->duration_s[i] < tail) tail = tail_s[i] - p->duration_s[i];
        sum += p->duration_s[i];
    }
    return head + sum + tail;
}

/* Grows a set from `first` by the longest move that excludes all its members; the best bound on
 * the way. */
static int grow_bound(const schedule_problem *p, const int *head_s, const int *tail_s, int first,
                      int *member) {
    int n_member = 1, best = 0;
    member[0] = first;
    for (;;) {
        int next = -1;
        best = at_least(best, set_bound(p, head_s, tail_s, member, n_member));
        for (int k = 0; k < p->n; k++) {
            bool fits = next < 0 || p->duration_s[k] > p->duration_s[next];
            for (int m = 0; m < n_member && fits; m++)
                fits = member[m] != k && schedule_excludes(p, member[m], k);
            if (fits) next = k;
        }
        if (next < 0) return best;
        member[n_member++] = next;
    }
}

int schedule_lower_bound(const schedule_problem *p, const int *head_s, const int *tail_s,
                         int *scratch) {
    int bound = 0;
    for (int i = 0; i < p->n; i++) bound = at_least(bound, head_s[i] + tail_s[i]);
    for (int r = 0; r <= p->n_limit; r++) bound = at_least(bound, limit_bound(p, r));
    for (int i = 0; i < p->n; i++)
        bound = at_least(bound, grow_bound(p, head_s, tail_s, i, scratch));
    return bound;
}

int schedule_least(gradin_arena *arena, const schedule_problem *p, const int *order) {
    size_t n = (size_t)p->n;
    int *times_s = gradin_arena_alloc(arena, 3 * n + 1, sizeof *times_s);
    bool *after = gradin_arena_alloc(arena, n * n + 1, sizeof *after);
    if (!times_s || !after) return -1;
    schedule_close(p, order, after);
    schedule_heads(p, order, after, times_s);
    schedule_tails(p, order, after, times_s + n);
    return schedule_lower_bound(p, times_s, times_s + n, times_s + 2 * n);
}
