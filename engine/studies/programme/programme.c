/* A layout for each show of a programme, and the changeovers between them. */
#include "studies/programme/programme.h"
#include "base/use.h"
#include "model/complete.h"

#include <math.h>
#include <string.h>

enum { DAY_S = 86400 };

typedef struct job {
    gradin_arena *arena;
    const gradin_programme *p;
    const gradin_model *model;     /* [n_layout] */
    gradin_changeover *changeover; /* [n_layout][n_layout] */
    programme_clock *clock;        /* [n_layout][n_layout] */
    const char **no_way;           /* [n_layout][n_layout] why there is no changeover; NULL */
    programme_step *step;          /* [n_booking] */
    gradin_error *error;
} job;

/* Free from the show before, or from the beginning, until the margin before this one. */
static void set_window(const gradin_programme *p, int show, gradin_staging *s) {
    s->free_s = show > 0 ? p->booking[show - 1].end_s + (int64_t)ceil(p->clear_s) : p->first_free_s;
    s->due_s = p->booking[show].start_s - (int64_t)ceil(p->ready_s + p->margin_s);
}

static programme_price price_of(const gradin_staging *s) {
    return (programme_price){s->no_way || s->short_s > 0, s->short_s, s->cost,
                             s->from_layout != s->layout};
}

static bool is_same_venue(const gradin_model *a, const gradin_model *b) {
    return strcmp(a->venue_name, b->venue_name) == 0;
}

/* Once for each two layouts. Where no order of moves keeps the venue's rules there is no way, and
 * the reason is kept; what is wrong with the venue itself is an error of the input. */
static gradin_status plan_way(job *j, int from, int to) {
    gradin_error mine = {0};
    int at = from * j->p->n_layout + to;
    const gradin_model *a = &j->model[from], *b = &j->model[to];
    gradin_changeover *c = &j->changeover[at];
    if (c->from || j->no_way[at]) return GRADIN_OK;
    gradin_span span;
    gradin_status status = gradin_changeover_plan(j->arena, a, b, c, &mine);
    if (status == GRADIN_OK) status = gradin_changeover_span(c, -1, &span, &mine);
    if (status == GRADIN_OK) return GRADIN_OK;
    const char *text = mine.n_diagnostic > 0 ? mine.diagnostic[0].text : "";
    if (status == GRADIN_BAD_INPUT && is_same_venue(a, b) && a->machinery &&
        a->machinery->crew > 0) {
        *c = (gradin_changeover){.from = NULL};
        j->no_way[at] = gradin_arena_copy_text(j->arena, text);
        return j->no_way[at] ? GRADIN_OK
                             : gradin_error_add(j->error, GRADIN_NO_MEMORY, NULL, "out of memory");
    }
    if (j->error) *j->error = mine;
    return status;
}

static gradin_status price_way(job *j, int show, int from, int to) {
    int n = j->p->n_layout, at = from * n + to;
    programme_step *step = &j->step[show];
    gradin_staging *s = &step->staging[at], later;
    s->from_layout = from;
    s->layout = to;
    set_window(j->p, show, s);
    s->begin_s = s->done_s = s->free_s;
    later = *s;
    later.due_s += DAY_S;
    if (from != to) {
        gradin_status status = plan_way(j, from, to);
        if (status != GRADIN_OK) return status;
        s->no_way = later.no_way = j->no_way[at];
        j->clock[at].plan = &j->changeover[at];
        if (!s->no_way) status = programme_place(j->p, &j->clock[at], s);
        if (!s->no_way && status == GRADIN_OK)
            status = programme_place(j->p, &j->clock[at], &later);
        if (status != GRADIN_OK) return gradin_error_add(j->error, status, NULL, "out of memory");
    }
    step->way[at] = price_of(s);
    step->day_later[at] = price_of(&later);
    return GRADIN_OK;
}

static gradin_status price_ways(job *j, int show) {
    const programme_step *step = &j->step[show];
    gradin_status status = GRADIN_OK;
    for (int i = 0; i < step->n_choice && status == GRADIN_OK; i++) {
        int to = step->choice[i], first = j->p->first_layout >= 0 ? j->p->first_layout : to;
        const int *before = show > 0 ? step[-1].choice : &first;
        int n_before = show > 0 ? step[-1].n_choice : 1;
        for (int k = 0; k < n_before && status == GRADIN_OK; k++)
            status = price_way(j, show, before[k], to);
    }
    return status;
}

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
    return price_ways(j, show);
}

static void sum_up(gradin_programme_plan *plan) {
    for (int i = 0; i < plan->programme->n_booking; i++) {
        const gradin_staging *s = &plan->staging[i];
        plan->n_changeover += s->from_layout != s->layout && !s->no_way;
        plan->person_hours += s->person_hours;
        plan->night_hours += s->night_hours;
    }
}

static gradin_status solve(job *j, gradin_programme_plan *plan) {
    const gradin_programme *p = j->p;
    size_t n = (size_t)p->n_booking, n_layout = (size_t)p->n_layout;
    gradin_staging *staging = gradin_arena_alloc(j->arena, n, sizeof *staging);
    int *layout = gradin_arena_alloc(j->arena, n, sizeof *layout);
    j->step = gradin_arena_alloc(j->arena, n, sizeof *j->step);
    j->changeover = gradin_arena_alloc(j->arena, n_layout * n_layout, sizeof *j->changeover);
    j->no_way = gradin_arena_alloc(j->arena, n_layout * n_layout, sizeof *j->no_way);
    j->clock = gradin_arena_alloc(j->arena, n_layout * n_layout, sizeof *j->clock);
    gradin_status status =
        staging && layout && j->step && j->changeover && j->no_way && j->clock
            ? GRADIN_OK
            : gradin_error_add(j->error, GRADIN_NO_MEMORY, NULL, "out of memory");
    for (int i = 0; i < p->n_booking && status == GRADIN_OK; i++)
        status = fill_step(j, i, &staging[i]);
    programme_price price;
    if (status == GRADIN_OK)
        status = programme_path(j->arena, j->step, p->n_booking, p->n_layout, p->first_layout,
                                layout, &price, &plan->free_day);
    for (int i = 0; i < p->n_booking && status == GRADIN_OK; i++) {
        int from = i > 0 ? layout[i - 1] : p->first_layout >= 0 ? p->first_layout : layout[i];
        gradin_staging needs = staging[i];
        staging[i] = j->step[i].staging[from * p->n_layout + layout[i]];
        staging[i].needs = needs.needs;
        staging[i].most = needs.most;
    }
    if (status != GRADIN_OK) return status;
    plan->staging = staging;
    plan->changeover = j->changeover;
    plan->n_clash = price.n_clash;
    plan->cost = price.cost;
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
                                         const gradin_model *model, bool with_more_crew,
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
    gradin_status status = solve(&j, plan);
    return status == GRADIN_OK && with_more_crew ? solve_with_more(j, plan) : status;
}
