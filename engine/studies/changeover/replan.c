/* The rest of a plan again, once it has fallen behind: what has begun stays as it was and what runs
 * then is finished; all else is put again, no earlier than now. List schedules by the plan's own
 * order and by that order shaken; the shortest counts. No proof that none is shorter. */
#include "studies/changeover/changeover.h"
#include "studies/schedule/line.h"

enum { N_ROUND = 400 };

typedef struct replan {
    changeover *c;
    schedule_problem p;
    schedule_line line;
    double *weight; /* [n_move] those with less come first */
    int *best_s, *best_trip_s;
    int best_total_s;
} replan;

/* xorshift64 (Marsaglia 2003). */
static double draw(uint64_t *state) {
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    return (double)(*state >> 11) / 9007199254740992.0;
}

static bool is_ready(const replan *r, int k) {
    for (int at = r->line.earlier.first[k]; at < r->line.earlier.first[k + 1]; at++)
        if (r->line.start_s[r->line.earlier.list[at]] < 0) return false;
    return true;
}

static int next_move(const replan *r) {
    int best = -1;
    for (int k = 0; k < r->c->n_move; k++)
        if (r->line.start_s[k] < 0 && is_ready(r, k) &&
            (best < 0 || r->weight[k] < r->weight[best]))
            best = k;
    return best;
}

static void put_begun(replan *r) {
    const changeover *c = r->c;
    line_clear(&r->line);
    for (int k = 0; k < c->n_move; k++) {
        const gradin_move *m = &c->move[k];
        if (m->state == GRADIN_MOVE_PLANNED) continue;
        for (int i = 0; i < m->n_trip; i++)
            r->line.trip_start_s[r->line.first_trip[k] + i] = m->trip_start_s[i];
        line_put(&r->line, k, m->start_s);
    }
}

static void put_rest(replan *r) {
    for (int k; (k = next_move(r)) >= 0;) {
        int from_s = r->c->now_s;
        for (int at = r->line.earlier.first[k]; at < r->line.earlier.first[k + 1]; at++) {
            int end_s = line_end(&r->line, r->line.earlier.list[at]);
            if (end_s > from_s) from_s = end_s;
        }
        line_put(&r->line, k, line_earliest(&r->line, k, from_s));
    }
}

static void keep_best(replan *r) {
    int total_s = line_total(&r->line), n = r->c->n_move;
    if (r->best_total_s >= 0 && total_s >= r->best_total_s) return;
    r->best_total_s = total_s;
    for (int k = 0; k < n; k++) r->best_s[k] = r->line.start_s[k];
    for (int i = 0; i < r->line.first_trip[n]; i++) r->best_trip_s[i] = r->line.trip_start_s[i];
}

static void search(replan *r) {
    uint64_t state = 3;
    const changeover *c = r->c;
    for (int round = 0; round < N_ROUND; round++) {
        double reach = round == 0 ? 0.0 : c->out->work_s * 0.02 * (1 + round % 10);
        for (int k = 0; k < c->n_move; k++)
            r->weight[k] = c->move[k].start_s + reach * draw(&state);
        put_begun(r);
        put_rest(r);
        keep_best(r);
    }
}

/* What runs ends then, and the longest of the rest begins now at the earliest. */
static int least_end(const changeover *c) {
    int least_s = 0;
    for (int k = 0; k < c->n_move; k++) {
        const gradin_move *m = &c->move[k];
        int end_s = m->state == GRADIN_MOVE_PLANNED ? c->now_s + m->duration_s : m->end_s;
        if (end_s > least_s) least_s = end_s;
    }
    return least_s;
}

static void take(replan *r) {
    for (int k = 0; k < r->c->n_move; k++) {
        gradin_move *m = &r->c->move[k];
        if (m->state != GRADIN_MOVE_PLANNED) continue;
        m->start_s = r->best_s[k];
        m->end_s = m->start_s + m->duration_s;
        m->trip_start_s = r->best_trip_s + r->line.first_trip[k];
    }
    r->c->out->lower_bound_s = least_end(r->c);
}

/* Moves that have begun last as long as they did, rests and all. */
static bool open_replan(changeover *c, const schedule_problem *p, replan *r) {
    size_t n = (size_t)c->n_move;
    int *duration_s = gradin_arena_alloc(c->arena, n, sizeof *duration_s);
    *r = (replan){.c = c, .p = *p, .best_total_s = -1};
    r->weight = gradin_arena_alloc(c->arena, n, sizeof *r->weight);
    r->best_s = gradin_arena_alloc(c->arena, n, sizeof *r->best_s);
    if (!duration_s || !r->weight || !r->best_s) return changeover_no_memory(c);
    for (int k = 0; k < c->n_move; k++)
        duration_s[k] = c->move[k].state == GRADIN_MOVE_PLANNED
                            ? c->move[k].duration_s
                            : c->move[k].end_s - c->move[k].start_s;
    r->p.duration_s = duration_s;
    if (!line_open(c->arena, &r->p, &r->line)) return changeover_no_memory(c);
    r->best_trip_s = gradin_arena_alloc(c->arena, (size_t)r->line.first_trip[n] + 1, sizeof(int));
    return r->best_trip_s || changeover_no_memory(c);
}

/* The place of each move in the list that people have. */
static int place_of(const changeover *c, int move) {
    int place = 0;
    for (int i = 0; i < c->n_move; i++)
        place += c->move[i].start_s < c->move[move].start_s ||
                 (c->move[i].start_s == c->move[move].start_s && i < move);
    return place;
}

static bool mark_begun(changeover *c, int from_move) {
    for (int i = 0; i < c->n_move; i++) {
        gradin_move *m = &c->move[i];
        if (place_of(c, i) + 1 >= from_move) continue;
        if (m->start_s > c->now_s) {
            changeover_refuse(c, NULL, "--at",
                              "move %d, which comes before move %d, starts later than that by the "
                              "plan",
                              place_of(c, i) + 1, from_move);
            return false;
        }
        m->state = m->end_s <= c->now_s ? GRADIN_MOVE_DONE : GRADIN_MOVE_RUNNING;
    }
    return true;
}

bool changeover_replan(changeover *c, const schedule_problem *p, int from_move, int at_s) {
    replan r;
    if (from_move < 1 || from_move > c->n_move) {
        changeover_refuse(c, NULL, "--from-move", "the plan has %d moves, so no move %d", c->n_move,
                          from_move);
        return false;
    }
    c->now_s = changeover_worked_at(c, at_s);
    if (!mark_begun(c, from_move) || !open_replan(c, p, &r)) return false;
    search(&r);
    take(&r);
    c->out->from_move = from_move;
    c->out->at_s = at_s;
    return true;
}
