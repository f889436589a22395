/* Destructive bounds (Klein and Scholl, Computing lower bounds by destructive improvement, 1999,
 * from memory): is there a schedule of at most so long? If not, the bound rises; if so, the best
 * one is shorter. Starts are variables, so are the starts of trips, the end of all, and of every
 * two moves that cannot overlap which of them comes first. */
#include "studies/schedule/prove.h"
#include "studies/schedule/learn.h"

enum { MOST_PAIRS = 20000, FIRST_WORK = 200000, SHORT_WORK = 1000000, MOST_LONG = 120 };
/* Work for each node of the budget; while the gap is wide, of those of the usual budget and of
 * those beyond it. Some 30 million are a second. */
enum { WORK_A_NODE = 30, WIDE_WORK_A_NODE = 3400, USUAL_NODES = 30000, WIDE_WORK_BEYOND = 100 };

typedef struct proof {
    prove_case *c;
    learn l;
    int n, n_trip, end;     /* variables: moves, trips, the end, orders of pairs */
    int n_pair, (*pair)[2]; /* [n_pair] which moves */
    int *near;              /* [n_variable] of the best schedule */
} proof;

static const learn_atom always = {-1, 0};

static bool cannot_overlap(const prove_case *c, int i, int k) {
    const schedule_problem *p = c->p;
    if (c->after[i * p->n + k] || c->after[k * p->n + i]) return false; /* in order already */
    if (p->apart[i * p->n + k]) return true;
    return p->duration_s[i] > 0 && p->duration_s[k] > 0 && schedule_excludes(p, i, k);
}

static int count_pairs(const prove_case *c, bool only_stated) {
    int n = c->p->n, n_pair = 0;
    for (int i = 0; i < n; i++)
        for (int k = i + 1; k < n; k++)
            n_pair += cannot_overlap(c, i, k) && (!only_stated || c->p->apart[i * n + k]);
    return n_pair;
}

static bool add_pairs(proof *x, bool only_stated) {
    const schedule_problem *p = x->c->p;
    int order = x->end;
    for (int i = 0; i < p->n; i++)
        for (int k = i + 1; k < p->n; k++) {
            if (!cannot_overlap(x->c, i, k) || (only_stated && !p->apart[i * p->n + k])) continue;
            learn_atom is_first = {2 * ++order, 1};
            x->pair[order - x->end - 1][0] = i;
            x->pair[order - x->end - 1][1] = k;
            if (!learn_add_arc(&x->l, i, k, p->duration_s[i], is_first) ||
                !learn_add_arc(&x->l, k, i, p->duration_s[k], learn_not(is_first)))
                return false;
        }
    return true;
}

static bool add_trips(proof *x, int k) {
    const schedule_problem *p = x->c->p;
    const int *first = x->c->first_trip;
    for (int trip = first[k]; trip < first[k + 1]; trip++) {
        int v = x->n + trip, before = trip > first[k] ? v - 1 : k;
        if (!learn_add_arc(&x->l, before, v, trip > first[k] ? p->trip_s : 0, always)) return false;
    }
    return first[k] == first[k + 1] ||
           learn_add_arc(&x->l, x->n + first[k + 1] - 1, k, p->trip_s - p->duration_s[k], always);
}

static bool add_moves(proof *x) {
    const prove_case *c = x->c;
    for (int k = 0; k < x->n; k++) {
        for (int i = 0; i < x->n; i++)
            if (c->p->before[i * x->n + k] &&
                !learn_add_arc(&x->l, i, k, c->p->duration_s[i], always))
                return false;
        if (!learn_add_arc(&x->l, k, x->end, c->tail_s[k], always) || !add_trips(x, k) ||
            (c->twin[k] >= 0 && !learn_add_arc(&x->l, c->twin[k], k, 0, always)))
            return false;
    }
    return true;
}

/* The carrier is a limit of one. One that all may use at once is none. */
static bool add_limit(proof *x, int r) {
    const schedule_problem *p = x->c->p;
    learn_limit *limit = &x->l.limit[x->l.n_limit];
    int64_t sum = 0;
    if (!learn_open_limit(&x->l, limit, x->n + x->n_trip)) return false;
    limit->capacity = schedule_capacity(p, r);
    for (int k = 0; k < x->n && r < p->n_limit; k++)
        learn_add_task(limit, (learn_task){k, p->duration_s[k], p->demand[k * p->n_limit + r]});
    for (int trip = 0; trip < x->n_trip; trip++)
        learn_add_task(
            limit, (learn_task){x->n + trip, p->trip_s, r < p->n_limit ? p->trip_demand[r] : 1});
    for (int i = 0; i < limit->n_task; i++) sum += limit->task[i].demand;
    if (sum <= limit->capacity) return true;
    for (int i = 0; i < limit->n_task; i++)
        if (!learn_list_add(&x->l, &x->l.limits_of[limit->task[i].variable], x->l.n_limit))
            return false;
    limit->is_stale = true;
    x->l.n_limit++;
    return true;
}

static bool add_limits(proof *x) {
    int n = x->c->p->n_limit;
    x->l.limit = gradin_arena_alloc(x->l.arena, (size_t)n + 1, sizeof *x->l.limit);
    if (!x->l.limit) return false;
    for (int r = 0; r <= n; r++)
        if (!add_limit(x, r)) return false;
    return true;
}

/* Lower and upper bounds from the start, before anything is derived. */
static void set_bounds(proof *x) {
    const prove_case *c = x->c;
    for (int v = 0; v < x->l.n_variable; v++) {
        int low = v < x->n ? c->head_s[v] : v == x->end ? c->bound_s : 0;
        int high = v <= x->end ? c->best_s - (v == x->end) : 1;
        x->l.base[2 * v] = x->l.value[2 * v] = low;
        x->l.base[2 * v + 1] = x->l.value[2 * v + 1] = -high;
    }
}

static void stay_near_best(proof *x) {
    const prove_case *c = x->c;
    int *order = x->near + x->end + 1;
    for (int k = 0; k < x->n; k++) x->near[k] = c->start_s[k];
    for (int trip = 0; trip < x->n_trip; trip++) x->near[x->n + trip] = c->trip_start_s[trip];
    x->near[x->end] = c->best_s;
    for (int i = 0; i < x->n_pair; i++)
        order[i] = c->start_s[x->pair[i][0]] < c->start_s[x->pair[i][1]];
}

static bool pose(proof *x, gradin_arena *arena) {
    prove_case *c = x->c;
    x->n = c->p->n;
    x->n_trip = c->first_trip[x->n];
    x->end = x->n + x->n_trip;
    bool only_stated = count_pairs(c, false) > MOST_PAIRS;
    x->n_pair = count_pairs(c, only_stated);
    x->near = gradin_arena_alloc(arena, (size_t)(x->end + 1 + x->n_pair), sizeof *x->near);
    x->pair = gradin_arena_alloc(arena, (size_t)x->n_pair + 1, sizeof *x->pair);
    if (!x->near || !x->pair || !learn_open(arena, x->end + 1 + x->n_pair, &x->l)) return false;
    x->l.near = x->near;
    if (!add_moves(x) || !add_pairs(x, only_stated) || !add_limits(x)) return false;
    set_bounds(x);
    stay_near_best(x);
    return true;
}

/* What is known of a start at first: all has to be followed once. */
static bool follow_all(learn *l) {
    for (int b = 0; b < 2 * l->n_variable; b++)
        if (!learn_follow_arcs(l, b)) return false;
    return true;
}

static void take(proof *x) {
    prove_case *c = x->c;
    learn *l = &x->l;
    for (int k = 0; k < x->n; k++) c->start_s[k] = l->value[2 * k];
    for (int trip = 0; trip < x->n_trip; trip++)
        c->trip_start_s[trip] = l->value[2 * (x->n + trip)];
    c->best_s = l->value[2 * x->end];
    learn_undo(l, 0);
}

/* Below the best, for good. */
static void cut(proof *x) {
    learn *l = &x->l;
    if (!learn_raise(l, (learn_atom){2 * x->end + 1, 1 - x->c->best_s}, 0, BY_CHOICE))
        l->is_closed = true;
}

/* Problems of very many moves get no long work: each step takes longer there. */
static long most_work(const prove_case *c) {
    bool is_wide = (c->best_s - c->bound_s) * 100L > c->bound_s;
    long usual = c->n_node < USUAL_NODES ? c->n_node : USUAL_NODES, work = c->n_node * WORK_A_NODE;
    if (c->is_short) return work < SHORT_WORK ? work : SHORT_WORK;
    if (!is_wide || c->p->n > MOST_LONG) return work;
    return work + usual * WIDE_WORK_A_NODE + (c->n_node - usual) * WIDE_WORK_BEYOND;
}

/* What is learnt holds for good, after a search that was stopped, too. */
static void raise_bound(proof *x) {
    prove_case *c = x->c;
    int known_s = x->l.is_closed ? c->best_s : x->l.value[2 * x->end];
    if (known_s > c->bound_s) c->bound_s = known_s;
    if (c->bound_s > c->best_s) c->bound_s = c->best_s;
}

/* Half way first, then nearer and nearer to the bound while the answer takes too long. */
static void close_gap(proof *x) {
    prove_case *c = x->c;
    learn *l = &x->l;
    long work = FIRST_WORK;
    int part = 2;
    while (c->bound_s < c->best_s && l->n_work < most_work(c) && !l->is_out_of_memory) {
        int target_s = c->bound_s + (c->best_s - 1 - c->bound_s) / part;
        long left = most_work(c) - l->n_work;
        learn_answer answer =
            learn_search(l, (learn_atom){2 * x->end + 1, -target_s}, work < left ? work : left);
        if (answer == LEARN_SOLVED) {
            take(x);
            stay_near_best(x);
            cut(x);
        } else if (answer == LEARN_REFUTED) {
            c->bound_s = l->is_closed ? c->best_s : target_s + 1;
        } else {
            work += work / 4;
            part = part < 64 ? 2 * part : 2;
        }
        raise_bound(x);
        c->tell(c->user, l->n_work, most_work(c));
    }
    c->n_choice = l->n_choice;
}

bool prove(prove_case *c) {
    proof x = {.c = c};
    gradin_arena *arena = gradin_arena_create();
    bool is_well = arena && pose(&x, arena);
    if (is_well) {
        x.l.is_closed = !follow_all(&x.l);
        close_gap(&x);
        is_well = !x.l.is_out_of_memory;
    }
    gradin_arena_destroy(arena);
    return is_well;
}
