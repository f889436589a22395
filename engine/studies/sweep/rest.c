/* What a point takes to change over, and what its panes weigh. */
#include "gradin/studies/changeover.h"
#include "studies/sweep/sweep.h"

gradin_status sweep_change_over(const sweep_work *w, gradin_known *figure) {
    gradin_changeover there, back;
    gradin_span there_span, back_span;
    const gradin_model *m = &w->inputs->model, *partner = &w->inputs->partner;
    const double minute_s = 60.0;
    gradin_status status = gradin_changeover_plan(w->arena, partner, m, &there, w->error);
    if (status == GRADIN_OK) status = gradin_changeover_plan(w->arena, m, partner, &back, w->error);
    if (status == GRADIN_OK) status = gradin_changeover_span(&there, -1, &there_span, w->error);
    if (status == GRADIN_OK) status = gradin_changeover_span(&back, -1, &back_span, w->error);
    if (status != GRADIN_OK) return status;
    double longer_min = fmax(there_span.total_s, back_span.total_s) / minute_s;
    figure[GRADIN_STUDY_CHANGEOVER] = (gradin_known){
        longer_min, fmax(there_span.bound_s, back_span.bound_s) / minute_s, longer_min};
    figure[GRADIN_STUDY_CREW_HOURS] = sweep_certain(there.person_hours + back.person_hours);
    return GRADIN_OK;
}

/* Of what stands glazed; NAN where a build-up has no layers, only a measurement. */
gradin_status sweep_weigh(const sweep_work *w, gradin_known *figure) {
    const gradin_model *m = &w->inputs->model;
    const double tonne_kg = 1000.0;
    double mass_kg = 0.0, area_m2 = 0.0;
    for (int e = 0; e < m->n_element; e++) {
        const gradin_element *one = &m->element[e];
        if (one->kind != GRADIN_ELEMENT_PANE || one->buildup < 0) continue;
        double own_m2 = one->width_m * one->height_m;
        double each_kgm2 = gradin_glazing_mass_kgm2(&m->buildup[one->buildup]);
        mass_kg += each_kgm2 > 0.0 ? own_m2 * each_kgm2 : NAN;
        area_m2 += own_m2;
    }
    figure[GRADIN_STUDY_GLASS_KG_M2] = sweep_certain(area_m2 > 0.0 ? mass_kg / area_m2 : NAN);
    figure[GRADIN_STUDY_GLASS_T] = sweep_certain(mass_kg / tonne_kg);
    return GRADIN_OK;
}
