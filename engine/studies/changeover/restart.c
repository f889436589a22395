/* A plan that was made without a start, begun at one: its links and times as they are, on the
 * venue's hours. And how long it takes by the clock wherever it may begin. */
#include "base/use.h"
#include "studies/changeover/changeover.h"
#include "studies/shared/complete.h"

#include <string.h>

enum { QUARTER_S = 900, DAY_S = 86400 };

static bool copy_moves(changeover *c, const gradin_changeover *plan) {
    size_t n = (size_t)plan->n_move + 1;
    c->move = gradin_arena_alloc(c->arena, n, sizeof *c->move);
    c->detail = gradin_arena_alloc(c->arena, n, sizeof *c->detail);
    if (!c->move || !c->detail) return changeover_no_memory(c);
    memcpy(c->move, plan->move, (size_t)plan->n_move * sizeof *c->move);
    for (int i = 0; i < plan->n_move; i++) c->detail[i].piece_s = plan->move[i].piece_s;
    c->n_move = plan->n_move;
    c->n_called = plan->n_called;
    c->trip_s = plan->trip_s;
    return true;
}

gradin_status gradin_changeover_restart(gradin_arena *arena, const gradin_changeover *plan,
                                        int64_t start_s, gradin_changeover *out,
                                        gradin_error *error) {
    gradin_error own = {0};
    if (NEEDS(error, arena, out) != GRADIN_OK || changeover_complete(plan, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (plan->has_start || plan->from_move > 0)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "a plan to begin again has no start yet");
    if (!error) error = &own;
    *out = *plan;
    out->has_start = true;
    out->start_s = start_s;
    out->stop = NULL;
    out->n_stop = 0;
    changeover c = {.arena = arena,
                    .error = error,
                    .from = plan->from,
                    .to = plan->to,
                    .a = plan->from->machinery,
                    .b = plan->to->machinery,
                    .out = out};
    if (!copy_moves(&c, plan) || !changeover_lay_again(&c, plan))
        return changeover_status_of(error);
    out->move = c.move;
    return GRADIN_OK;
}

/* When so much work of a plan on the clock is done. */
static int clock_of(const gradin_changeover *plan, int work_s) {
    int clock_s = work_s;
    for (int i = 0; i < plan->n_stop && plan->stop[i].from_s < clock_s; i++)
        clock_s += plan->stop[i].to_s - plan->stop[i].from_s;
    return clock_s;
}

static gradin_status try_start(const gradin_changeover *plan, int of_day_s, gradin_span *span,
                               gradin_error *error) {
    gradin_arena *arena = gradin_arena_create();
    gradin_changeover begun;
    if (!arena) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a plan");
    gradin_status status = gradin_changeover_restart(arena, plan, of_day_s, &begun, error);
    if (status == GRADIN_OK && begun.total_s > span->total_s)
        *span = (gradin_span){begun.total_s, clock_of(&begun, plan->lower_bound_s), of_day_s, true};
    gradin_arena_destroy(arena);
    return status;
}

gradin_status gradin_changeover_span(const gradin_changeover *plan, int of_day_s, gradin_span *span,
                                     gradin_error *error) {
    if (NEEDS(error, span) != GRADIN_OK || changeover_complete(plan, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    const gradin_work *w = &plan->from->machinery->work;
    *span = (gradin_span){.total_s = plan->total_s, .bound_s = plan->lower_bound_s};
    if (!plan->has_rests || plan->has_start) return GRADIN_OK;
    *span = (gradin_span){.total_s = -1};
    if (of_day_s >= 0) return try_start(plan, of_day_s, span, error);
    gradin_status status = GRADIN_OK;
    int n = w->n_shift > 0 ? w->n_shift : DAY_S / QUARTER_S;
    for (int i = 0; i < n && status == GRADIN_OK; i++)
        status = try_start(plan, w->n_shift > 0 ? w->shift[i].from_s : i * QUARTER_S, span, error);
    return status;
}
