/* Who does which move: people of a crew, in gangs of the size that most of the work asks for. Each
 * move takes people who are free, of one gang where one has enough of them: the gang that leaves
 * the fewest over, then that of the move it waited for. People are alike here; who may work which
 * machine is for the house to say. */
#include "studies/changeover/changeover.h"

#include <stdio.h>
#include <string.h>

enum { MOST_GANGS = 26, SHARE_CHARS = 380 };

/* A move, or one trip of the store lift for it. */
typedef struct task {
    int move, trip; /* trip -1: the move itself */
    int begin_s, end_s, people;
} task;

typedef struct gangs {
    changeover *c;
    task *task;  /* [n_task] in order of begin, a move before its trips */
    int *free_s; /* [people] from when on */
    int *taken;  /* [people] for the task at hand, first [n_taken] */
    int *last;   /* [people] task that each did last; -1 */
    int n_task, people, size, n_gang, n_taken;
} gangs;

static int count_tasks(const changeover *c) {
    int n = c->n_move;
    for (int i = 0; i < c->n_move; i++) n += c->move[i].n_trip;
    return n;
}

static void insert(gangs *g, task t) {
    int at = g->n_task++;
    for (; at > 0 && g->task[at - 1].begin_s > t.begin_s; at--) g->task[at] = g->task[at - 1];
    g->task[at] = t;
}

static void list_tasks(gangs *g) {
    const changeover *c = g->c;
    int trip_people = c->a->store ? c->a->store->drive.crew : 0;
    for (int i = 0; i < c->n_move; i++) {
        const gradin_move *m = &c->move[i];
        insert(g, (task){i, -1, m->start_s, m->end_s, m->crew});
        for (int k = 0; k < m->n_trip && trip_people > 0; k++)
            insert(g,
                   (task){i, k, m->trip_start_s[k], m->trip_start_s[k] + c->trip_s, trip_people});
    }
}

/* The crew of a move that most person-seconds are worked in; the whole crew when nobody works. */
static int find_size(const changeover *c) {
    double most = 0.0;
    int size = c->a->crew, least = (c->a->crew + MOST_GANGS - 1) / MOST_GANGS;
    for (int i = 0; i < c->n_move; i++) {
        double work = 0.0;
        for (int k = 0; k < c->n_move; k++)
            if (c->move[k].crew == c->move[i].crew)
                work += (double)c->move[k].crew * c->move[k].duration_s;
        if (work > most) most = work, size = c->move[i].crew;
    }
    return size > least ? size : least;
}

static int gang_of(const gangs *g, int person) {
    return person / g->size;
}

static int count_free(const gangs *g, int gang, int at_s) {
    int n = 0;
    for (int p = gang * g->size; p < (gang + 1) * g->size && p < g->people; p++)
        n += g->free_s[p] <= at_s;
    return n;
}

static bool has_worked(const gangs *g, int gang, int move) {
    const char *names = move >= 0 ? g->c->move[move].gang : NULL;
    return names && strchr(names, 'A' + gang);
}

/* The gang to take people from: one that has all that are needed, else that with most free. */
static int best_gang(const gangs *g, const task *t, int needed) {
    int best = -1, best_score = 0, waited = g->c->move[t->move].waits_for;
    for (int gang = 0; gang < g->n_gang; gang++) {
        int n = count_free(g, gang, t->begin_s);
        if (n == 0) continue;
        int fit = n >= needed ? 1000000 - 2 * (n - needed) : 2 * n;
        int score = fit + has_worked(g, gang, t->trip < 0 ? waited : t->move);
        if (best < 0 || score > best_score) best = gang, best_score = score;
    }
    return best;
}

static void hand_over_to(gangs *g, int person, const task *t) {
    const task *from = g->last[person] >= 0 ? &g->task[g->last[person]] : NULL;
    if (from) g->c->hand[g->c->n_hand++] = (hand_over){from->move, from->trip, t->move, t->trip};
    g->last[person] = (int)(t - g->task);
}

/* People of the task, sorted; those of a limit that is kept are always enough. */
static void take_people(gangs *g, const task *t) {
    g->n_taken = 0;
    while (g->n_taken < t->people) {
        int gang = best_gang(g, t, t->people - g->n_taken);
        if (gang < 0) return;
        for (int p = gang * g->size; p < (gang + 1) * g->size && p < g->people; p++) {
            if (g->n_taken == t->people || g->free_s[p] > t->begin_s) continue;
            int at = g->n_taken++;
            for (; at > 0 && g->taken[at - 1] > p; at--) g->taken[at] = g->taken[at - 1];
            g->taken[at] = p;
            g->free_s[p] = t->end_s;
            hand_over_to(g, p, t);
        }
    }
}

/* "A, B": the gangs that the taken are of. */
static const char *gang_text(gangs *g) {
    char text[4 * MOST_GANGS] = "";
    size_t n = 0;
    for (int i = 0, last = -1; i < g->n_taken; i++) {
        int gang = gang_of(g, g->taken[i]);
        if (gang == last) continue;
        n += (size_t)snprintf(text + n, sizeof text - n, "%s%c", last < 0 ? "" : ", ", 'A' + gang);
        last = gang;
    }
    return changeover_print(g->c, "%s", text);
}

/* "A1-A4, B2": the taken one by one. */
static const char *people_text(gangs *g) {
    char text[SHARE_CHARS] = "";
    size_t n = 0;
    for (int i = 0, end; i < g->n_taken && n < sizeof text; i = end) {
        int first = g->taken[i], gang = gang_of(g, first);
        for (end = i + 1; end < g->n_taken && g->taken[end] == g->taken[end - 1] + 1 &&
                          gang_of(g, g->taken[end]) == gang;)
            end++;
        n += (size_t)snprintf(text + n, sizeof text - n, "%s%c%d", i > 0 ? ", " : "", 'A' + gang,
                              first % g->size + 1);
        if (end > i + 1 && n < sizeof text)
            n += (size_t)snprintf(text + n, sizeof text - n, "-%c%d", 'A' + gang,
                                  g->taken[end - 1] % g->size + 1);
    }
    return changeover_print(g->c, "%s", text);
}

static bool name_people(gangs *g, const task *t, const char **trip_people) {
    gradin_move *m = &g->c->move[t->move];
    const char *people = people_text(g), *gang = gang_text(g);
    if (!people || !gang) return changeover_no_memory(g->c);
    if (t->trip >= 0) {
        trip_people[t->trip] = people;
        m->trip_people = trip_people;
        return true;
    }
    m->people = people;
    m->gang = gang;
    return true;
}

static bool open_gangs(changeover *c, gangs *g) {
    *g = (gangs){.c = c, .people = c->a->crew, .size = find_size(c)};
    g->n_gang = (g->people + g->size - 1) / g->size;
    g->task = gradin_arena_alloc(c->arena, (size_t)count_tasks(c) + 1, sizeof *g->task);
    g->free_s = gradin_arena_alloc(c->arena, (size_t)g->people, sizeof *g->free_s);
    g->taken = gradin_arena_alloc(c->arena, (size_t)g->people, sizeof *g->taken);
    g->last = gradin_arena_alloc(c->arena, (size_t)g->people, sizeof *g->last);
    if (!g->task || !g->free_s || !g->taken || !g->last) return changeover_no_memory(c);
    for (int p = 0; p < g->people; p++) g->free_s[p] = INT32_MIN, g->last[p] = -1;
    for (int i = 0; i < c->n_move; i++) c->move[i].gang = NULL;
    list_tasks(g);
    size_t n_hand = 0;
    for (int i = 0; i < g->n_task; i++) n_hand += (size_t)g->task[i].people;
    c->hand = gradin_arena_alloc(c->arena, n_hand + 1, sizeof *c->hand);
    c->n_hand = c->n_called = 0;
    return c->hand || changeover_no_memory(c);
}

bool changeover_gangs(changeover *c) {
    gangs g;
    if (!open_gangs(c, &g)) return false;
    for (int i = 0; i < g.n_task; i++) {
        const task *t = &g.task[i];
        const char **trips = NULL;
        if (t->trip >= 0) {
            trips = (const char **)c->move[t->move].trip_people;
            if (!trips)
                trips =
                    gradin_arena_alloc(c->arena, (size_t)c->move[t->move].n_trip, sizeof *trips);
            if (!trips) return changeover_no_memory(c);
        }
        take_people(&g, t);
        if (!name_people(&g, t, trips)) return false;
    }
    for (int p = 0; p < g.people; p++) c->n_called += g.free_s[p] > INT32_MIN;
    c->out->gang_size = g.size;
    c->out->n_gang = g.n_gang;
    return true;
}
