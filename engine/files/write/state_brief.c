/* The limits of a layout as its map `brief` states them: what stands at its default is left out. */
#include "files/write/state.h"

#include <string.h>

static void state_counted(complaints *c, const gradin_limits *limits, const gradin_limits *usual,
                          stated_rating *s) {
    if (memcmp(limits->is_left_out, usual->is_left_out, sizeof limits->is_left_out) == 0) return;
    s->rate_by = alloc(c, GRADIN_N_REASON, sizeof *s->rate_by);
    for (int i = GRADIN_REASON_NONE + 1; i < GRADIN_N_REASON && s->rate_by; i++)
        if (!limits->is_left_out[i]) s->rate_by[s->n_rate_by++] = i - 1;
    if (s->rate_by && s->n_rate_by == 0) misuse(c, "layout.limits leave out every figure");
}

void state_rating(complaints *c, const gradin_layout *p, stated_rating *s) {
    const gradin_limits usual = gradin_limits_defaults(p->form);
    s->limits = p->limits;
    if (memcmp(p->limits.distance_max_m, usual.distance_max_m, sizeof usual.distance_max_m) == 0)
        for (int i = 0; i < 3; i++) s->limits.distance_max_m[i] = NAN;
    if (memcmp(p->limits.two_row_c_min_m, p->limits.c_value_min_m, sizeof usual.two_row_c_min_m) ==
        0)
        for (int i = 0; i < 3; i++) s->limits.two_row_c_min_m[i] = NAN;
    state_counted(c, &p->limits, &usual, s);
}
