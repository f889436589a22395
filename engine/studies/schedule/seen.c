/* Dominance between partial schedules of the precedence tree (cutset rule: Demeulemeester and
 * Herroelen, A branch-and-bound procedure for the multiple resource-constrained project scheduling
 * problem, 1992, from memory). Of two that have started the same moves, the later one in the search
 * leads to nothing better when the earlier one has gone no farther in time and everything that
 * still runs ends no later in it: whatever completes the one completes the other. Holds for limits
 * and pairs kept apart; not with trips of a carrier, which are not compared. */
#include "studies/schedule/seen.h"

#include <string.h>

enum { MAX_STATE = 1 << 17, INTS_A_STATE = 8 };

/* Distinct bits for each move (splitmix64, Steele, Lea and Flood, 2014, from memory). */
static uint64_t bits_of(uint64_t k) {
    uint64_t z = (k + 1u) * 0x9e3779b97f4a7c15u;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

bool seen_open(gradin_arena *arena, int n, long most, schedule_seen *seen) {
    *seen = (schedule_seen){.n = n, .n_word = (n + 63) / 64};
    if (most > MAX_STATE) most = MAX_STATE;
    if (n < 12 && most > 16 << n) most = 16 << n; /* few sets of so few moves */
    size_t n_bucket = 1;
    while (n_bucket < (size_t)most) n_bucket *= 2;
    seen->mask = n_bucket - 1;
    seen->most = (int)most;
    seen->most_end = (int)most * INTS_A_STATE;
    seen->first = gradin_arena_alloc(arena, n_bucket, sizeof *seen->first);
    seen->state = gradin_arena_alloc(arena, (size_t)most + 1, sizeof *seen->state);
    seen->started =
        gradin_arena_alloc(arena, ((size_t)most + 1) * (size_t)seen->n_word, sizeof(uint64_t));
    seen->end = gradin_arena_alloc(arena, (size_t)seen->most_end + 1, sizeof *seen->end);
    return seen->first && seen->state && seen->started && seen->end;
}

/* The started moves as bits, [n_word]; their hash. */
static uint64_t gather(const schedule_seen *seen, const schedule_line *l, uint64_t *started) {
    uint64_t hash = 0;
    for (int i = 0; i < seen->n_word; i++) started[i] = 0;
    for (int k = 0; k < seen->n; k++) {
        if (l->start_s[k] < 0) continue;
        started[k / 64] |= UINT64_C(1) << (k % 64);
        hash ^= bits_of((uint64_t)k);
    }
    return hash;
}

static bool is_no_later(const schedule_seen *seen, const seen_state *old, const schedule_line *l,
                        int now_s) {
    if (old->now_s > now_s) return false;
    for (int i = 0; i < old->n_running; i++) {
        const seen_end *e = &seen->end[old->first_end + i];
        int end_s = line_end(l, e->move);
        if (e->end_s > (end_s > now_s ? end_s : now_s)) return false;
    }
    return true;
}

static void keep(schedule_seen *seen, const schedule_line *l, int now_s, uint64_t bucket,
                 const uint64_t *started) {
    if (seen->n_state == seen->most || seen->n_end + seen->n > seen->most_end) return;
    seen_state *s = &seen->state[++seen->n_state]; /* 0 ends a list */
    *s = (seen_state){.now_s = now_s, .first_end = seen->n_end, .next = seen->first[bucket]};
    memcpy(seen->started + (size_t)seen->n_state * (size_t)seen->n_word, started,
           (size_t)seen->n_word * sizeof *started);
    for (int k = 0; k < seen->n; k++) {
        if (l->start_s[k] < 0 || line_end(l, k) <= now_s) continue;
        seen->end[seen->n_end++] = (seen_end){k, line_end(l, k)};
        s->n_running++;
    }
    seen->first[bucket] = seen->n_state;
}

bool seen_is_dominated(schedule_seen *seen, const schedule_line *l, int now_s) {
    uint64_t started[SEEN_WORDS];
    uint64_t bucket = gather(seen, l, started) & seen->mask;
    size_t row = (size_t)seen->n_word;
    for (int i = seen->first[bucket]; i > 0; i = seen->state[i].next)
        if (memcmp(seen->started + (size_t)i * row, started, row * sizeof *started) == 0 &&
            is_no_later(seen, &seen->state[i], l, now_s))
            return true;
    keep(seen, l, now_s, bucket, started);
    return false;
}
