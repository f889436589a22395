/* studies/changeover/hands.h: which person does which move and trip. */
#ifndef GRADIN_STUDIES_HANDS_H
#define GRADIN_STUDIES_HANDS_H

#include "studies/changeover/changeover.h"

typedef struct hand_edge {
    int first, next; /* item that has to be done before; the next edge of the same item, -1 */
} hand_edge;

typedef struct hands {
    changeover *c;
    const network *g; /* without people */
    int people, size, n_gang;
    int *begin_s, *end_s;    /* [n] of the network's items */
    int *first_of, *next_of; /* [n_move], [n] items of a move */
    int *first_who, *n_who;  /* [n + 1], [n] */
    int *who;                /* [first_who[n]] people of each item, rising */
    int *best_who, *best_n_who;
    hand_edge *edge;
    int *head, *base_head; /* [n] first edge of an item; without people */
    int n_edge, n_base_edge;
    int *latest_s, *base_latest_s; /* [n_move] */
    int *stack, n_stack;
    bool *is_on_stack;    /* [n_move] */
    int *free_s, *last;   /* [people] from when on; item that each did last, -1 */
    int *cost_s, *person; /* [people] of the gang at hand */
    bool is_shaken;
    uint64_t state;
} hands;

/* Room for the plan's moves as they are, and latest starts without people; false without memory. */
bool hands_open(changeover *c, const network *g, int size, hands *h);
/* Fills who and n_who. */
void hands_assign(hands *h);

#endif
