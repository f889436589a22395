/* Steps that the venue states: lock-out, inspection, sign-off and what else people do that moves
 * nothing. Each is a move of its own, before or after all of a kind; steps of one place go in the
 * order that the venue lists them. */
#include "studies/changeover/changeover.h"

static const char *const stated_order = "a step of the venue's own order";

bool changeover_steps(changeover *c) {
    c->first_step = c->n_move;
    if (c->n_move == 0) return true;
    for (int i = 0; i < c->a->work.n_step; i++) {
        const gradin_step *s = &c->a->work.step[i];
        gradin_move move = {.name = s->name,
                            .task = s->task ? s->task : "",
                            .lane = "steps",
                            .kind = GRADIN_MOVE_STEP,
                            .duration_s = s->duration_s,
                            .crew = s->crew,
                            .are_people_near = true};
        if (changeover_add(c, move, (move_detail){.step = s}) < 0) return false;
    }
    return true;
}

/* Scenery that a machine waits for comes in while machines move. */
static bool is_awaited(const changeover *c, int move) {
    for (int k = 0; k < c->first_step && c->detail[move].scenery; k++)
        if (c->detail[k].machine && changeover_is_before(c, move, k)) return true;
    return false;
}

static bool is_bound(const changeover *c, gradin_step_when when, int move) {
    gradin_move_kind kind = c->move[move].kind;
    if (when == GRADIN_STEP_FIRST || when == GRADIN_STEP_LAST) return true;
    return kind == GRADIN_MOVE_MACHINE ||
           (kind == GRADIN_MOVE_SET && when == GRADIN_STEP_BEFORE_SET && !is_awaited(c, move));
}

static bool is_ahead(const changeover *c, gradin_step_when when, int move) {
    switch (when) {
    case GRADIN_STEP_FIRST:
    case GRADIN_STEP_BEFORE_MACHINES:
        return true;
    case GRADIN_STEP_BEFORE_SET:
        return c->move[move].kind == GRADIN_MOVE_SET;
    default:
        return false;
    }
}

/* Steps among themselves: by their place in the night, then as listed. */
static void order_two(changeover *c, int step, int other) {
    gradin_step_when a = c->detail[step].step->when, b = c->detail[other].step->when;
    if (a < b || (a == b && step < other)) changeover_put_before(c, step, other, stated_order);
}

void changeover_order_steps(changeover *c) {
    for (int i = c->first_step; i < c->n_move; i++)
        for (int k = 0; k < c->n_move; k++) {
            gradin_step_when when = c->detail[i].step->when;
            if (k == i) continue;
            if (k >= c->first_step)
                order_two(c, i, k);
            else if (is_bound(c, when, k) && is_ahead(c, when, k))
                changeover_put_before(c, i, k, stated_order);
            else if (is_bound(c, when, k))
                changeover_put_before(c, k, i, stated_order);
        }
}
