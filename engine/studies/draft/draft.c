/* A layout from its form and a few wishes.
 *
 * Search: every choice of a small space (choices.c) is counted. The choices are then drafted whole
 * in the order of their count, the largest first, until one passes everything: its model is built
 * as that of any layout, its open edges get rails, the rough checks must be met and every row and
 * wheelchair place must have a way out. A count is never less than what the finished layout has, so
 * the first to pass is the best of the space. With a wanted count the smallest choices that reach
 * it go first, N_LOOK without towers and N_LOOK with them, and the one with the largest share of
 * clear and good seats is taken. At most N_TRY are drafted. No threads, no chance: the same wishes
 * give the same bytes. */
#include "base/use.h"
#include "studies/draft/search.h"

#include <stdlib.h>
#include <string.h>

enum { N_TRY = 80, N_LOOK = 8 };

/* First those with enough seats, the smallest first; then the others, the largest first. */
static int best_first(const void *a, const void *b) {
    const counted *p = a, *q = b;
    if (p->is_enough != q->is_enough) return p->is_enough ? -1 : 1;
    if (p->n_seat != q->n_seat) return (p->n_seat > q->n_seat) == p->is_enough ? 1 : -1;
    return p->order - q->order;
}

static gradin_status refuse(const draft_job *job, const choices *all, refusal last) {
    if (all->n_weighed == 0 && job->main < 0)
        return gradin_error_add(
            job->error, GRADIN_BAD_INPUT, &job->w->at[GRADIN_WISH_STAGE],
            "leaves no room for rows: the largest rectangle of free floor at height 0 in %s is "
            "%.2f by %.2f m; %s",
            job->hall->name, job->floor_box.x_max_m - job->floor_box.x_min_m,
            job->floor_box.y_max_m - job->floor_box.y_min_m,
            job->lack.text ? job->lack.text
                           : "no row there is within the C, the platforms and a way before it");
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
    if (!job->rake || !rows) return draft_no_memory(job->error);
    job->rake->rake = rows;
    gradin_status status = draft_read_hall(job);
    return status == GRADIN_OK ? draft_place_stage(job) : status;
}

typedef struct best_yet {
    whole layout;
    draft_choice choice;
    draft_worth worth;
    int n_passed, n_refused, n_worse;
    int n_left;         /* of the choices with enough seats, not drafted */
    int n_most_refused; /* places of the largest that was given up */
    refusal last;       /* of the choices given up */
} best_yet;

static bool give_up(draft_job *job, const counted *item, refusal why, best_yet *best) {
    bool is_first = best->n_refused++ == 0 && best->n_passed == 0;
    best->last = why;
    if (item->n_seat > best->n_most_refused) best->n_most_refused = item->n_seat;
    return !is_first || draft_limit(job, gradin_arena_print(job->arena, "a choice of %d places: %s",
                                                            item->n_seat, why.text));
}

/* More clear and good seats; with towers, also no more poor ones than without. */
static bool is_better(const draft_worth *worth, const counted *item, const best_yet *best) {
    if (best->n_passed == 0) return true;
    bool adds_towers = item->choice.towers > 0 && best->choice.towers == 0;
    return worth->share > best->worth.share + 1e-9 &&
           !(adds_towers && worth->n_poor > best->worth.n_poor);
}

/* Sight is asked before the ways out, which take longer. */
static gradin_status look_at(draft_job *job, const counted *item, draft_scheme *scheme,
                             best_yet *best) {
    static const refusal poor = {"towers from which most people see poorly", GRADIN_WISH_SEATS};
    whole out = {0};
    refusal why = {0};
    draft_worth worth = {0};
    gradin_status status = draft_try_choice(job, &item->choice, scheme, &out, &why);
    if (status == GRADIN_OK && !why.text) status = draft_weigh_sight(job, out.model, &worth);
    if (status != GRADIN_OK) return status;
    bool do_towers_serve = 2 * worth.n_poor_tower <= worth.n_tower || job->w->n_seat > 0;
    if (!why.text && !do_towers_serve) why = poor;
    if (!why.text && !is_better(&worth, item, best)) {
        best->n_worse++;
        return GRADIN_OK;
    }
    if (!why.text) status = draft_find_ways(job, &out, &why);
    if (status != GRADIN_OK) return status;
    if (why.text) return give_up(job, item, why, best) ? GRADIN_OK : draft_no_memory(job->error);
    best->n_passed++;
    best->layout = out;
    best->choice = item->choice;
    best->worth = worth;
    return status;
}

/* The best of the first N_LOOK choices with enough seats that pass, with towers or without. */
static gradin_status look_at_enough(draft_job *job, const choices *all, bool has_towers,
                                    draft_scheme *scheme, best_yet *best) {
    int n_tried = 0, n_before = best->n_passed + best->n_worse;
    for (int i = 0; i < all->n && all->item[i].is_enough; i++) {
        if (best->n_passed + best->n_worse == n_before + N_LOOK) break;
        if ((all->item[i].choice.towers > 0) != has_towers) continue;
        if (n_tried == N_TRY) {
            best->n_left++;
            continue;
        }
        gradin_status status = look_at(job, &all->item[i], scheme, best);
        if (status != GRADIN_OK) return status;
        n_tried++;
    }
    return GRADIN_OK;
}

/* The first of the others that passes; the largest come first. */
static gradin_status look_at_most(draft_job *job, const choices *all, draft_scheme *scheme,
                                  best_yet *best) {
    int n_tried = 0;
    for (int i = 0; i < all->n && n_tried < N_TRY && best->n_passed == 0; i++) {
        if (all->item[i].is_enough) continue;
        gradin_status status = look_at(job, &all->item[i], scheme, best);
        if (status != GRADIN_OK) return status;
        n_tried++;
    }
    return GRADIN_OK;
}

/* How far the draft may lie from the most of the counted choices: not at all where all with more
 * places were drafted whole and given up. */
static bool tell_most(draft_job *job, const best_yet *best) {
    int n = best->layout.model->seats.n_seat;
    if (best->n_left > 0)
        return draft_limit(job, gradin_arena_print(job->arena,
                                                   "%d choices of more places were counted and "
                                                   "not drafted",
                                                   best->n_left));
    if (best->n_most_refused <= n) return draft_limit(job, "no counted choice has more places");
    return draft_limit(job, gradin_arena_print(job->arena,
                                               "every counted choice of more places, up to %d, was "
                                               "drafted whole and given up",
                                               best->n_most_refused));
}

static gradin_status finish(draft_job *job, const best_yet *best, draft_scheme *scheme,
                            gradin_draft *draft) {
    draft_make_scheme(job, &best->choice, scheme);
    draft_set_places(job, scheme);
    draft->layout = best->layout.layout;
    draft->model = best->layout.model;
    draft->fit = best->layout.fit;
    draft->n_refused = best->n_refused;
    draft->n_passed = best->n_passed;
    draft->n_worse = best->n_worse;
    draft->n_wanted = job->w->n_seat;
    bool is_most = draft->model->seats.n_seat < job->w->n_seat || job->w->n_seat == 0;
    if (is_most && !tell_most(job, best)) return draft_no_memory(job->error);
    return draft_report(job, scheme, draft) ? GRADIN_OK : draft_no_memory(job->error);
}

/* With a wanted count first without towers, then with them; else the most. */
static gradin_status search(draft_job *job, choices *all, draft_scheme *scheme,
                            gradin_draft *draft) {
    best_yet best = {0};
    gradin_status status = look_at_enough(job, all, false, scheme, &best);
    if (status == GRADIN_OK) status = look_at_enough(job, all, true, scheme, &best);
    if (status == GRADIN_OK && best.n_passed == 0) status = look_at_most(job, all, scheme, &best);
    if (status != GRADIN_OK) return status;
    if (best.n_passed == 0) return refuse(job, all, best.last);
    return finish(job, &best, scheme, draft);
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
    if (!scheme.tower || !scheme.setting) return draft_no_memory(error);
    gradin_status status = open_job(&job);
    if (status != GRADIN_OK) return status;
    if (!draft_weigh_choices(&job, &all, &scheme)) return draft_no_memory(error);
    if (all.n > 0) qsort(all.item, (size_t)all.n, sizeof *all.item, best_first);
    draft->n_tried = all.n_weighed;
    if (all.n_over_exit > 0 &&
        !draft_limit(
            &job, gradin_arena_print(arena, "exits: the doors let %d people out", job.most_seats)))
        return draft_no_memory(error);
    return search(&job, &all, &scheme, draft);
}
