/* What a draft did and what limited it, for the report. */
#include "base/lengths.h"
#include "studies/draft/draft.h"

#include <stdio.h>
#include <string.h>

static const char *show_length(const draft_job *job, double length_m) {
    char text[LENGTH_CHARS];
    return gradin_arena_copy_text(job->arena,
                                  length_text(text, length_m, length_unit_of(job->w->units)));
}

static bool add_line(gradin_draft *draft, gradin_draft_line *line, const char *name,
                     const char *what, int n_seat) {
    line[draft->n_line++] = (gradin_draft_line){name, what, n_seat};
    return name && what;
}

static const char *bank_text(const draft_job *job, const draft_bank *bank) {
    int n_rank = bank->n_rank - bank->is_front, last = bank->n_rank - 1;
    const char *top =
        show_length(job, bank->height_m[last] + (bank->n_step - 1) * bank->riser_m[last]);
    if (job->main < 0)
        return gradin_arena_print(job->arena, "%d row%s on platforms, up to %s, %d aisle%s", n_rank,
                                  n_rank == 1 ? "" : "s", top, bank->n_aisle,
                                  bank->n_aisle == 1 ? "" : "s");
    return gradin_arena_print(job->arena, "%d row%s on %d rank%s of %d lifts, up to %s, %d aisle%s",
                              draft_bank_rows(bank), draft_bank_rows(bank) == 1 ? "" : "s", n_rank,
                              n_rank == 1 ? "" : "s", bank->n_across, top, bank->n_aisle,
                              bank->n_aisle == 1 ? "" : "s");
}

static bool add_banks(const draft_job *job, const draft_scheme *scheme, gradin_draft *draft,
                      gradin_draft_line *line) {
    for (int i = 0; i < scheme->n_bank; i++) {
        const draft_bank *bank = &scheme->bank[i];
        draft->least_c_m = fmin(draft->least_c_m, bank->least_c_m);
        if (!add_line(draft, line, bank->name, bank_text(job, bank), bank->n_seat)) return false;
    }
    const draft_floor *f = &scheme->floor;
    return f->n_seat == 0 ||
           add_line(draft, line, "Chairs",
                    gradin_arena_print(job->arena, "%d %s rows on the floor, %d aisles", f->n_row,
                                       f->is_curved ? "curved" : "straight", f->n_aisle),
                    f->n_seat);
}

static bool add_towers(const draft_job *job, const draft_scheme *scheme, gradin_draft *draft,
                       gradin_draft_line *line) {
    for (int i = 0; i < job->hall->n_tower; i++) {
        const draft_tower *t = &scheme->tower[i];
        const char *what = t->is_seated ? "seated, hoist at %s" : "flown out of the way, %s";
        const char *at = show_length(job, t->hoist_m);
        if (!at) return false;
        if (!t->is_seated && !t->is_flown) continue;
        char text[96];
        snprintf(text, sizeof text, what, at);
        if (!add_line(draft, line, job->hall->tower[i].name,
                      gradin_arena_copy_text(job->arena, text), t->n_seat))
            return false;
    }
    return true;
}

static bool add_places(const draft_job *job, const draft_scheme *scheme, gradin_draft *draft,
                       gradin_draft_line *line) {
    for (int i = 0; i < scheme->n_wheelchair_row; i++) {
        const draft_wheelchair_row *s = &scheme->wheelchair_row[i];
        if (!add_line(draft, line, gradin_arena_print(job->arena, "Places %d", i + 1),
                      gradin_arena_print(job->arena,
                                         "wheelchair places and companions on level floor, "
                                         "facing %.0f deg",
                                         s->facing_deg),
                      s->n_place))
            return false;
    }
    return true;
}

static bool limit_banks(draft_job *job, const draft_scheme *scheme) {
    int one_aisle, two_aisles;
    draft_row_rule(job, &one_aisle, &two_aisles);
    for (int i = 0; i < scheme->n_bank; i++) {
        const draft_bank *b = &scheme->bank[i];
        if (b->seat_m > job->w->seat_width_m + 1e-6 &&
            !draft_limit(job, gradin_arena_print(job->arena,
                                                 "seats of %s are %s wide: rows run on over the "
                                                 "lifts without gaps",
                                                 b->name, show_length(job, b->seat_m))))
            return false;
        bool is_chosen = b->n_rank - b->is_front >= scheme->choice.depth;
        if (!is_chosen && !draft_limit(job, gradin_arena_print(job->arena, "rows of %s: %s",
                                                               b->name, b->hindrance)))
            return false;
    }
    return draft_limit(job, gradin_arena_print(job->arena,
                                               "aisles: rows of %d seats with one aisle, %d "
                                               "with two%s",
                                               one_aisle, two_aisles,
                                               job->hall->rules.row_one_aisle > 0
                                                   ? ""
                                                   : " (the venue states none; IBC, from memory)"));
}

static bool limit_towers(draft_job *job, const draft_scheme *scheme) {
    int n_left = 0;
    for (int i = 0; i < job->hall->n_tower; i++)
        n_left += job->w->use_tower[i] && !scheme->tower[i].is_seated;
    if (n_left == 0) return true;
    return draft_limit(job, gradin_arena_print(job->arena,
                                               "towers: %d more turn too far, are in the way, "
                                               "see too little or are not needed",
                                               n_left));
}

static bool limit_floors(draft_job *job) {
    for (int i = 0; i < job->hall->n_floor; i++)
        if (draft_is_off_level(&job->hall->floor[i]) &&
            !draft_limit(job,
                         gradin_arena_print(job->arena,
                                            "floor %s is not at height 0: nothing is drafted on it",
                                            job->hall->floor[i].name)))
            return false;
    return true;
}

static bool limit_platforms(draft_job *job, const draft_scheme *scheme) {
    const gradin_wishes *w = job->w;
    if (job->main >= 0) return true;
    if (w->stage_height_m > 0.0 &&
        !draft_limit(job, "the stage is set up on the floor; the venue states no decks for it"))
        return false;
    return scheme->n_bank == 0 ||
           draft_limit(job, gradin_arena_print(job->arena,
                                               "platforms of the wishes: heights by %s, up to %s; "
                                               "steps between them in the aisles are not drafted",
                                               show_length(job, w->platform_step_m),
                                               show_length(job, w->platform_most_m)));
}

static bool limit_rest(draft_job *job, const draft_scheme *scheme) {
    const gradin_wishes *w = job->w;
    int n_seat = scheme->n_seat;
    if (w->n_seat > 0 && n_seat >= w->n_seat && !draft_limit(job, "the wanted capacity is reached"))
        return false;
    if (w->n_seat > n_seat &&
        !draft_limit(job,
                     gradin_arena_print(job->arena, "the wanted %d are not reached", w->n_seat)))
        return false;
    if (scheme->choice.gap > 0 && job->main >= 0 &&
        !draft_limit(job, "a rank of lifts is left free before the rows"))
        return false;
    if (!limit_floors(job) || !limit_platforms(job, scheme)) return false;
    if (w->stage_height_m > job->hall->rules.guard_drop_m + 1e-9)
        return draft_limit(job, "edges of the stage stay open: a rail there would hide what is "
                                "looked at; mark them");
    return true;
}

bool draft_report(draft_job *job, const draft_scheme *scheme, gradin_draft *draft) {
    size_t most = (size_t)(scheme->n_bank + scheme->n_wheelchair_row + job->hall->n_tower + 1);
    gradin_draft_line *line = gradin_arena_alloc(job->arena, most, sizeof *line);
    gradin_sight *sight = gradin_arena_alloc(job->arena, 1, sizeof *sight);
    if (!line || !sight) return false;
    draft->line = line;
    draft->least_c_m = INFINITY;
    draft->wanted_c_m = job->w->c_m;
    draft->n_wheelchair_needed = scheme->n_wheelchair;
    if (!add_banks(job, scheme, draft, line) || !add_towers(job, scheme, draft, line) ||
        !add_places(job, scheme, draft, line) || !limit_banks(job, scheme) ||
        !limit_towers(job, scheme) || !limit_rest(job, scheme))
        return false;
    draft->limit = job->limit;
    draft->n_limit = job->n_limit;
    if (gradin_sight_compute(job->arena, draft->model, NULL, sight, job->error) != GRADIN_OK)
        return false;
    memcpy(draft->n_rating, sight->n_rating, sizeof draft->n_rating);
    return true;
}
