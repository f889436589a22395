/* Who does which move: people of a crew, in gangs of the size that most of the work asks for.
 * hands.c chooses among them; here they get their names. People are alike; who may work which
 * machine is for the house to say. */
#include "studies/changeover/hands.h"

#include <stdio.h>
#include <string.h>

enum { MOST_GANGS = 26, SHARE_CHARS = 380 };

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

static const int *people_of(const hands *h, int k, int *n) {
    *n = h->n_who[k];
    return h->who + h->first_who[k];
}

/* "A, B": the gangs that an item's people are of. */
static const char *gang_text(const hands *h, int k) {
    char text[4 * MOST_GANGS] = "";
    size_t used = 0;
    int n, last = -1;
    const int *person = people_of(h, k, &n);
    for (int i = 0; i < n; i++) {
        int gang = person[i] / h->size;
        if (gang == last) continue;
        used += (size_t)snprintf(text + used, sizeof text - used, "%s%c", last < 0 ? "" : ", ",
                                 'A' + gang);
        last = gang;
    }
    return changeover_print(h->c, "%s", text);
}

/* "A1-A4, B2": an item's people one by one. */
static const char *people_text(const hands *h, int k) {
    char text[SHARE_CHARS] = "";
    size_t used = 0;
    int n;
    const int *person = people_of(h, k, &n);
    for (int i = 0, end; i < n && used < sizeof text; i = end) {
        int first = person[i], gang = first / h->size;
        for (end = i + 1;
             end < n && person[end] == person[end - 1] + 1 && person[end] / h->size == gang;)
            end++;
        used += (size_t)snprintf(text + used, sizeof text - used, "%s%c%d", i > 0 ? ", " : "",
                                 'A' + gang, first % h->size + 1);
        if (end > i + 1 && used < sizeof text)
            used += (size_t)snprintf(text + used, sizeof text - used, "-%c%d", 'A' + gang,
                                     person[end - 1] % h->size + 1);
    }
    return changeover_print(h->c, "%s", text);
}

static bool name_trip(const hands *h, gradin_move *m, int trip, const char *people) {
    if (!m->trip_people)
        m->trip_people = gradin_arena_alloc(h->c->arena, (size_t)m->n_trip, sizeof(char *));
    if (!m->trip_people) return changeover_no_memory(h->c);
    ((const char **)(uintptr_t)m->trip_people)[trip] = people;
    return true;
}

static bool name_people(const hands *h, int k) {
    const stretch *s = &h->g->item[k];
    gradin_move *m = &h->c->move[s->move];
    bool is_trip = s->trip >= 0;
    if (is_trip && h->n_who[k] == 0) return true;
    const char *people = people_text(h, k), *gang = gang_text(h, k);
    if (!people || !gang) return changeover_no_memory(h->c);
    if (is_trip) return name_trip(h, m, s->trip, people);
    m->people = people;
    m->gang = gang;
    return true;
}

/* Each person goes from one item to the next. */
static bool list_hand_overs(hands *h) {
    changeover *c = h->c;
    c->hand = gradin_arena_alloc(c->arena, (size_t)h->first_who[h->g->n] + 1, sizeof *c->hand);
    if (!c->hand) return changeover_no_memory(c);
    c->n_hand = c->n_called = 0;
    for (int p = 0; p < h->people; p++) h->last[p] = -1;
    for (int k = 0; k < h->g->n; k++)
        for (int i = 0; i < h->n_who[k]; i++) {
            int person = h->who[h->first_who[k] + i], from = h->last[person];
            const stretch *a = &h->g->item[from >= 0 ? from : 0], *b = &h->g->item[k];
            if (from >= 0) c->hand[c->n_hand++] = (hand_over){a->move, a->trip, b->move, b->trip};
            c->n_called += from < 0;
            h->last[person] = k;
        }
    return true;
}

bool changeover_gangs(changeover *c, const network *g) {
    hands h;
    if (!hands_open(c, g, find_size(c), &h)) return false;
    hands_assign(&h);
    for (int i = 0; i < c->n_move; i++) c->move[i].trip_people = NULL;
    for (int k = 0; k < g->n; k++)
        if (!name_people(&h, k)) return false;
    c->out->gang_size = h.size;
    c->out->n_gang = h.n_gang;
    return list_hand_overs(&h);
}
