/* Which person does which move: an interval colouring of the moves and trips as they are planned.
 * A person who goes from one move to the next ties the two, and a tie takes float wherever the
 * first could have been later. So people come from moves that the next one waits for anyway, or
 * that have to be done long before it; of one gang where one has enough. Several drafts, the first
 * as it comes and the others shaken; the one with the most float in all counts. */
#include "studies/changeover/hands.h"

#include <string.h>

enum { N_DRAFT = 48, SHAKE_S = 900 };

static int from_of(const hands *h, int i) {
    const stretch *s = &h->g->item[i];
    return s->from_s;
}

/* By how much a tie brings the latest start of the first's move forward. */
static int loss_s(const hands *h, int first, int then) {
    int a = h->g->item[first].move, b = h->g->item[then].move;
    int most_s = h->latest_s[b] + from_of(h, then) - h->g->item[first].until_s;
    return a != b && h->latest_s[a] > most_s ? h->latest_s[a] - most_s : 0;
}

static void push(hands *h, int move) {
    if (!h->is_on_stack[move]) h->stack[h->n_stack++] = move;
    h->is_on_stack[move] = true;
}

static void pull(hands *h, int first, int then) {
    int loss = loss_s(h, first, then), move = h->g->item[first].move;
    if (loss == 0) return;
    h->latest_s[move] -= loss;
    push(h, move);
}

/* What comes before a move that has lost float loses it, too. */
static void pass_back(hands *h) {
    while (h->n_stack > 0) {
        int move = h->stack[--h->n_stack];
        h->is_on_stack[move] = false;
        for (int k = h->first_of[move]; k >= 0; k = h->next_of[k])
            for (int e = h->head[k]; e >= 0; e = h->edge[e].next) pull(h, h->edge[e].first, k);
    }
}

static void tie(hands *h, int first, int then) {
    h->edge[h->n_edge] = (hand_edge){first, h->head[then]};
    h->head[then] = h->n_edge++;
    pull(h, first, then);
    pass_back(h);
}

static bool is_free(const hands *h, int person, int k) {
    return h->free_s[person] <= h->begin_s[k];
}

static bool has_worked(const hands *h, int gang, int move) {
    if (move < 0) return false;
    int k = h->g->whole[move];
    for (int at = h->first_who[k]; at < h->first_who[k] + h->n_who[k]; at++)
        if (h->who[at] / h->size == gang) return true;
    return false;
}

/* 16 bits of a linear congruential generator, as schedule.c has it. */
static int draw(hands *h) {
    h->state = h->state * 6364136223846793005u + 1442695040888963407u;
    return (int)(h->state >> 48);
}

/* Free people of a gang by what they would cost, least first; how many. */
static int sort_gang(hands *h, int gang, int k) {
    int n = 0;
    for (int p = gang * h->size; p < (gang + 1) * h->size && p < h->people; p++) {
        if (!is_free(h, p, k)) continue;
        int cost_s = h->last[p] >= 0 ? loss_s(h, h->last[p], k) : 0, at = n++;
        for (; at > 0 && cost_s < h->cost_s[at - 1]; at--) {
            h->cost_s[at] = h->cost_s[at - 1];
            h->person[at] = h->person[at - 1];
        }
        h->cost_s[at] = cost_s;
        h->person[at] = p;
    }
    return n;
}

/* A gang that has all that are needed, at the least cost; else that with most free. */
static int best_gang(hands *h, int k, int needed) {
    const stretch *s = &h->g->item[k];
    int waited = s->trip < 0 ? h->c->move[s->move].waits_for : s->move, best = -1;
    double best_score = 0.0;
    for (int gang = 0; gang < h->n_gang; gang++) {
        int n = sort_gang(h, gang, k);
        if (n == 0) continue;
        double score = n >= needed ? 2.0 * (n - needed) : 1e9 - 1e6 * n;
        for (int i = 0; i < n && i < needed; i++) score += h->cost_s[i];
        if (h->is_shaken) score += SHAKE_S * (draw(h) / 65536.0);
        score -= has_worked(h, gang, waited);
        if (best < 0 || score < best_score) best = gang, best_score = score;
    }
    return best;
}

static void take(hands *h, int k, int person) {
    int at = h->first_who[k] + h->n_who[k]++;
    for (; at > h->first_who[k] && h->who[at - 1] > person; at--) h->who[at] = h->who[at - 1];
    h->who[at] = person;
    if (h->last[person] >= 0) tie(h, h->last[person], k);
    h->last[person] = k;
    h->free_s[person] = h->end_s[k];
}

/* Those of a limit that is kept are always enough. */
static void take_people(hands *h, int k) {
    int wanted = h->first_who[k + 1] - h->first_who[k];
    while (h->n_who[k] < wanted) {
        int gang = best_gang(h, k, wanted - h->n_who[k]);
        int n = gang >= 0 ? sort_gang(h, gang, k) : 0;
        if (n == 0) return;
        for (int i = 0; i < n && h->n_who[k] < wanted; i++) take(h, k, h->person[i]);
    }
}

static int64_t draft(hands *h, bool is_shaken) {
    const changeover *c = h->c;
    int64_t float_s = 0;
    h->is_shaken = is_shaken;
    h->n_edge = h->n_base_edge;
    memcpy(h->head, h->base_head, (size_t)h->g->n * sizeof *h->head);
    memcpy(h->latest_s, h->base_latest_s, (size_t)c->n_move * sizeof *h->latest_s);
    memset(h->n_who, 0, (size_t)h->g->n * sizeof *h->n_who);
    for (int p = 0; p < h->people; p++) h->free_s[p] = INT32_MIN, h->last[p] = -1;
    for (int k = 0; k < h->g->n; k++) take_people(h, k);
    for (int i = 0; i < c->n_move; i++) float_s += h->latest_s[i] - c->move[i].start_s;
    return float_s;
}

static void keep(hands *h) {
    memcpy(h->best_who, h->who, (size_t)h->first_who[h->g->n] * sizeof *h->who);
    memcpy(h->best_n_who, h->n_who, (size_t)h->g->n * sizeof *h->n_who);
}

void hands_assign(hands *h) {
    int64_t best_s = INT64_MIN;
    h->state = 5;
    for (int round = 0; round < N_DRAFT; round++) {
        int64_t float_s = draft(h, round > 0);
        if (float_s <= best_s) continue;
        best_s = float_s;
        keep(h);
    }
    memcpy(h->who, h->best_who, (size_t)h->first_who[h->g->n] * sizeof *h->who);
    memcpy(h->n_who, h->best_n_who, (size_t)h->g->n * sizeof *h->n_who);
}

/* Latest starts by the network's own links. */
static void find_base(hands *h) {
    const network *g = h->g;
    for (int k = 0; k < g->n; k++) {
        h->base_head[k] = -1;
        for (int at = g->first[k]; at < g->first[k + 1]; at++) {
            h->edge[h->n_edge] = (hand_edge){g->earlier[at], h->base_head[k]};
            h->base_head[k] = h->n_edge++;
        }
    }
    h->n_base_edge = h->n_edge;
    memcpy(h->head, h->base_head, (size_t)g->n * sizeof *h->head);
    for (int i = 0; i < h->c->n_move; i++) {
        const gradin_move *m = &h->c->move[i];
        h->latest_s[i] = h->c->out->work_s - (m->end_s - m->start_s);
        push(h, i);
    }
    pass_back(h);
    memcpy(h->base_latest_s, h->latest_s, (size_t)h->c->n_move * sizeof *h->latest_s);
}

static void list_items(hands *h) {
    const changeover *c = h->c;
    int trip_people = c->a->store ? c->a->store->drive.crew : 0, n_who = 0;
    for (int i = 0; i < c->n_move; i++) h->first_of[i] = -1;
    for (int k = 0; k < h->g->n; k++) {
        const stretch *s = &h->g->item[k];
        h->begin_s[k] = c->move[s->move].start_s + s->from_s;
        h->end_s[k] = c->move[s->move].start_s + s->until_s;
        h->next_of[k] = h->first_of[s->move];
        h->first_of[s->move] = k;
        h->first_who[k] = n_who;
        n_who += s->trip < 0 ? c->move[s->move].crew : trip_people;
    }
    h->first_who[h->g->n] = n_who;
}

static int count_people(const changeover *c, const network *g) {
    int trip_people = c->a->store ? c->a->store->drive.crew : 0, n = 0;
    for (int k = 0; k < g->n; k++)
        n += g->item[k].trip < 0 ? c->move[g->item[k].move].crew : trip_people;
    return n;
}

bool hands_open(changeover *c, const network *g, int size, hands *h) {
    *h = (hands){.c = c, .g = g, .people = c->a->crew, .size = size};
    h->n_gang = (h->people + size - 1) / size;
    size_t n = (size_t)g->n + 1, n_move = (size_t)c->n_move + 1, people = (size_t)h->people + 1;
    size_t n_who = (size_t)count_people(c, g) + 1, n_edge = (size_t)g->first[g->n] + n_who;
    struct {
        int **list;
        size_t n;
    } list[] = {{&h->begin_s, n},       {&h->end_s, n},      {&h->next_of, n},
                {&h->first_who, n},     {&h->n_who, n},      {&h->best_n_who, n},
                {&h->head, n},          {&h->base_head, n},  {&h->first_of, n_move},
                {&h->latest_s, n_move}, {&h->stack, n_move}, {&h->base_latest_s, n_move},
                {&h->free_s, people},   {&h->last, people},  {&h->cost_s, people},
                {&h->person, people},   {&h->who, n_who},    {&h->best_who, n_who}};
    for (size_t i = 0; i < sizeof list / sizeof *list; i++) {
        *list[i].list = gradin_arena_alloc(c->arena, list[i].n, sizeof(int));
        if (!*list[i].list) return changeover_no_memory(c);
    }
    h->edge = gradin_arena_alloc(c->arena, n_edge, sizeof *h->edge);
    h->is_on_stack = gradin_arena_alloc(c->arena, n_move, sizeof *h->is_on_stack);
    if (!h->edge || !h->is_on_stack) return changeover_no_memory(c);
    list_items(h);
    find_base(h);
    return true;
}
