/* How late each move may start when the plan keeps its end and who hands what to whom
 * (network.c). The latest starts are those of the critical path method's backward pass (Kelley and
 * Walker, 1959, from memory) with lags, since trips stay where they are within their move. In
 * working time: a rest that comes meanwhile costs no float. A machine that would have to wait for
 * the end of a rest in between may not start so late. */
#include "studies/changeover/changeover.h"

typedef struct slack {
    const changeover *c;
    const network *g;
    int *latest_s; /* [n_move] */
} slack;

/* Where a stretch lies within its move, as it is planned. */
static int from_of(const slack *f, int i) {
    const stretch *s = &f->g->item[i];
    const gradin_move *m = &f->c->move[s->move];
    return s->trip < 0 ? 0 : m->trip_start_s[s->trip] - m->start_s;
}

static int until_of(const slack *f, int i) {
    const stretch *s = &f->g->item[i];
    const gradin_move *m = &f->c->move[s->move];
    return s->trip < 0 ? m->end_s - m->start_s : from_of(f, i) + f->c->trip_s;
}

/* Brings the latest start of the first's move before the second's. True when it was later. */
static bool pull(const slack *f, int first, int second) {
    int a = f->g->item[first].move, b = f->g->item[second].move;
    int most_s = f->latest_s[b] + from_of(f, second) - until_of(f, first);
    if (a == b || f->latest_s[a] <= most_s) return false;
    f->latest_s[a] = most_s;
    return true;
}

/* Would the move last as long from there? */
static bool is_as_long(const slack *f, int move, int from_s) {
    const changeover *c = f->c;
    const gradin_move *m = &c->move[move];
    int piece_s = changeover_piece(c, move, m->duration_s, c->detail[move].piece_s);
    int start_s = from_s, end_s = changeover_finish(c, &start_s, m->duration_s, piece_s);
    if (start_s != from_s || end_s - start_s > m->end_s - m->start_s) return false;
    for (int k = 0; k < m->n_trip; k++) {
        int trip_s = from_s + m->trip_start_s[k] - m->start_s, at_s = trip_s;
        if (changeover_finish(c, &at_s, c->trip_s, c->trip_s) != trip_s + c->trip_s) return false;
    }
    return true;
}

static bool trim(const slack *f, int move) {
    const gradin_move *m = &f->c->move[move];
    int from_s = f->latest_s[move];
    if (m->state != GRADIN_MOVE_PLANNED) from_s = m->start_s;
    while (from_s > m->start_s && !is_as_long(f, move, from_s)) from_s--;
    bool is_trimmed = from_s < f->latest_s[move];
    f->latest_s[move] = from_s;
    return is_trimmed;
}

/* The starts as they are keep every link, so none is pulled below its own: it ends. */
static void pass_back(const slack *f) {
    for (bool is_pulled = true; is_pulled;) {
        is_pulled = false;
        for (int k = f->g->n - 1; k >= 0; k--)
            for (int at = f->g->first[k]; at < f->g->first[k + 1]; at++)
                is_pulled |= pull(f, f->g->earlier[at], k);
        for (int i = 0; i < f->c->n_move; i++) is_pulled |= trim(f, i);
    }
}

bool changeover_find_slack(changeover *c, const network *g) {
    slack f = {.c = c, .g = g};
    f.latest_s = gradin_arena_alloc(c->arena, (size_t)c->n_move + 1, sizeof *f.latest_s);
    if (!f.latest_s) return changeover_no_memory(c);
    for (int i = 0; i < c->n_move; i++)
        f.latest_s[i] = c->out->work_s - (c->move[i].end_s - c->move[i].start_s);
    pass_back(&f);
    for (int i = 0; i < c->n_move; i++) c->move[i].float_s = f.latest_s[i] - c->move[i].start_s;
    return true;
}
