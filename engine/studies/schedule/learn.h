/* studies/schedule/learn.h: a search over bounds of whole variables that learns a clause from every
 * conflict. A bound is 2v, at least, or 2v + 1, at least of the negative: both only ever rise. */
#ifndef GRADIN_STUDIES_LEARN_H
#define GRADIN_STUDIES_LEARN_H

#include "gradin/base.h"

typedef struct learn_atom {
    int bound, value; /* the bound has reached the value; its contrary is learn_not() */
} learn_atom;

static inline learn_atom learn_not(learn_atom a) {
    return (learn_atom){a.bound ^ 1, 1 - a.value};
}

/* value[to] >= value[from] + weight, when the atom `when` holds (bound -1: always). */
typedef struct learn_arc {
    int from, to, weight;
    learn_atom when;
} learn_arc;

typedef struct learn_task {
    int variable, duration, demand;
} learn_task;

/* A task that is not fixed, in time that runs forwards or backwards, while a limit is weighed. */
typedef struct learn_weight {
    int task, from, until; /* earliest start, latest end */
    int part_from, part;   /* in which it runs whatever its start: from when, how long or 0 */
    int rest_from, rest;   /* of it, when it starts as late as it can */
    int64_t room;          /* until its earliest start, beside what runs in any case */
} learn_weight;

/* At any time the tasks under way demand no more than the capacity. */
typedef struct learn_limit {
    int capacity, n_task;
    learn_task *task;             /* [n_task] */
    int *part_from, *part_until;  /* [n_task] in which the task runs whatever its start */
    int *by_from, *by_until;      /* [n_task] sorted by those */
    int *piece_at, *piece_height; /* [2 n_task + 1] steps of what runs in any case */
    int n_piece;
    int *from, *until, *last_from, *last_until; /* [n_task] and sorted by those, the last first */
    learn_weight *weight;                       /* [n_weight] */
    int *end;                                   /* [n_until] of stretches */
    int n_weight, n_until, n_idle, n_pass;
    bool is_stale, is_unweighed;
} learn_limit;

/* Why a bound has risen: so many atoms of the pool, or one of these. */
enum { BY_CHOICE = -1, BY_CLAUSE = -2, BY_ARC = -3, BY_ARC_TURNED = -4 };

typedef struct learn_entry {
    int bound, value, before; /* the entry of the same bound before this one, or -1 */
    int reason, n_reason;
} learn_entry;

typedef struct learn_list {
    int *item;
    int n, capacity;
} learn_list;

typedef struct learn_watch {
    int clause, value; /* an atom of the clause is false once the bound reaches the value */
} learn_watch;

typedef struct learn_watches {
    learn_watch *item;
    int n, capacity;
} learn_watches;

typedef struct learn_clause {
    int first, n_atom, n_level; /* levels it joined when it was learnt */
} learn_clause;

typedef struct learn_pick {
    int bound, value, next; /* an atom; the next one of the same hash, or -1 */
    int place;              /* in the heap, or -1 */
    double weight;
} learn_pick;

typedef struct learn_out {
    int pick, n_trail; /* taken from the heap when the trail was so long */
} learn_out;

typedef struct learn {
    gradin_arena *arena;
    bool is_out_of_memory, is_closed; /* closed: nothing is left that could be a solution */
    int n_variable;
    int *base, *value, *last; /* [2 n_variable] at the root, now, the entry that made it so or -1 */
    learn_entry *trail;
    int n_trail, trail_capacity, n_done;
    int *level_trail, *level_pool; /* [n_level] where each level begins */
    int n_level, level_capacity, level_pool_capacity;
    learn_atom *pool;
    int n_pool, pool_capacity;
    learn_arc *arc;
    int n_arc, arc_capacity;
    learn_list *arcs_from, *arcs_when; /* [2 n_variable] */
    learn_limit *limit;
    int n_limit;
    learn_list *limits_of; /* [n_variable] */
    learn_clause *clause;
    int n_clause, clause_capacity, most_clauses;
    learn_atom *atom; /* of clauses */
    int n_atom, atom_capacity;
    learn_watches *watches; /* [2 n_variable] */
    learn_atom *conflict;   /* [n_conflict] that cannot all hold; room for every bound */
    int n_conflict;
    int *need, *need_at; /* [2 n_variable] */
    int *touched, n_touched;
    learn_atom *lesson; /* [n_lesson] the clause learnt last; room for every bound */
    int n_lesson;
    learn_pick *pick;
    int n_pick, pick_capacity, *pick_first; /* [PICK_HASH] */
    int *heap, n_heap, heap_capacity;
    learn_out *out;
    int n_out, out_capacity;
    const int *near; /* [n_variable] values to stay near; NULL: none */
    double bump;
    int n_restart;
    long n_conflicts, n_choice, n_work;
} learn;

/* learn_trail.c */
bool learn_open(gradin_arena *arena, int n_variable, learn *l);
/* False when the bound passes its opposite: then `conflict` is empty. */
bool learn_raise(learn *l, learn_atom a, int reason, int n_reason);
void learn_deepen(learn *l); /* begins a level */
void learn_undo(learn *l, int n_level);
void learn_commit(learn *l); /* what holds at the root holds for good */
/* Where on the trail an atom that holds came to hold; -1: at the root. */
int learn_position(const learn *l, learn_atom a);
int learn_level_of(const learn *l, int position);
bool learn_list_add(learn *l, learn_list *list, int item);
static inline bool learn_holds(const learn *l, learn_atom a) {
    return l->value[a.bound] >= a.value;
}
static inline bool learn_fails(const learn *l, learn_atom a) {
    return learn_holds(l, learn_not(a));
}
static inline bool learn_is_fixed(const learn *l, int v) {
    return l->value[2 * v] + l->value[2 * v + 1] >= 0;
}

/* learn_arcs.c */
bool learn_add_arc(learn *l, int from, int to, int weight, learn_atom when);
bool learn_follow_arcs(learn *l, int bound);
/* The atoms because of which the entry at the place reached `value`. */
int learn_arc_reason(const learn *l, int place, int value, learn_atom why[2]);

/* learn_limits.c */
bool learn_open_limit(learn *l, learn_limit *limit, int most);
void learn_add_task(learn_limit *limit, learn_task task); /* if it takes time and demands */
bool learn_fill_limit(learn *l, learn_limit *limit);
/* Adds an atom that holds to those of a reason; a conflict of all from there on: false. */
bool learn_add_to_pool(learn *l, learn_atom a);
bool learn_refuse_pool(learn *l, int first);

/* learn_energy.c: a limit that has just been filled. */
bool learn_weigh_limit(learn *l, learn_limit *limit);

/* learn_clauses.c */
bool learn_add_clause(learn *l, const learn_atom *atom, int n_atom, int n_level);
bool learn_visit_clauses(learn *l, int bound);
void learn_forget(learn *l); /* at the root: half of the clauses, and what holds anyway */

/* learn_conflict.c: a clause from the conflict, after which the search goes on; false when the root
 * is in conflict. */
bool learn_from_conflict(learn *l);

/* learn_choose.c */
bool learn_open_picks(learn *l);
void learn_bump(learn *l, learn_atom a, bool is_new);
void learn_fade(learn *l);
void learn_put_back(learn *l);
/* An atom that is open, or false when every variable is fixed. */
bool learn_choose(learn *l, learn_atom *a);

typedef enum learn_answer { LEARN_SOLVED, LEARN_REFUTED, LEARN_STOPPED } learn_answer;

/* Is there a solution in which the atom holds? Stops after so much work. Solved: values are on the
 * bounds until learn_undo(l, 0). */
learn_answer learn_search(learn *l, learn_atom assumed, long n_work);

#endif
