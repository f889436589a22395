/* May a machine stand where a layout puts it? */
#include "venue/parts.h"

static bool is_in_range(double value, const double range[2]) {
    return value >= range[0] - 1e-9 && value <= range[1] + 1e-9;
}

static bool can_face(const gradin_lift_grid *g, double facing_deg) {
    int quarter = gradin_grid_quarter(g->bearing_deg, facing_deg);
    return quarter >= 0 && g->faces[quarter];
}

static gradin_setting_fault fault_of_treads(const gradin_lift_grid *g, const gradin_setting *set) {
    if (set->n_step == 1) return GRADIN_SETTING_POSSIBLE;
    if (set->n_step < 1 || set->n_step > g->most_steps) return GRADIN_SETTING_TREADS;
    if (!is_in_range(set->riser_m, g->riser_m)) return GRADIN_SETTING_RISER;
    return can_face(g, set->facing_deg) ? GRADIN_SETTING_POSSIBLE : GRADIN_SETTING_FACING;
}

gradin_setting_fault gradin_setting_check(const gradin_venue *v, int machine,
                                          const gradin_setting *set) {
    if (!v || !set || machine < 0 || machine >= v->n_machine) return GRADIN_SETTING_BEYOND;
    const gradin_machine *m = &v->machine[machine];
    if (!is_in_range(set->position, m->travel)) return GRADIN_SETTING_BEYOND;
    if (m->kind != GRADIN_MACHINE_SECTION)
        return set->n_step == 1 ? GRADIN_SETTING_POSSIBLE : GRADIN_SETTING_TREADS;
    double top_m = set->position + (set->n_step - 1) * set->riser_m;
    if (!is_in_range(top_m, m->travel)) return GRADIN_SETTING_TOP_BEYOND;
    return fault_of_treads(&v->grid[v->section[m->item].grid], set);
}

length_unit machine_unit_of(gradin_machine_kind kind, const char *units) {
    return gradin_machine_is_length(kind) ? stated_unit_of(units)
                                          : (length_unit){gradin_machine_unit(kind), 1.0, 3};
}

static void complain_range(complaints *c, const gradin_machine *m, const char *format,
                           const gradin_machine_state *state, double value, const double range[2],
                           length_unit unit) {
    char at[LENGTH_CHARS], low[LENGTH_CHARS], high[LENGTH_CHARS];
    refuse_entry(c, state->at, m->name, format, length_text(at, value, unit),
                 length_number(low, range[0], unit), length_text(high, range[1], unit));
}

/* Of the treads of a lift section. */
static void complain_treads(complaints *c, const gradin_venue *v, const gradin_machine *m,
                            gradin_setting_fault fault, const gradin_machine_state *state,
                            length_unit unit) {
    const gradin_setting *set = &state->set;
    int most = 1;
    if (m->kind == GRADIN_MACHINE_SECTION) {
        const gradin_lift_grid *g = &v->grid[v->section[m->item].grid];
        most = g->most_steps;
        if (fault == GRADIN_SETTING_RISER) {
            complain_range(c, m, "its treads would stand %s apart; it makes %s to %s", state,
                           set->riser_m, g->riser_m, unit);
            return;
        }
    }
    if (fault == GRADIN_SETTING_TREADS)
        refuse_entry(c, state->at, m->name, "it cannot make %d treads; it makes at most %d",
                     set->n_step, most);
    else
        refuse_entry(c, state->at, m->name, "it cannot terrace towards a bearing of %.1f deg",
                     set->facing_deg);
}

static void complain_setting(complaints *c, const gradin_venue *v, const gradin_machine *m,
                             gradin_setting_fault fault, const gradin_machine_state *state,
                             const gradin_layout *p) {
    length_unit unit = machine_unit_of(m->kind, p->units);
    double top_m = state->set.position + (state->set.n_step - 1) * state->set.riser_m;
    if (fault == GRADIN_SETTING_BEYOND)
        complain_range(c, m, "would be at %s; its travel is %s to %s", state, state->set.position,
                       m->travel, unit);
    else if (fault == GRADIN_SETTING_TOP_BEYOND)
        complain_range(c, m, "its highest tread would be at %s; its travel is %s to %s", state,
                       top_m, m->travel, unit);
    else
        complain_treads(c, v, m, fault, state, unit);
}

/* Flown in, the header hangs within the arch's own trim, and nothing closes an arch that is out. */
static void check_arch(complaints *c, const gradin_venue *v, const gradin_layout *p) {
    if (!v->arch) return;
    const gradin_machine_state *trim = gradin_layout_state(v, p, GRADIN_MACHINE_TRIM, 0);
    if (p->is_arch_in && !is_in_range(trim->set.position, v->arch->trim_m))
        refuse_entry(c, trim->at, v->arch->name, "hangs in, but its header is out of its trim");
    if (p->is_arch_in || !v->arch->closing_name) return;
    const gradin_machine_state *closing = gradin_layout_state(v, p, GRADIN_MACHINE_CURTAIN, 0);
    if (closing->set.position > 0.0)
        refuse_entry(c, closing->at, v->arch->closing_name, "comes down only while %s is in",
                     v->arch->name);
}

/* Parked machines stand where they stand, whatever their travel says. */
void check_settings(complaints *c, const gradin_venue *v, const gradin_layout *p) {
    for (int i = 0; i < v->n_machine; i++) {
        const gradin_machine *m = &v->machine[i];
        gradin_setting_fault fault = gradin_setting_check(v, i, &p->machine[i].set);
        if (fault != GRADIN_SETTING_POSSIBLE &&
            !gradin_setting_equal(&p->machine[i].set, &m->setting))
            complain_setting(c, v, m, fault, &p->machine[i], p);
    }
    check_arch(c, v, p);
}
