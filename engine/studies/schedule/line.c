/* A line of time as pieces between starts and ends, each with what is in use meanwhile. A move that
 * is too much for a piece starts after it, so the earliest start is found by jumps. */
#include "studies/schedule/line.h"

#include <string.h>

/* Limits are compared four at a time: most of a search's time goes through that. */
typedef int lane __attribute__((vector_size(16), may_alias));
enum { LANES = sizeof(lane) / sizeof(int) };

static int *used_in(const schedule_line *l, int piece) {
    return l->used + (size_t)piece * (size_t)l->width;
}

/* Links of pairs[i * n + k]; is_column: to each k all its i, else to each i all its k. */
static bool open_links(gradin_arena *arena, const bool *pairs, int n, bool is_column,
                       schedule_links *out) {
    int count = 0;
    for (int i = 0; i < n * n; i++) count += pairs[i];
    out->first = gradin_arena_alloc(arena, (size_t)n + 1, sizeof(int));
    out->list = gradin_arena_alloc(arena, (size_t)count + 1, sizeof(int));
    if (!out->first || !out->list) return false;
    count = 0;
    for (int k = 0; k < n; k++) {
        for (int i = 0; i < n; i++)
            if (pairs[is_column ? i * n + k : k * n + i]) out->list[count++] = i;
        out->first[k + 1] = count;
    }
    return true;
}

/* Where nothing is to be held, whatever is in use leaves room. */
static bool open_room(gradin_arena *arena, schedule_line *l) {
    const schedule_problem *p = l->p;
    size_t n = (size_t)p->n * (size_t)l->width;
    l->room = gradin_arena_alloc(arena, n, sizeof *l->room);
    l->trip_room = gradin_arena_alloc(arena, n, sizeof *l->trip_room);
    if (!l->room || !l->trip_room) return false;
    for (int k = 0; k < p->n; k++) {
        int *room = l->room + (size_t)k * (size_t)l->width;
        int *trip_room = l->trip_room + (size_t)k * (size_t)l->width;
        for (int r = 0; r < p->n_limit; r++) {
            room[r] = p->capacity[r] - p->demand[k * p->n_limit + r];
            trip_room[r] = room[r] - (p->trip_demand ? p->trip_demand[r] : 0);
        }
        room[p->n_limit] = INT32_MAX;
        trip_room[p->n_limit] = 0;
    }
    return true;
}

bool line_open(gradin_arena *arena, const schedule_problem *p, schedule_line *l) {
    size_t n = (size_t)p->n;
    *l = (schedule_line){.p = p,
                         .first_trip = gradin_arena_alloc(arena, n + 1, sizeof(int)),
                         .width = (p->n_limit + LANES) / LANES * LANES};
    if (!l->first_trip || !open_room(arena, l) ||
        !open_links(arena, p->before, p->n, true, &l->earlier) ||
        !open_links(arena, p->before, p->n, false, &l->later) ||
        !open_links(arena, p->apart, p->n, false, &l->apart))
        return false;
    for (int k = 0; k < p->n; k++) l->first_trip[k + 1] = l->first_trip[k] + schedule_trips(p, k);
    size_t n_trip = (size_t)l->first_trip[p->n], most = 2 * (n + n_trip) + 2;
    l->start_s = gradin_arena_alloc(arena, n + 1, sizeof(int));
    l->trip_start_s = gradin_arena_alloc(arena, n_trip + 1, sizeof(int));
    l->at_s = gradin_arena_alloc(arena, most, sizeof(int));
    l->used = gradin_arena_alloc(arena, most * (size_t)l->width, sizeof(int));
    if (!l->start_s || !l->trip_start_s || !l->at_s || !l->used) return false;
    line_clear(l);
    return true;
}

void line_clear(schedule_line *l) {
    for (int i = 0; i < l->p->n; i++) l->start_s[i] = -1;
    l->n_at = 1;
    l->at_s[0] = 0;
    memset(l->used, 0, (size_t)l->width * sizeof *l->used);
}

int line_total(const schedule_line *l) {
    int total_s = 0;
    for (int i = 0; i < l->p->n; i++)
        if (l->start_s[i] >= 0 && line_end(l, i) > total_s) total_s = line_end(l, i);
    return total_s;
}

/* The last piece that begins at t or before; piece `low` does. The half is chosen without a branch,
 * which could not be foretold. */
static int piece_from(const schedule_line *l, int low, int t_s) {
    const int *at_s = l->at_s + low;
    for (int n = l->n_at - low, half; n > 1; n -= half) {
        half = n / 2;
        at_s += at_s[half] <= t_s ? half : 0;
    }
    return (int)(at_s - l->at_s);
}

static int piece_at(const schedule_line *l, int t_s) {
    return piece_from(l, 0, t_s);
}

/* Does a piece's use leave room for k, and for one of its trips? */
static bool has_room(const schedule_line *l, int piece, int k, bool is_trip) {
    const int *used = used_in(l, piece);
    const int *room = (is_trip ? l->trip_room : l->room) + (size_t)k * (size_t)l->width;
    lane over = {0};
    for (int r = 0; r < l->width; r += LANES)
        over |= *(const lane *)(const void *)(used + r) > *(const lane *)(const void *)(room + r);
    return (over[0] | over[1] | over[2] | over[3]) == 0;
}

/* Is it only a trip under way that leaves no room for k? */
static bool is_trip_in_the_way(const schedule_line *l, int piece, int k) {
    const schedule_problem *p = l->p;
    const int *used = used_in(l, piece), *wanted = p->demand + (size_t)k * (size_t)p->n_limit;
    if (used[p->n_limit] == 0) return false;
    for (int r = 0; r < p->n_limit; r++)
        if (used[r] - p->trip_demand[r] + wanted[r] > p->capacity[r]) return false;
    return true;
}

/* Where the last piece without room in [from, until) ends; from when all have room. */
static int after_full(schedule_line *l, int k, int from_s, int until_s, bool is_trip) {
    if (until_s <= from_s) return from_s;
    int first = piece_at(l, from_s), last = piece_from(l, first, until_s - 1);
    for (int i = last; i >= first; i--) {
        if (has_room(l, i, k, is_trip)) continue;
        if (!is_trip && is_trip_in_the_way(l, i, k)) l->is_carrier_tight = true;
        return l->at_s[i + 1];
    }
    return from_s;
}

static int after_apart(const schedule_line *l, int k, int from_s) {
    int t_s = from_s, until_s = from_s + l->p->duration_s[k];
    for (int at = l->apart.first[k]; at < l->apart.first[k + 1]; at++) {
        int i = l->apart.list[at];
        if (l->start_s[i] >= 0 && l->start_s[i] < until_s && line_end(l, i) > t_s)
            t_s = line_end(l, i);
    }
    return t_s;
}

/* Puts the trips of k one after another, each as early as it goes; the end of the last. */
static int put_trips(schedule_line *l, int k, int from_s) {
    int t_s = from_s;
    for (int trip = l->first_trip[k]; trip < l->first_trip[k + 1]; trip++) {
        for (int free_s; (free_s = after_full(l, k, t_s, t_s + l->p->trip_s, true)) > t_s;)
            t_s = free_s;
        l->trip_start_s[trip] = t_s;
        t_s += l->p->trip_s;
    }
    return t_s;
}

int line_earliest(schedule_line *l, int k, int from_s) {
    int duration_s = l->p->duration_s[k];
    for (int t_s = from_s, next_s;; t_s = next_s) {
        next_s = after_apart(l, k, t_s);
        if (next_s == t_s) next_s = after_full(l, k, t_s, t_s + duration_s, false);
        if (next_s > t_s) continue;
        next_s = put_trips(l, k, t_s) - duration_s;
        if (next_s <= t_s) return t_s;
        l->is_carrier_tight = true;
    }
}

/* Makes a piece begin at t; its index. */
static int split(schedule_line *l, int t_s) {
    int i = piece_at(l, t_s);
    size_t row = (size_t)l->width * sizeof *l->used;
    if (l->at_s[i] == t_s) return i;
    size_t n_behind = (size_t)(l->n_at - i - 1);
    memmove(&l->at_s[i + 2], &l->at_s[i + 1], n_behind * sizeof *l->at_s);
    memmove(used_in(l, i + 2), used_in(l, i + 1), n_behind * row);
    memcpy(used_in(l, i + 1), used_in(l, i), row);
    l->at_s[i + 1] = t_s;
    l->n_at++;
    return i + 1;
}

/* A piece like the one before it is one with it. */
static void join(schedule_line *l, int i) {
    size_t row = (size_t)l->width * sizeof *l->used;
    if (i == 0 || memcmp(used_in(l, i), used_in(l, i - 1), row) != 0) return;
    size_t n_behind = (size_t)(l->n_at - i - 1);
    memmove(&l->at_s[i], &l->at_s[i + 1], n_behind * sizeof *l->at_s);
    memmove(used_in(l, i), used_in(l, i + 1), n_behind * row);
    l->n_at--;
}

/* Adds sign times a demand and so many trips to [start, end). */
static void use(schedule_line *l, int start_s, int end_s, const int *demand, int n_trip, int sign) {
    if (end_s <= start_s) return;
    int first = split(l, start_s), last = split(l, end_s);
    for (int i = first; i < last; i++) {
        int *used = used_in(l, i);
        for (int r = 0; r < l->p->n_limit; r++) used[r] += sign * demand[r];
        used[l->p->n_limit] += sign * n_trip;
    }
    join(l, last);
    join(l, first);
}

static void use_move(schedule_line *l, int k, int sign) {
    const schedule_problem *p = l->p;
    use(l, l->start_s[k], line_end(l, k), p->demand + (size_t)k * (size_t)p->n_limit, 0, sign);
    for (int trip = l->first_trip[k]; trip < l->first_trip[k + 1]; trip++)
        use(l, l->trip_start_s[trip], l->trip_start_s[trip] + p->trip_s, p->trip_demand, 1, sign);
}

void line_put(schedule_line *l, int k, int start_s) {
    l->start_s[k] = start_s;
    use_move(l, k, 1);
}

void line_take(schedule_line *l, int k) {
    use_move(l, k, -1);
    l->start_s[k] = -1;
}
