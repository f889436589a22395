/* A layout for each show of a programme, and the changeovers between them. */
#include "studies/programme/programme.h"
#include "base/use.h"
#include "model/complete.h"

#include <math.h>
#include <string.h>

typedef programme_ways job;

static int steps_down(const gradin_booking *b, int layout) {
    int i = 0;
    while (!b->is_any_order && b->layout[i] != layout) i++;
    return i;
}

static gradin_status fill_step(job *j, int show, gradin_staging *needs) {
    size_t n = (size_t)j->p->n_layout;
    programme_step *step = &j->step[show];
    step->way = gradin_arena_alloc(j->arena, n * n, sizeof *step->way);
    step->day_later = gradin_arena_alloc(j->arena, n * n, sizeof *step->day_later);
    step->staging = gradin_arena_alloc(j->arena, n * n, sizeof *step->staging);
    if (!step->way || !step->day_later || !step->staging)
        return gradin_error_add(j->error, GRADIN_NO_MEMORY, NULL, "out of memory");
    programme_choices(j->p, j->model, show, step->choice, &step->n_choice, needs);
    for (int i = 0; i < step->n_choice; i++)
        step->own[i] = (programme_price){.n_clash = needs->needs != GRADIN_CLASH_NONE,
                                         .cost = j->p->step_cost *
                                                 steps_down(&j->p->booking[show], step->choice[i])};
    return programme_price_ways(j, show, true);
}

static void sum_up(gradin_programme_plan *plan) {
    for (int i = 0; i < plan->programme->n_booking; i++) {
        const gradin_staging *s = &plan->staging[i];
        plan->n_changeover += s->from_layout != s->layout && !s->no_way;
        plan->person_hours += s->person_hours;
        plan->night_hours += s->night_hours;
    }
}

static bool open_job(job *j, programme_run *run) {
    size_t n = (size_t)j->p->n_booking, n_way = (size_t)(j->p->n_layout * j->p->n_layout);
    run->layout = gradin_arena_alloc(j->arena, n, sizeof *run->layout);
    run->day_layout = gradin_arena_alloc(j->arena, n, sizeof *run->day_layout);
    j->step = gradin_arena_alloc(j->arena, n, sizeof *j->step);
    j->changeover = gradin_arena_alloc(j->arena, n_way, sizeof *j->changeover);
    j->way = gradin_arena_alloc(j->arena, n_way, sizeof *j->way);
    return run->layout && run->day_layout && j->step && j->changeover && j->way;
}

static gradin_status solve(job *j, gradin_programme_plan *plan) {
    const gradin_programme *p = j->p;
    gradin_staging *staging = gradin_arena_alloc(j->arena, (size_t)p->n_booking, sizeof *staging);
    programme_run run = {0};
    gradin_status status =
        staging && open_job(j, &run)
            ? GRADIN_OK
            : gradin_error_add(j->error, GRADIN_NO_MEMORY, NULL, "out of memory");
    for (int i = 0; i < p->n_booking && status == GRADIN_OK; i++)
        status = fill_step(j, i, &staging[i]);
    if (status == GRADIN_OK) status = programme_find_run(j, &run);
    if (status != GRADIN_OK) return status;
    for (int i = 0; i < p->n_booking; i++) {
        int from = programme_from(p, run.layout, i);
        gradin_staging needs = staging[i];
        staging[i] = j->step[i].staging[from * p->n_layout + run.layout[i]];
        staging[i].needs = needs.needs;
        staging[i].most = needs.most;
    }
    plan->free_day = run.day;
    plan->staging = staging;
    plan->changeover = j->changeover;
    plan->n_clash = run.price.n_clash;
    plan->cost = run.price.cost;
    sum_up(plan);
    return GRADIN_OK;
}

/* The models with one person more on every changeover. */
static const gradin_model *with_one_more(gradin_arena *arena, const gradin_model *model, int n) {
    gradin_model *made = gradin_arena_alloc(arena, (size_t)n, sizeof *made);
    gradin_machinery *machinery = gradin_arena_alloc(arena, (size_t)n, sizeof *machinery);
    if (!made || !machinery) return NULL;
    for (int i = 0; i < n; i++) {
        made[i] = model[i];
        machinery[i] = *model[i].machinery;
        machinery[i].crew++;
        made[i].machinery = &machinery[i];
    }
    return made;
}

static gradin_status solve_with_more(job j, gradin_programme_plan *plan) {
    gradin_programme_plan more = {.programme = plan->programme};
    j.model = with_one_more(j.arena, j.model, j.p->n_layout);
    if (!j.model) return gradin_error_add(j.error, GRADIN_NO_MEMORY, NULL, "out of memory");
    gradin_status status = solve(&j, &more);
    plan->has_more_crew = status == GRADIN_OK;
    plan->more_crew_cost = more.cost;
    plan->more_crew_clashes = more.n_clash;
    return status;
}

static bool is_well_made(const gradin_programme *p) {
    bool good = p->n_layout > 0 && p->n_layout <= GRADIN_MAX_PROGRAMME_LAYOUT && p->n_booking > 0 &&
                p->n_booking <= GRADIN_MAX_BOOKING && p->night_factor >= 1.0 &&
                p->first_layout >= -1 && p->first_layout < p->n_layout;
    for (int i = 0; good && i < p->n_booking; i++) {
        const gradin_booking *b = &p->booking[i];
        good = b->layout && b->n_layout > 0 && b->n_layout <= p->n_layout &&
               b->end_s > b->start_s && (i == 0 || b->start_s >= p->booking[i - 1].end_s);
        for (int k = 0; good && k < b->n_layout; k++)
            good = b->layout[k] >= 0 && b->layout[k] < p->n_layout;
    }
    return good;
}

gradin_status gradin_programme_plan_make(gradin_arena *arena, const gradin_programme *programme,
                                         const gradin_model *model,
                                         const gradin_programme_terms *terms,
                                         gradin_programme_plan *plan, gradin_error *error) {
    if (NEEDS(error, arena, programme, model, plan) != GRADIN_OK ||
        NEEDS(error, programme->name, programme->layout_name, programme->booking) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (!is_well_made(programme))
        return gradin_error_add(
            error, GRADIN_BAD_USE, NULL,
            "a programme has shows by rising start, each in layouts of its own");
    for (int i = 0; i < programme->n_layout; i++)
        if (model_complete(&model[i], error) != GRADIN_OK) return GRADIN_BAD_USE;
    *plan = (gradin_programme_plan){.programme = programme, .model = model};
    job j = {.arena = arena, .p = programme, .model = model, .error = error};
    if (terms) j.n_node = terms->n_node;
    gradin_status status = solve(&j, plan);
    return status == GRADIN_OK && terms && terms->with_more_crew ? solve_with_more(j, plan)
                                                                 : status;
}
