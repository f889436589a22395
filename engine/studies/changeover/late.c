/* How late it may get: the plan run again and again, each move's time drawn from what the venue
 * states for its kind (triangular: least, likely, most), by the plan's own order: each starts as
 * soon as those are done that hand it people, power, lifts or a free way (network.c), and rests
 * stay where they are. Moves are drawn each on its own: a night on which all goes slowly for one
 * reason is not in it. What had begun is done; of what runs, the rest is drawn.
 *
 * The triangle by its inverse distribution; numbers by counter (Philox), so neither threads nor
 * their count matter. A percentile is the time within which that share of the draws is done. */
#include "base/philox.h"
#include "studies/changeover/changeover.h"

#include <stdlib.h>

enum { N_DRAW = 10000 };

static const uint32_t key[2] = {0x4c415445u, 0x00000001u};

/* In (0, 1), never an end. */
static double even(int draw, int move) {
    const uint32_t counter[4] = {(uint32_t)draw, (uint32_t)move, 0, 0};
    return (gradin_philox(counter, key).word[0] + 0.5) / 4294967296.0;
}

static double triangle(const gradin_contingency *s, double share) {
    double width = s->most - s->least, up = s->likely - s->least;
    if (!(width > 0.0)) return s->likely;
    return share * width < up ? s->least + sqrt(share * width * up)
                              : s->most - sqrt((1.0 - share) * width * (s->most - s->likely));
}

static bool is_stated(const gradin_contingency *s) {
    return s->most > 0.0;
}

static void draw_factors(const changeover *c, int draw, double *factor) {
    for (int i = 0; i < c->n_move; i++) {
        const gradin_contingency *s = &c->a->work.spread[c->move[i].kind];
        factor[i] = is_stated(s) ? triangle(s, even(draw, i)) : 1.0;
    }
}

static int by_value(const void *a, const void *b) {
    int x = *(const int *)a, y = *(const int *)b;
    return (x > y) - (x < y);
}

/* The time within which so many of 100 draws are done. */
static int within(const int *sorted_s, int per_100) {
    return sorted_s[(N_DRAW * per_100 + 99) / 100 - 1];
}

static double share_within(const int *sorted_s, int64_t limit_s) {
    int n = 0;
    while (n < N_DRAW && sorted_s[n] <= limit_s) n++;
    return (double)n / N_DRAW;
}

static void sum_up(const changeover *c, const int *sorted_s, gradin_late *late) {
    double sum_s = 0.0, square_s2 = 0.0;
    for (int i = 0; i < N_DRAW; i++) sum_s += sorted_s[i];
    late->mean_s = sum_s / N_DRAW;
    for (int i = 0; i < N_DRAW; i++)
        square_s2 += (sorted_s[i] - late->mean_s) * (sorted_s[i] - late->mean_s);
    late->deviation_s = sqrt(square_s2 / (N_DRAW - 1));
    late->within_50_s = within(sorted_s, 50);
    late->within_80_s = within(sorted_s, 80);
    late->within_95_s = within(sorted_s, 95);
    late->as_planned = share_within(sorted_s, c->out->total_s);
    late->in_gap = share_within(sorted_s, c->out->gap_s);
    late->in_margin = share_within(sorted_s, (int64_t)c->out->gap_s - c->out->margin_s);
}

static bool has_any(const changeover *c) {
    for (int i = 0; i < GRADIN_N_MOVE_KIND; i++)
        if (is_stated(&c->a->work.spread[i])) return true;
    return false;
}

bool changeover_late(changeover *c, const network *g, network_run *r) {
    gradin_late *late = &c->out->late;
    if (!has_any(c) || c->n_move == 0) return true;
    double *factor = gradin_arena_alloc(c->arena, (size_t)c->n_move, sizeof *factor);
    int *total_s = gradin_arena_alloc(c->arena, N_DRAW, sizeof *total_s);
    if (!factor || !total_s) return changeover_no_memory(c);
    for (int draw = 0; draw < N_DRAW; draw++) {
        draw_factors(c, draw, factor);
        int work_s = changeover_run(c, g, factor, r);
        if (work_s > c->known_work_s) return changeover_no_stretch(c);
        total_s[draw] = changeover_clock_end(c, work_s);
    }
    qsort(total_s, N_DRAW, sizeof *total_s, by_value);
    late->n_draw = N_DRAW;
    sum_up(c, total_s, late);
    return true;
}
