/* One choice drafted whole: its layout built as any, open edges given rails, built and checked
 * again; and why it is given up. */
#include "studies/draft/search.h"

#include <string.h>

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
    if (job->w->n_wheelchair < 0 && seats->n_wheelchair < draft_places_needed(job, seats->n_seat))
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
    if (!out->layout || !out->model || !out->fit) return draft_no_memory(job->error);
    gradin_status status = draft_make_layout(job, scheme, out->layout);
    if (status == GRADIN_OK) status = build(job, out);
    if (status != GRADIN_OK) return status;
    if (!draft_find_rails(job->arena, out->fit, &rail, &n_rail) ||
        !draft_add_rails(job, rail, n_rail, out->layout))
        return draft_no_memory(job->error);
    status = build(job, out);
    if (status == GRADIN_OK) *why = refusal_of(job, out->fit);
    return status;
}

gradin_status draft_find_ways(const draft_job *job, whole *out, refusal *why) {
    gradin_status status = gradin_fit_routes(job->arena, out->fit, job->error);
    if (status == GRADIN_OK) *why = refusal_of_routes(out->fit);
    return status;
}

static const char *no_place(const draft_job *job, const draft_scheme *scheme) {
    int n = 0;
    for (int i = 0; i < scheme->n_wheelchair_row; i++) n += scheme->wheelchair_row[i].n_place;
    return gradin_arena_print(job->arena,
                              "no level place with sight for the wheelchair places: of %d and "
                              "companions %d found one",
                              2 * scheme->n_wheelchair, n);
}

/* Tries one choice; *why tells what stands against it. The status fails only for lack of memory or
 * when the machine fails. */
gradin_status draft_try_choice(draft_job *job, const draft_choice *choice, draft_scheme *scheme,
                               whole *out, refusal *why) {
    gradin_error *of_layout = gradin_arena_alloc(job->arena, 1, sizeof *of_layout);
    gradin_error *of_draft = job->error;
    if (!of_layout) return draft_no_memory(of_draft);
    draft_make_scheme(job, choice, scheme);
    if (!draft_set_places(job, scheme)) {
        *why = (refusal){no_place(job, scheme), GRADIN_WISH_WHEELCHAIRS};
        return why->text ? GRADIN_OK : draft_no_memory(of_draft);
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
