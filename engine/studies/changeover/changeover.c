/* From two layouts to an order of moves: what differs, who waits for whom, when each starts. */
#include "studies/changeover/changeover.h"
#include "base/use.h"
#include "model/complete.h"
#include "studies/changeover/least.h"

#include <string.h>

static bool are_same_machines(const gradin_machinery *a, const gradin_machinery *b) {
    if (a->n_machine != b->n_machine || a->n_interlock != b->n_interlock) return false;
    for (int i = 0; i < a->n_machine; i++)
        if (strcmp(a->machine[i].name, b->machine[i].name) != 0 ||
            memcmp(a->machine[i].travel, b->machine[i].travel, sizeof a->machine[i].travel) != 0)
            return false;
    return true;
}

static bool check_models(changeover *c) {
    if (strcmp(c->from->venue_name, c->to->venue_name) != 0 || !are_same_machines(c->a, c->b))
        changeover_refuse(c, c->to->file, "venue", "%s and %s are layouts of two venues, %s and %s",
                          c->from->layout_name, c->to->layout_name, c->from->venue_name,
                          c->to->venue_name);
    else if (c->a->crew <= 0)
        changeover_refuse(c, c->from->venue_file, "machines.crew",
                          "%s states no crew; a changeover needs machines.crew",
                          c->from->venue_name);
    else
        return true;
    return false;
}

static bool comes_first(const gradin_move *a, const gradin_move *b) {
    return a->start_s < b->start_s;
}

/* Stable insertion by start; position[old] is the new index. */
static bool sort_moves(changeover *c) {
    int *order = gradin_arena_alloc(c->arena, (size_t)c->n_move, sizeof *order);
    int *position = gradin_arena_alloc(c->arena, (size_t)c->n_move, sizeof *position);
    gradin_move *sorted = gradin_arena_alloc(c->arena, (size_t)c->n_move, sizeof *sorted);
    if (!order || !position || !sorted) return changeover_no_memory(c);
    for (int i = 0; i < c->n_move; i++) {
        int k = i;
        for (; k > 0 && comes_first(&c->move[i], &c->move[order[k - 1]]); k--)
            order[k] = order[k - 1];
        order[k] = i;
    }
    for (int k = 0; k < c->n_move; k++) position[order[k]] = k;
    for (int k = 0; k < c->n_move; k++) {
        sorted[k] = c->move[order[k]];
        if (sorted[k].waits_for >= 0) sorted[k].waits_for = position[sorted[k].waits_for];
    }
    for (int i = 0; i < c->out->n_link; i++) {
        gradin_link *link = (gradin_link *)&c->out->link[i];
        link->first = position[link->first];
        link->then = position[link->then];
    }
    c->out->move = sorted;
    c->out->n_move = c->n_move;
    return true;
}

gradin_status changeover_status_of(const gradin_error *error) {
    return error->n_diagnostic > 0 ? error->diagnostic[error->n_diagnostic - 1].family
                                   : GRADIN_NO_MEMORY;
}

static gradin_status schedule(changeover *c, const gradin_changeover_terms *terms) {
    schedule_problem p;
    schedule_result found = {0};
    int *order = gradin_arena_alloc(c->arena, (size_t)c->n_move, sizeof *order), stuck = -1;
    if (!order || !changeover_problem(c, &p)) return changeover_no_memory(c), GRADIN_NO_MEMORY;
    if (!schedule_order(&p, order, &stuck)) return changeover_tell_circle(c, stuck);
    const schedule_budget budget = {.n_node = terms->n_node > 0 ? terms->n_node : GRADIN_PLAN_NODES,
                                    .tell = terms->progress,
                                    .user = terms->progress_user};
    gradin_status status = schedule_solve(c->arena, &p, &budget, &found, c->error);
    if (status != GRADIN_OK) return status;
    changeover_take(c, &p, &found);
    if (!changeover_settle(c, &p, terms)) return changeover_status_of(c->error);
    return sort_moves(c) ? GRADIN_OK : GRADIN_NO_MEMORY;
}

static bool open_changeover(changeover *c) {
    c->move = gradin_arena_alloc(c->arena, GRADIN_MAX_MOVE, sizeof *c->move);
    c->detail = gradin_arena_alloc(c->arena, GRADIN_MAX_MOVE, sizeof *c->detail);
    c->n_limit = LIMIT_GRID;
    if (!c->move || !c->detail) return changeover_no_memory(c);
    for (int i = 0; i < c->a->n_machine; i++) {
        c->n_section += c->a->machine[i].kind == GRADIN_MACHINE_SECTION;
        c->n_tower += c->a->machine[i].kind == GRADIN_MACHINE_HOIST;
        if (LIMIT_GRID + c->a->machine[i].group >= c->n_limit)
            c->n_limit = LIMIT_GRID + c->a->machine[i].group + 1;
    }
    return true;
}

static changeover begin(gradin_arena *arena, const gradin_model *from, const gradin_model *to,
                        gradin_changeover *out, gradin_error *error) {
    return (changeover){.arena = arena,
                        .error = error,
                        .from = from,
                        .to = to,
                        .a = from->machinery,
                        .b = to->machinery,
                        .out = out};
}

/* All moves and what holds between them; false after a diagnostic. */
static bool find_moves(changeover *c) {
    return check_models(c) && open_changeover(c) && changeover_scenery_jobs(c) &&
           changeover_chains(c) && changeover_machines(c) && changeover_seats(c) &&
           changeover_rails(c) && changeover_scenery(c) && changeover_steps(c) &&
           changeover_order(c);
}

static gradin_status find_least(changeover *c, changeover_least *least) {
    schedule_problem p;
    int stuck = -1, *order = NULL;
    if (!find_moves(c)) return changeover_status_of(c->error);
    order = gradin_arena_alloc(c->arena, (size_t)c->n_move, sizeof *order);
    if (!order || !changeover_problem(c, &p)) return changeover_no_memory(c), GRADIN_NO_MEMORY;
    if (!schedule_order(&p, order, &stuck)) return changeover_tell_circle(c, stuck);
    least->total_s = schedule_least(c->arena, &p, order);
    if (least->total_s < 0) return changeover_no_memory(c), GRADIN_NO_MEMORY;
    least->person_hours = changeover_person_hours(c);
    return GRADIN_OK;
}

gradin_status changeover_find_least(const gradin_model *from, const gradin_model *to,
                                    changeover_least *least, gradin_error *error) {
    gradin_changeover out = {.from = from, .to = to};
    gradin_error own = {0};
    if (!error) error = &own;
    gradin_arena *arena = gradin_arena_create();
    if (!arena) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a plan");
    changeover c = begin(arena, from, to, &out, error);
    gradin_status status = find_least(&c, least);
    gradin_arena_destroy(arena);
    return status;
}

gradin_status gradin_changeover_plan(gradin_arena *arena, const gradin_model *from,
                                     const gradin_model *to, gradin_changeover *out,
                                     gradin_error *error) {
    const gradin_changeover_terms none = {0};
    return gradin_changeover_plan_on(arena, from, to, &none, out, error);
}

gradin_status gradin_changeover_plan_on(gradin_arena *arena, const gradin_model *from,
                                        const gradin_model *to,
                                        const gradin_changeover_terms *terms,
                                        gradin_changeover *out, gradin_error *error) {
    gradin_error own = {0};
    if (NEEDS(error, arena, terms, out) != GRADIN_OK || model_complete(from, error) != GRADIN_OK ||
        model_complete(to, error) != GRADIN_OK ||
        NEEDS(error, from->machinery, to->machinery) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (!error) error = &own;
    *out = (gradin_changeover){.from = from,
                               .to = to,
                               .crew = from->machinery->crew,
                               .power_kw = from->machinery->power_kw,
                               .has_start = terms->has_start,
                               .start_s = terms->start_s,
                               .gap_s = terms->gap_s,
                               .margin_s = terms->margin_s};
    changeover c = begin(arena, from, to, out, error);
    if (!find_moves(&c)) return changeover_status_of(error);
    changeover_count_stands(&c);
    return schedule(&c, terms);
}
