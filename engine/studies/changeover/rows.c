/* What a share of a block's seats is called: "South rows 4-6, row 7 seats 1-9". A row is named
 * whole only when every seat of it that can be moved is in the share; else the seats stand by their
 * numbers. Rows and seats are called as the house writes them, where the layout says so. */
#include "studies/changeover/changeover.h"

#include <string.h>

enum { MOST_CHARS = 160, MOST_RANGES = 40 };

typedef struct naming {
    changeover *c;
    const gradin_seats *s;
    int *seat, n_seat; /* the share, row by row */
    int n_range;
} naming;

static const char *row_name(const naming *g, int k) {
    int seat = g->seat[k];
    if (g->s->row_label && g->s->row_label[seat]) return g->s->row_label[seat];
    return changeover_print(g->c, "%d", g->s->row[seat]);
}

static const char *seat_name(const naming *g, int k) {
    int seat = g->seat[k];
    if (g->s->seat_label && g->s->seat_label[seat]) return g->s->seat_label[seat];
    return changeover_print(g->c, "%d", g->s->number[seat]);
}

static int row_of(const naming *g, int k) {
    return g->s->row[g->seat[k]];
}

static bool comes_first(const gradin_seats *s, int a, int b) {
    return s->row[a] < s->row[b] || (s->row[a] == s->row[b] && s->number[a] < s->number[b]);
}

static bool sort_share(naming *g, const move_detail *w) {
    g->seat = gradin_arena_alloc(g->c->arena, (size_t)w->n_seat, sizeof *g->seat);
    for (; g->seat && g->n_seat < w->n_seat; g->n_seat++) {
        int at = g->n_seat, seat = w->seat[at];
        for (; at > 0 && comes_first(g->s, seat, g->seat[at - 1]); at--)
            g->seat[at] = g->seat[at - 1];
        g->seat[at] = seat;
    }
    return g->seat != NULL;
}

/* Seats of a row that can be moved, with numbers in the range. */
static int count_movable(const naming *g, int k, int least, int most) {
    int n = 0, row = row_of(g, k), block = g->s->block[g->seat[k]];
    for (int i = 0; i < g->s->n_seat; i++)
        n += g->s->block[i] == block && g->s->row[i] == row && g->s->number[i] >= least &&
             g->s->number[i] <= most && g->s->kind[i] != GRADIN_SEAT_WHEELCHAIR;
    return n;
}

static int end_of_row(const naming *g, int k) {
    int end = k;
    while (end < g->n_seat && row_of(g, end) == row_of(g, k)) end++;
    return end;
}

/* "4" or "4-6". */
static const char *span(naming *g, const char *first, const char *last) {
    if (!first || !last) return NULL;
    return strcmp(first, last) == 0 ? first : changeover_print(g->c, "%s-%s", first, last);
}

/* The end of the seats from k on with no other between them that could be moved. */
static int end_of_seats(const naming *g, int k) {
    int end = k + 1, row_end = end_of_row(g, k);
    while (end < row_end &&
           count_movable(g, k, g->s->number[g->seat[k]], g->s->number[g->seat[end]]) == end + 1 - k)
        end++;
    return end;
}

/* " seats 1-9 + 12", or "" of a whole row. */
static const char *seats_text(naming *g, int from) {
    int until = end_of_row(g, from);
    if (until - from == count_movable(g, from, INT32_MIN, INT32_MAX)) return "";
    const char *text = until > from + 1 ? " seats " : " seat ";
    for (int k = from, end; text && k < until; k = end) {
        end = end_of_seats(g, k);
        const char *piece = span(g, seat_name(g, k), seat_name(g, end - 1));
        text = piece ? changeover_print(g->c, "%s%s%s", text, k > from ? " + " : "", piece) : NULL;
        g->n_range++;
    }
    return text;
}

/* Rows that follow each other with the same seats of each; where they end. */
static const char *rows_text(naming *g, int from, int *until) {
    const char *seats = seats_text(g, from), *next = seats;
    int last = from;
    *until = end_of_row(g, from);
    while (next && *until < g->n_seat && row_of(g, *until) == row_of(g, last) + 1) {
        next = seats_text(g, *until);
        if (!next || strcmp(next, seats) != 0) break;
        last = *until;
        *until = end_of_row(g, last);
    }
    const char *rows = span(g, row_name(g, from), row_name(g, last));
    g->n_range++;
    return rows && next ? changeover_print(g->c, "row%s %s%s", last > from ? "s" : "", rows, seats)
                        : NULL;
}

/* Too many pieces to say: how many, and from where to where. */
static char *say_roughly(naming *g, const char *block) {
    const char *first = row_name(g, 0), *last = row_name(g, g->n_seat - 1);
    if (!first || !last) return NULL;
    return changeover_print(g->c, "%s, %d of the seats from row %s to row %s", block, g->n_seat,
                            first, last);
}

char *changeover_rows_text(changeover *c, const char *block, const move_detail *w) {
    naming g = {.c = c, .s = &w->model->seats};
    if (!sort_share(&g, w)) return NULL;
    char *text = changeover_print(c, "%s ", block);
    for (int k = 0, end; text && k < g.n_seat; k = end) {
        const char *piece = rows_text(&g, k, &end);
        text = piece ? changeover_print(c, "%s%s%s", text, k > 0 ? ", " : "", piece) : NULL;
        if (text && (g.n_range > MOST_RANGES || strlen(text) > strlen(block) + MOST_CHARS))
            return say_roughly(&g, block);
    }
    return text;
}
