/* How late each move may start when the plan keeps its order and its end: whatever begins now after
 * another's end, be it a move or a trip of the store lift, still does. Such a plan is allowed: what
 * runs at once in it has no ended pair among it now, so all of it shares a moment of the plan as it
 * stands (Helly's theorem for intervals on a line), whose crew, power and lifts suffice. The
 * latest starts are those of the critical path method's backward pass (Kelley and Walker, 1959,
 * from memory) with lags, since trips stay where they are within their move. A finer order, by who
 * hands what to whom, may leave more time; this one leaves no less than it says. */
#include "studies/changeover/changeover.h"

/* A move or a trip: an interval within its move. */
typedef struct stretch {
    int move, from_s, until_s; /* from the move's start */
} stretch;

static int count_stretches(const changeover *c) {
    int n = c->n_move;
    for (int i = 0; i < c->n_move; i++) n += c->move[i].n_trip;
    return n;
}

static void list_stretches(const changeover *c, stretch *s) {
    int n = 0;
    for (int i = 0; i < c->n_move; i++) {
        const gradin_move *m = &c->move[i];
        s[n++] = (stretch){i, 0, m->duration_s};
        for (int k = 0; k < m->n_trip; k++) {
            int from_s = m->trip_start_s[k] - m->start_s;
            s[n++] = (stretch){i, from_s, from_s + c->trip_s};
        }
    }
}

/* Brings the latest start of a's move before b's. True when it was later. */
static bool pull(const changeover *c, const stretch *a, const stretch *b, int *latest_s) {
    const gradin_move *first = &c->move[a->move], *then = &c->move[b->move];
    if (a->move == b->move || first->start_s + a->until_s > then->start_s + b->from_s) return false;
    int most_s = latest_s[b->move] + b->from_s - a->until_s;
    if (latest_s[a->move] <= most_s) return false;
    latest_s[a->move] = most_s;
    return true;
}

/* The starts as they are keep every pair, so none is pulled below its own: it ends. */
static void pass_back(const changeover *c, const stretch *s, int n, int *latest_s) {
    for (bool is_pulled = true; is_pulled;) {
        is_pulled = false;
        for (int b = n - 1; b >= 0; b--)
            for (int a = 0; a < n; a++) is_pulled |= pull(c, &s[a], &s[b], latest_s);
    }
}

bool changeover_find_slack(changeover *c) {
    int n = count_stretches(c);
    stretch *s = gradin_arena_alloc(c->arena, (size_t)n + 1, sizeof *s);
    int *latest_s = gradin_arena_alloc(c->arena, (size_t)c->n_move + 1, sizeof *latest_s);
    if (!s || !latest_s) return changeover_no_memory(c);
    list_stretches(c, s);
    for (int i = 0; i < c->n_move; i++) latest_s[i] = c->out->total_s - c->move[i].duration_s;
    pass_back(c, s, n, latest_s);
    for (int i = 0; i < c->n_move; i++) c->move[i].float_s = latest_s[i] - c->move[i].start_s;
    return true;
}
