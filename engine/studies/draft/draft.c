/* A layout from its form and a few wishes.
 *
 * Search: every choice of a small space (sections left free at the banks' ends 0 to 2, ranks left
 * free before them 0 or 1, most ranks per bank, most groups of towers, wheelchair places on free
 * floor or on a level first rank of one or two banks) is counted. The choices are then drafted
 * whole in the order of their count, the largest first, until one passes everything: its model is
 * built as that of any layout, its open edges get rails, and the rough checks must be met. A
 * count is never less than what the finished layout has, so the first to pass is the best of the
 * space. With a wanted count the smallest choices that reach it go first, and of the first N_LOOK
 * that pass the one with the largest share of clear and good seats is taken. At most N_TRY are
 * drafted. No threads, no chance: the same wishes give the same bytes. */
#include "studies/draft/draft.h"
#include "base/use.h"

#include <stdlib.h>
#include <string.h>

enum { N_TRY = 80, N_LOOK = 12, MOST_INSET = 2 };
enum { BEFORE_NOTHING, BEFORE_RANK, BEFORE_WALK, N_BEFORE };

typedef struct counted {
    draft_choice choice;
    int n_seat, order;
    bool is_enough; /* reaches the wanted count */
} counted;

typedef struct choices {
    counted *item;
    int n, capacity;
    int n_weighed;   /* with any seat */
    int n_over_exit; /* more than the doors let out */
    int n_short;     /* fewer than two rows */
} choices;

/* ADA Standards for Accessible Design 2010, table 221.2.1.1. */
int gradin_wheelchair_places(int n_seat) {
    static const int upto[][2] = {{3, 0}, {25, 1}, {50, 2}, {150, 4}, {300, 5}, {500, 6}};
    for (int i = 0; i < 6; i++)
        if (n_seat <= upto[i][0]) return upto[i][1];
    if (n_seat <= 5000) return 6 + (n_seat - 500 + 149) / 150;
    return 36 + (n_seat - 5000 + 199) / 200;
}

static gradin_status no_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the draft");
}

/* By the venue's own table; where it states none, by the published one. */
static int places_needed(const draft_job *job, int n_seat) {
    int by_own = gradin_wheelchairs_needed(&job->hall->rules, n_seat);
    return by_own >= 0 ? by_own : gradin_wheelchair_places(n_seat);
}

static void count(const draft_job *job, draft_scheme *scheme) {
    int n = scheme->floor.n_seat;
    for (int i = 0; i < scheme->n_bank; i++) n += scheme->bank[i].n_seat;
    for (int i = 0; i < job->hall->n_tower; i++) n += scheme->tower[i].n_seat;
    scheme->n_wheelchair = job->w->n_wheelchair;
    if (scheme->n_wheelchair < 0) {
        scheme->n_wheelchair = places_needed(job, n);
        while (scheme->n_wheelchair < places_needed(job, n + 2 * scheme->n_wheelchair))
            scheme->n_wheelchair++;
    }
    scheme->n_seat = n + 2 * scheme->n_wheelchair;
}

/* Machines, banks or chairs of a choice; false when it seats nobody. */
static bool make(const draft_job *job, const draft_choice *choice, draft_scheme *scheme) {
    draft_tower *tower = scheme->tower;
    gradin_setting *setting = scheme->setting;
    memset(scheme, 0, sizeof *scheme);
    scheme->choice = *choice;
    scheme->tower = tower;
    scheme->setting = setting;
    bool is_flat = job->w->form == GRADIN_FORM_FLAT_FLOOR;
    if (!is_flat && !draft_make_banks(job, scheme)) return false;
    draft_set_machines(job, scheme);
    if (is_flat && !draft_set_floor(job, scheme)) return false;
    count(job, scheme);
    return true;
}

static int most_depth(const draft_job *job) {
    const gradin_lift_grid *g = &job->hall->grid[job->main];
    if (job->w->form != GRADIN_FORM_FLAT_FLOOR)
        return job->n_deep > job->n_across ? job->n_deep : job->n_across;
    return (int)(job->n_deep * g->size_m[1 - job->quarter % 2] / job->w->row_depth_m);
}

/* Does one more rank per bank still change anything? */
static bool is_used_up(const draft_job *job, const draft_scheme *scheme) {
    int deepest = 0;
    for (int i = 0; i < scheme->n_bank; i++) {
        int n = scheme->bank[i].n_rank - scheme->bank[i].is_front;
        deepest = n > deepest ? n : deepest;
    }
    return job->w->form != GRADIN_FORM_FLAT_FLOOR && deepest < scheme->choice.depth;
}

static bool add_choice(draft_job *job, choices *all, const draft_scheme *scheme) {
    all->n_weighed++;
    if (scheme->n_seat > job->most_seats) {
        all->n_over_exit++;
        return true;
    }
    if (gradin_arena_grow(job->arena, (void **)&all->item, all->n, &all->capacity,
                          sizeof *all->item) != GRADIN_OK)
        return false;
    all->item[all->n] =
        (counted){.choice = scheme->choice,
                  .n_seat = scheme->n_seat,

                  .order = all->n,
                  .is_enough = job->w->n_seat > 0 && scheme->n_seat >= job->w->n_seat};
    all->n++;
    return true;
}

/* Tries towers, from none to as many as still add seats. */
static bool weigh_towers(draft_job *job, choices *all, draft_choice choice, draft_scheme *scheme,
                         bool *is_over) {
    int before = -1;
    for (choice.towers = 0; choice.towers <= job->hall->n_tower; choice.towers++) {
        if (!make(job, &choice, scheme)) {
            all->n_short++;
            *is_over = false;
            return true;
        }
        *is_over = is_used_up(job, scheme);
        if (*is_over || scheme->n_seat == before) return true;
        before = scheme->n_seat;
        if (!add_choice(job, all, scheme)) return false;
    }
    return true;
}

static bool weigh_depths(draft_job *job, choices *all, draft_choice choice, draft_scheme *scheme) {
    bool is_over = false;
    for (choice.depth = 1; choice.depth <= most_depth(job) && !is_over; choice.depth++)
        if (!weigh_towers(job, all, choice, scheme, &is_over)) return false;
    return true;
}

static int most_front(const draft_job *job) {
    bool is_end = job->w->form == GRADIN_FORM_FLAT_FLOOR || job->w->form == GRADIN_FORM_END_STAGE;
    if (job->w->n_wheelchair == 0) return 0;
    return is_end ? DRAFT_FRONT_FIRST : DRAFT_FRONT_FIRST | DRAFT_FRONT_OTHERS;
}

/* Loose chairs have no treads; the sides of a thrust go without its front, but no bank behind the
 * stage does. */
static bool is_of_form(const draft_job *job, const draft_choice *choice) {
    bool is_flat = job->w->form == GRADIN_FORM_FLAT_FLOOR;
    if (is_flat) return !choice->walk;
    return job->w->form == GRADIN_FORM_THRUST || choice->front != DRAFT_FRONT_OTHERS;
}

static bool weigh(draft_job *job, choices *all, draft_scheme *scheme) {
    draft_choice choice = {0};
    for (choice.inset = 0; choice.inset <= MOST_INSET; choice.inset++)
        for (int before = 0; before < N_BEFORE; before++)
            for (choice.front = 0; choice.front <= most_front(job); choice.front++) {
                choice.gap = before == BEFORE_RANK;
                choice.walk = before == BEFORE_WALK;
                if (is_of_form(job, &choice) && !weigh_depths(job, all, choice, scheme))
                    return false;
            }
    return true;
}

/* First those with enough seats, the smallest first; then the others, the largest first. */
static int best_first(const void *a, const void *b) {
    const counted *p = a, *q = b;
    if (p->is_enough != q->is_enough) return p->is_enough ? -1 : 1;
    if (p->n_seat != q->n_seat) return (p->n_seat > q->n_seat) == p->is_enough ? 1 : -1;
    return p->order - q->order;
}

typedef struct whole {
    gradin_layout *layout;
    gradin_model *model;
    gradin_fit *fit;
} whole;

/* Why a choice is given up, and the wish that asks too much. */
typedef struct refusal {
    const char *text; /* NULL: it is not */
    gradin_wish wish;
} refusal;

static gradin_status build(const draft_job *job, whole *out) {
    gradin_status status =
        gradin_model_build(job->arena, job->hall, out->layout, out->model, job->error);
    memcpy(out->model->digest, job->w->digest, sizeof out->model->digest);
    return status == GRADIN_OK ? gradin_fit_check(job->arena, out->model, out->fit, job->error)
                               : status;
}

static const char *unmet_check(const gradin_fit *fit) {
    if (fit->n_long_row > 0) return "rows longer than the venue's local rules allow";
    if (fit->exit_m < fit->exit_needed_m - 1e-9) return "the width of the free exits";
    if (fit->n_vom_blocked > 0) return "seats at an open vomitory";
    if (!fit->is_met) return "the venue's other local rules (gradin fit names them)";
    if (draft_has_open_edges(fit)) return "open edges where no rail can stand";
    return NULL;
}

static refusal refusal_of(const draft_job *job, const gradin_fit *fit) {
    const gradin_seats *seats = &fit->model->seats;
    static const char by_table[] = "wheelchair places by the count table";
    const char *unmet = unmet_check(fit);
    if (seats->n_wheelchair < fit->wheelchairs_needed ||
        seats->n_companion < fit->companions_needed)
        return (refusal){by_table, GRADIN_WISH_WHEELCHAIRS};
    if (unmet) return (refusal){unmet, GRADIN_WISH_SEATS};
    if (job->w->n_wheelchair < 0 && seats->n_wheelchair < places_needed(job, seats->n_seat))
        return (refusal){by_table, GRADIN_WISH_WHEELCHAIRS};
    return (refusal){0};
}

/* What the routes say, which are asked last. */
static refusal refusal_of_routes(const gradin_fit *fit) {
    const gradin_routes *r = fit->routes;
    if (r->n_wheelchair_without > 0)
        return (refusal){"wheelchair places without a way out", GRADIN_WISH_WHEELCHAIRS};
    if (r->n_row_without > 0) return (refusal){"rows without a way out", GRADIN_WISH_SEATS};
    if (!r->is_met)
        return (refusal){"ways out that the venue's rules do not allow", GRADIN_WISH_SEATS};
    return (refusal){0};
}

/* Builds the layout, sets rails where edges are open, builds it again. */
static gradin_status draft_whole(const draft_job *job, const draft_scheme *scheme, whole *out,
                                 refusal *why) {
    const draft_rail *rail;
    int n_rail;
    out->layout = gradin_arena_alloc(job->arena, 1, sizeof *out->layout);
    out->model = gradin_arena_alloc(job->arena, 1, sizeof *out->model);
    out->fit = gradin_arena_alloc(job->arena, 1, sizeof *out->fit);
    if (!out->layout || !out->model || !out->fit) return no_memory(job->error);
    gradin_status status = draft_make_layout(job, scheme, out->layout);
    if (status == GRADIN_OK) status = build(job, out);
    if (status != GRADIN_OK) return status;
    if (!draft_find_rails(job->arena, out->fit, &rail, &n_rail) ||
        !draft_add_rails(job, rail, n_rail, out->layout))
        return no_memory(job->error);
    status = build(job, out);
    if (status == GRADIN_OK) *why = refusal_of(job, out->fit);
    if (status != GRADIN_OK || why->text) return status;
    status = gradin_fit_routes(job->arena, out->fit, job->error);
    if (status == GRADIN_OK) *why = refusal_of_routes(out->fit);
    return status;
}

/* Tries one choice; *why tells what stands against it. The status fails only for lack of memory or
 * when the machine fails. */
static gradin_status try_choice(draft_job *job, const draft_choice *choice, draft_scheme *scheme,
                                whole *out, refusal *why) {
    gradin_error *of_layout = gradin_arena_alloc(job->arena, 1, sizeof *of_layout);
    gradin_error *of_draft = job->error;
    if (!of_layout) return no_memory(of_draft);
    make(job, choice, scheme);
    if (!draft_set_places(job, scheme)) {
        *why = (refusal){"no level place with sight for the wheelchair places",
                         GRADIN_WISH_WHEELCHAIRS};
        return GRADIN_OK;
    }
    job->error = of_layout;
    gradin_status status = draft_whole(job, scheme, out, why);
    job->error = of_draft;
    if (status == GRADIN_OK) return status;
    if (status != GRADIN_BAD_INPUT)
        return gradin_error_add(of_draft, status, NULL, "the draft was not finished");
    bool is_told = of_layout->n_diagnostic > 0;
    *why = (refusal){is_told ? of_layout->diagnostic[0].text : "it does not pass check",
                     GRADIN_WISH_SEATS};
    return GRADIN_OK;
}

static gradin_status refuse(const draft_job *job, const choices *all, refusal last) {
    if (all->n_weighed == 0)
        return gradin_error_add(
            job->error, GRADIN_BAD_INPUT, &job->w->at[GRADIN_WISH_C],
            "no row of seats can be made: no setting of the lifts before this stage reaches this C "
            "with these rows, or none is left; a lower C, a higher or smaller stage may do");
    if (all->n == 0)
        return gradin_error_add(job->error, GRADIN_BAD_INPUT, &job->w->at[GRADIN_WISH_VENUE],
                                "the doors of %s let too few people out for the smallest choice",
                                job->hall->name);
    return gradin_error_add(job->error, GRADIN_BAD_INPUT, &job->w->at[last.wish],
                            "none of the %d best choices can stand; the last: %s",
                            all->n < N_TRY ? all->n : N_TRY, last.text);
}

static gradin_status open_job(draft_job *job) {
    job->rake = gradin_arena_alloc(job->arena, 1, sizeof *job->rake);
    gradin_rake *rows = gradin_arena_alloc(job->arena, 1, sizeof *rows);
    if (!job->rake || !rows) return no_memory(job->error);
    job->rake->rake = rows;
    gradin_status status = draft_read_hall(job);
    return status == GRADIN_OK ? draft_place_stage(job) : status;
}

/* Share of the seats that are clear or good, from a few rays. */
static gradin_status find_share(const draft_job *job, const whole *out, double *share) {
    gradin_sight *sight = gradin_arena_alloc(job->arena, 1, sizeof *sight);
    const gradin_sight_options few = {.n_sample = 64};
    if (!sight) return no_memory(job->error);
    gradin_status status = gradin_sight_compute(job->arena, out->model, &few, sight, job->error);
    *share = (double)(sight->n_rating[GRADIN_RATING_CLEAR] + sight->n_rating[GRADIN_RATING_GOOD]) /
             out->model->seats.n_seat;
    return status;
}

typedef struct best_yet {
    whole layout;
    draft_choice choice;
    double share;
    int n_passed, n_refused;
    refusal last; /* of the choices given up */
} best_yet;

static gradin_status look_at(draft_job *job, const counted *item, draft_scheme *scheme,
                             best_yet *best) {
    whole out = {0};
    refusal why = {0};
    double share = 0.0;
    gradin_status status = try_choice(job, &item->choice, scheme, &out, &why);
    if (status != GRADIN_OK) return status;
    if (why.text) {
        if (best->n_refused++ == 0 && best->n_passed == 0 &&
            !draft_limit(job, gradin_arena_print(job->arena, "a choice of %d places: %s",
                                                 item->n_seat, why.text)))
            return no_memory(job->error);
        best->last = why;
        return GRADIN_OK;
    }
    if (item->is_enough) status = find_share(job, &out, &share);
    if (best->n_passed++ == 0 || share > best->share + 1e-9) {
        best->layout = out;
        best->choice = item->choice;
        best->share = share;
    }
    return status;
}

/* Without a wanted count the first that passes; else the best share of N_LOOK that do. */
static gradin_status search(draft_job *job, choices *all, draft_scheme *scheme,
                            gradin_draft *draft) {
    best_yet best = {.share = -1.0};
    for (int i = 0; i < all->n && i < N_TRY; i++) {
        bool is_last = best.n_passed > 0 && (!all->item[i].is_enough || best.n_passed == N_LOOK);
        if (is_last) break;
        gradin_status status = look_at(job, &all->item[i], scheme, &best);
        if (status != GRADIN_OK) return status;
    }
    if (best.n_passed == 0) return refuse(job, all, best.last);
    make(job, &best.choice, scheme);
    draft_set_places(job, scheme);
    draft->layout = best.layout.layout;
    draft->model = best.layout.model;
    draft->fit = best.layout.fit;
    draft->n_refused = best.n_refused;
    draft->n_passed = best.n_passed;
    return draft_report(job, scheme, draft) ? GRADIN_OK : no_memory(job->error);
}

gradin_status gradin_draft_make(gradin_arena *arena, const gradin_wishes *wishes,
                                gradin_draft *draft, gradin_error *error) {
    if (NEEDS(error, arena, wishes, draft) != GRADIN_OK ||
        NEEDS(error, wishes->file, wishes->units, wishes->venue, wishes->hall) != GRADIN_OK)
        return GRADIN_BAD_USE;
    draft_job job = {.arena = arena, .w = wishes, .hall = wishes->hall, .error = error};
    draft_scheme scheme = {0};
    choices all = {0};
    memset(draft, 0, sizeof *draft);
    scheme.tower = gradin_arena_alloc(arena, (size_t)job.hall->n_tower, sizeof *scheme.tower);
    scheme.setting = gradin_arena_alloc(arena, (size_t)job.hall->n_machine, sizeof *scheme.setting);
    if (!scheme.tower || !scheme.setting) return no_memory(error);
    gradin_status status = open_job(&job);
    if (status != GRADIN_OK) return status;
    if (!weigh(&job, &all, &scheme)) return no_memory(error);
    if (all.n > 0) qsort(all.item, (size_t)all.n, sizeof *all.item, best_first);
    draft->n_tried = all.n_weighed;
    if (all.n_over_exit > 0 &&
        !draft_limit(
            &job, gradin_arena_print(arena, "exits: the doors let %d people out", job.most_seats)))
        return no_memory(error);
    return search(&job, &all, &scheme, draft);
}
