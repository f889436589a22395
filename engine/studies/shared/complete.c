/* What a result must have before anybody writes it: a model, and an array to each count. */
#include "studies/shared/complete.h"
#include "base/use.h"
#include "model/complete.h"

static gradin_status check_sight(const gradin_sight *sight, int n_seat, gradin_error *error) {
    if (sight->n_seat == n_seat) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_BAD_USE, NULL, "%d seats seen of a model of %d",
                            sight->n_seat, n_seat);
}

gradin_status assessment_complete(const gradin_assessment *a, gradin_error *error) {
    gradin_status status = NEEDS(error, a);
    if (status == GRADIN_OK) status = model_complete(a->model, error);
    if (status == GRADIN_OK) status = check_sight(&a->sight, a->model->seats.n_seat, error);
    if (status == GRADIN_OK && a->has_noise) status = NEEDS(error, a->model->pass);
    if (status == GRADIN_OK && a->n_band > 0) status = NEEDS(error, a->band);
    return status;
}

gradin_status assessment_tables_complete(const gradin_assessment *a, gradin_error *error) {
    gradin_status status = assessment_complete(a, error);
    if (status != GRADIN_OK) return status;
    const gradin_sight *s = &a->sight;
    const gradin_noise *n = &a->noise;
    status =
        NEEDS(error, s->visible, s->hidden, s->worst_occluder, s->worst_hidden, s->c_case, s->c_m,
              s->c_class, s->c_area, s->front_seat, s->distance_m, s->rating, s->reason);
    if (status == GRADIN_OK && a->has_noise)
        status = NEEDS(error, n->loudest_element, n->r_db, n->rw, n->share, n->uncertainty_source,
                       n->systematic_db, n->uncertainty_db, n->verdict);
    if (status == GRADIN_OK && a->has_crowd)
        status = NEEDS(error, a->crowd.clear, a->crowd.clear_se, a->crowd.median, a->crowd.p10);
    return status;
}

gradin_status assessment_summary_complete(const gradin_assessment *a, gradin_error *error) {
    gradin_status status = assessment_tables_complete(a, error);
    return status == GRADIN_OK && a->model->n_level > 0 ? NEEDS(error, a->level) : status;
}

gradin_status rake_complete(const gradin_rake *rake, gradin_error *error) {
    gradin_status status = NEEDS(error, rake);
    if (status == GRADIN_OK) status = model_complete(rake->model, error);
    return status == GRADIN_OK ? NEEDS(error, rake->wanted.block) : status;
}

static gradin_status routes_complete(const gradin_routes *routes, gradin_error *error) {
    gradin_status status = GRADIN_OK;
    if (routes->n_route > 0) status = NEEDS(error, routes->route);
    if (status == GRADIN_OK && routes->n_dead_end > 0) status = NEEDS(error, routes->dead_end);
    return status;
}

gradin_status fit_complete(const gradin_fit *fit, gradin_error *error) {
    gradin_status status = NEEDS(error, fit);
    if (status == GRADIN_OK) status = model_complete(fit->model, error);
    if (status == GRADIN_OK) status = NEEDS(error, fit->model->machinery);
    if (status == GRADIN_OK && fit->n_edge > 0) status = NEEDS(error, fit->edge);
    if (status == GRADIN_OK && fit->n_long_row > 0) status = NEEDS(error, fit->long_row);
    if (status == GRADIN_OK && fit->n_exit_blocked > 0) status = NEEDS(error, fit->exit);
    if (status == GRADIN_OK && fit->n_exit_narrowed > 0) status = NEEDS(error, fit->narrowed);
    if (status == GRADIN_OK && fit->n_exit_vom > 0) status = NEEDS(error, fit->exit_vom);
    if (status == GRADIN_OK && fit->n_cut_off > 0) status = NEEDS(error, fit->first_cut_off);
    if (status == GRADIN_OK && fit->n_vom_blocked > 0) status = NEEDS(error, fit->vom);
    if (status == GRADIN_OK && fit->n_overload > 0) status = NEEDS(error, fit->overload);
    if (status == GRADIN_OK && fit->routes) status = routes_complete(fit->routes, error);
    return status;
}

gradin_status draft_complete(const gradin_draft *draft, gradin_error *error) {
    gradin_status status = NEEDS(error, draft);
    if (status == GRADIN_OK) status = model_complete(draft->model, error);
    if (status == GRADIN_OK) status = fit_complete(draft->fit, error);
    if (status == GRADIN_OK && draft->n_line > 0) status = NEEDS(error, draft->line);
    if (status == GRADIN_OK && draft->n_limit > 0) status = NEEDS(error, draft->limit);
    return status;
}

gradin_status changeover_complete(const gradin_changeover *changeover, gradin_error *error) {
    gradin_status status = NEEDS(error, changeover);
    if (status == GRADIN_OK) status = model_complete(changeover->from, error);
    if (status == GRADIN_OK) status = model_complete(changeover->to, error);
    if (status == GRADIN_OK && changeover->n_move > 0) status = NEEDS(error, changeover->move);
    return status;
}

gradin_status programme_complete(const gradin_programme_plan *plan, gradin_error *error) {
    gradin_status status = NEEDS(error, plan);
    if (status == GRADIN_OK) status = NEEDS(error, plan->programme, plan->model, plan->staging);
    if (status != GRADIN_OK) return status;
    const gradin_programme *p = plan->programme;
    status = NEEDS(error, p->name, p->layout_name, p->booking, plan->changeover);
    for (int i = 0; i < p->n_layout && status == GRADIN_OK; i++)
        status = model_complete(&plan->model[i], error);
    return status;
}

gradin_status choice_complete(const gradin_choice *choice, gradin_error *error) {
    gradin_status status = NEEDS(error, choice);
    if (status == GRADIN_OK) status = NEEDS(error, choice->show, choice->candidate);
    if (status == GRADIN_OK) status = NEEDS(error, choice->show->name);
    if (status != GRADIN_OK) return status;
    if (choice->n_candidate < 1 || choice->n_candidate > GRADIN_MAX_CANDIDATE)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a choice of %d layouts",
                                choice->n_candidate);
    for (int i = 0; i < choice->n_candidate && status == GRADIN_OK; i++) {
        const gradin_candidate *c = &choice->candidate[i];
        status = model_complete(c->model, error);
        if (status == GRADIN_OK)
            status =
                NEEDS(error, c->is_held, c->assessment.sight.rating, c->assessment.sight.reason);
        if (status == GRADIN_OK && c->noise.is_there) status = NEEDS(error, choice->traffic);
    }
    return status;
}

gradin_status season_complete(const gradin_season *season, gradin_error *error) {
    gradin_status status = NEEDS(error, season);
    if (status == GRADIN_OK) status = model_complete(season->model, error);
    if (status == GRADIN_OK) status = NEEDS(error, season->traffic);
    if (status == GRADIN_OK && season->n_flight > 0) status = NEEDS(error, season->flight);
    if (status == GRADIN_OK && season->n_band > 0) status = NEEDS(error, season->band);
    if (status == GRADIN_OK && season->n_bays > 0) status = NEEDS(error, season->bays);
    return status;
}

gradin_status season_tables_complete(const gradin_season *season, gradin_error *error) {
    gradin_status status = season_complete(season, error);
    if (status == GRADIN_OK && season->n_flight > 0)
        status = NEEDS(error, season->n_event, season->most_offset_db, season->flight_lamax_db,
                       season->flight_sel_db, season->flight_lost_s);
    return status;
}

gradin_status comparison_complete(const gradin_comparison *c, gradin_error *error) {
    gradin_status status = NEEDS(error, c);
    if (status == GRADIN_OK) status = NEEDS(error, c->layout, c->pair, c->changeover);
    if (status != GRADIN_OK) return status;
    if (c->n_layout < 2 || c->n_layout > GRADIN_MAX_COMPARED)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a comparison of %d layouts",
                                c->n_layout);
    for (int i = 0; i < c->n_layout && status == GRADIN_OK; i++) {
        status = assessment_tables_complete(c->layout[i].assessment, error);
        if (status == GRADIN_OK && c->n_block > 0)
            status = NEEDS(error, c->block_name, c->layout[i].block);
    }
    for (int i = 0; i + 1 < c->n_layout && status == GRADIN_OK; i++) {
        if (c->pair[i].n_change > 0) status = NEEDS(error, c->pair[i].change);
        if (status == GRADIN_OK && c->n_block > 0) status = NEEDS(error, c->pair[i].block);
    }
    return status;
}

gradin_status sweep_complete(const gradin_sweep_result *r, gradin_error *error) {
    gradin_status status = NEEDS(error, r);
    if (status == GRADIN_OK)
        status =
            NEEDS(error, r->study, r->row, r->value, r->verdict, r->front, r->effect, r->swing);
    if (status == GRADIN_OK)
        status = NEEDS(error, r->study->varied, r->study->figure, r->study->name);
    for (int i = 0; status == GRADIN_OK && i < r->n_row; i++)
        if (!r->row[i].refused) status = NEEDS(error, r->row[i].figure);
    for (int i = 0; status == GRADIN_OK && i < r->n_effect; i++)
        status = NEEDS(error, r->effect[i].mean, r->effect[i].value);
    if (status == GRADIN_OK && (r->n_row < 1))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a sweep without its points");
    return status;
}

gradin_status sheet_complete(const gradin_glazing_sheet *sheet, gradin_error *error) {
    gradin_status status = NEEDS(error, sheet);
    return status == GRADIN_OK ? NEEDS(error, sheet->source, sheet->glazed) : status;
}

gradin_status recording_complete(const gradin_recording *r, gradin_error *error) {
    gradin_status status = NEEDS(error, r);
    if (status == GRADIN_OK) status = model_complete(r->model, error);
    if (status == GRADIN_OK) status = NEEDS(error, r->model->pass, r->sample, r->second);
    if (status == GRADIN_OK && (r->seat < 0 || r->seat >= r->model->seats.n_seat))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a recording of no seat");
    return status;
}

gradin_status spectra_complete(const gradin_spectrum_sheet *sheet, gradin_error *error) {
    gradin_status status = NEEDS(error, sheet);
    if (status == GRADIN_OK) status = NEEDS(error, sheet->source, sheet->rating);
    for (int i = 0; status == GRADIN_OK && i < sheet->source->n_spectrum; i++)
        status = NEEDS(error, sheet->rating[i].spectrum);
    return status;
}

bool assessment_has_c(const gradin_assessment *assessment) {
    const gradin_model *model = assessment->model;
    for (int i = 0; i < model->n_focus; i++)
        if (model->focus[i].kind == GRADIN_FOCUS_FLOOR) return true;
    return model->c_line != NULL;
}
