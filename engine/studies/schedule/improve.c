/* Schedules bred from the best ones found (a genetic search over orders of moves with double
 * justification: Valls, Ballestin and Quintanilla, A hybrid genetic algorithm for the
 * resource-constrained project scheduling problem, 2008; two-point crossover: Hartmann, A
 * competitive genetic algorithm for resource-constrained project scheduling, 1998; both from
 * memory). An order that keeps precedence becomes a schedule by putting each move as early as it
 * goes. The effort is a count of moves put down, so the answer is the same on every machine. */
#include "studies/schedule/improve.h"

#include <string.h>

enum { MAX_MEMBER = 24, SWAP_PARTS = 24, MAX_IDLE = 300 };

typedef struct breed {
    schedule_line *line;
    const int *place; /* [n] in an order that keeps precedence; breaks ties */
    const int *tail_s;
    int *scratch;
    int *order, *child; /* [n] */
    bool *is_in;        /* [n] */
    int *start_s;       /* [MAX_MEMBER][n] */
    int total_s[MAX_MEMBER];
    int n_member;
    uint64_t state;
} breed;

/* As schedule.c has them: the same draws on every machine. */
static int draw(breed *b, int n) {
    b->state = b->state * 6364136223846793005u + 1442695040888963407u;
    return (int)((b->state >> 33) % (uint64_t)n);
}

static int *starts_of(const breed *b, int member) {
    return b->start_s + (size_t)member * (size_t)b->line->p->n;
}

/* Moves by their start; ties by an order that keeps precedence. */
static void order_by_start(const breed *b, const int *start_s, int *order) {
    for (int i = 0; i < b->line->p->n; i++) {
        int k = i;
        for (; k > 0; k--) {
            int other = order[k - 1];
            if (start_s[other] < start_s[i]) break;
            if (start_s[other] == start_s[i] && b->place[other] < b->place[i]) break;
            order[k] = other;
        }
        order[k] = i;
    }
}

/* The order of one, with the stretch [from, until) of places filled as the other has them. */
static void cross(breed *b, const int *mother, const int *father, int from, int until) {
    int n = b->line->p->n, at = 0;
    memset(b->is_in, 0, (size_t)n * sizeof *b->is_in);
    for (int part = 0; part < 3; part++) {
        const int *parent = part == 1 ? father : mother;
        int end = part == 0 ? from : part == 1 ? until : n;
        for (int i = 0; i < n && at < end; i++) {
            if (b->is_in[parent[i]]) continue;
            b->is_in[parent[i]] = true;
            b->child[at++] = parent[i];
        }
    }
}

static void shake(breed *b) {
    const schedule_problem *p = b->line->p;
    for (int i = 0; i + 1 < p->n; i++) {
        int one = b->child[i], two = b->child[i + 1];
        if (draw(b, SWAP_PARTS) > 0 || p->before[one * p->n + two]) continue;
        b->child[i] = two;
        b->child[i + 1] = one;
    }
}

static int build(breed *b) {
    line_clear(b->line);
    for (int i = 0; i < b->line->p->n; i++) schedule_place(b->line, b->child[i], false);
    return schedule_justify(b->line, b->scratch);
}

static bool is_held(const breed *b, int total_s) {
    size_t row = (size_t)b->line->p->n * sizeof(int);
    for (int i = 0; i < b->n_member; i++)
        if (b->total_s[i] == total_s && memcmp(starts_of(b, i), b->line->start_s, row) == 0)
            return true;
    return false;
}

/* In the place of the worst, when it is no worse; was it shorter? */
static bool join(breed *b, int total_s) {
    int to = b->n_member;
    bool is_shorter = true;
    if (is_held(b, total_s)) return false;
    if (b->n_member < MAX_MEMBER) {
        b->n_member++;
    } else {
        to = 0;
        for (int i = 1; i < b->n_member; i++)
            if (b->total_s[i] > b->total_s[to]) to = i;
        if (total_s > b->total_s[to]) return false;
        is_shorter = total_s < b->total_s[to];
    }
    b->total_s[to] = total_s;
    memcpy(starts_of(b, to), b->line->start_s, (size_t)b->line->p->n * sizeof(int));
    return is_shorter;
}

static int pick(breed *b) {
    int one = draw(b, b->n_member), two = draw(b, b->n_member);
    return b->total_s[one] <= b->total_s[two] ? one : two;
}

static int make_child(breed *b) {
    int n = b->line->p->n, mother = pick(b), father = pick(b);
    int one = draw(b, n + 1), two = draw(b, n + 1);
    int *father_order = b->order + n;
    order_by_start(b, starts_of(b, mother), b->order);
    order_by_start(b, starts_of(b, father), father_order);
    cross(b, b->order, father_order, one < two ? one : two, one < two ? two : one);
    shake(b);
    return build(b);
}

/* A new order: of the moves that may come next the one of the greatest tail, more or less. */
static int make_random(breed *b) {
    const schedule_links *tie = &b->line->earlier;
    int n = b->line->p->n;
    memset(b->is_in, 0, (size_t)n * sizeof *b->is_in);
    for (int k = 0; k < n; k++) b->order[k] = (b->tail_s[k] + 1) * (64 + draw(b, 128)) / 128;
    for (int at = 0; at < n; at++) {
        int best = -1;
        for (int k = 0; k < n; k++) {
            bool may_come = !b->is_in[k] && (best < 0 || b->order[k] > b->order[best]);
            for (int i = tie->first[k]; i < tie->first[k + 1] && may_come; i++)
                may_come = b->is_in[tie->list[i]];
            if (may_come) best = k;
        }
        b->is_in[best] = true;
        b->child[at] = best;
    }
    return build(b);
}

static bool open_breed(gradin_arena *arena, schedule_line *line, breed *b) {
    size_t n = (size_t)line->p->n;
    b->order = gradin_arena_alloc(arena, 2 * n, sizeof *b->order);
    b->child = gradin_arena_alloc(arena, n, sizeof *b->child);
    b->is_in = gradin_arena_alloc(arena, n, sizeof *b->is_in);
    b->start_s = gradin_arena_alloc(arena, MAX_MEMBER * n, sizeof *b->start_s);
    return b->order && b->child && b->is_in && b->start_s;
}

bool schedule_improve(gradin_arena *arena, const schedule_effort *effort, schedule_line *line,
                      schedule_keep keep, void *context) {
    breed b = {.line = line,
               .place = effort->place,
               .tail_s = effort->tail_s,
               .scratch = effort->scratch,
               .state = 3};
    int n = line->p->n;
    if (n < 3) return true;
    if (!open_breed(arena, line, &b)) return false;
    for (int i = 0; i < effort->n_first && i < MAX_MEMBER; i++) {
        order_by_start(&b, effort->first_s + (size_t)i * (size_t)n, b.child);
        join(&b, build(&b));
    }
    int n_idle = 0;
    for (long n_put = 0; n_put < effort->n_put; n_put += PUTS_A_SCHEDULE * n) {
        bool is_new = b.n_member < MAX_MEMBER;
        int total_s = is_new ? make_random(&b) : make_child(&b);
        if (!keep(context, total_s)) break;
        n_idle = join(&b, total_s) && !is_new ? 0 : n_idle + 1;
        if (n_idle > MAX_IDLE) n_idle = b.n_member = 0;
    }
    line_clear(line);
    return true;
}
