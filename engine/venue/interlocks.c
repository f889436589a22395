/* Interlocks: "a machine may move, and may stand within `at`, only while another is within a
 * range". Written once in the venue; a layout is held against them here, a changeover by the study
 * that plans it. */
#include "venue/plan.h"

bool gradin_setting_is_within(const gradin_setting *setting, const double range[2]) {
    double top = setting->position + (setting->n_step - 1) * setting->riser_m;
    return setting->position >= range[0] - 1e-9 && top <= range[1] + 1e-9;
}

bool gradin_setting_touches(const gradin_setting *setting, const double range[2]) {
    double top = setting->position + (setting->n_step - 1) * setting->riser_m;
    return setting->position <= range[1] + 1e-9 && top >= range[0] - 1e-9;
}

/* ---- reading
 * ---------------------------------------------------------------------------------------- */

static double unit_of(const reader *r, const venue *v, const int *machine, int n) {
    bool is_length = n > 0 && gradin_machine_unit(v->machine[machine[0]].kind)[0] != '\0';
    return is_length ? r->unit_m : 1.0;
}

static void read_bounds(reader *r, const node *at, double unit, double range[2]) {
    if (!read_numbers(r, at, 2, 2, -100.0, 100.0, unit, range, NULL)) return;
    if (range[0] > range[1]) complain(r, at, "runs from more to less; write [least, most]");
}

static void check_reach(reader *r, const node *at, const venue *v, const gradin_interlock *rule) {
    for (int i = 0; i < rule->n_holder; i++) {
        const gradin_machine *m = &v->machine[rule->holder[i]];
        if (rule->within[0] <= m->travel[1] && rule->within[1] >= m->travel[0]) continue;
        complain_key(r, at, "within", "%s never gets there", m->name);
        return;
    }
}

static void read_interlock(reader *r, const node *at, const venue *v, gradin_interlock *rule) {
    const node *mover = NULL, *holder = NULL, *where = NULL, *within = NULL;
    int before = r->n_error;
    if (!READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &rule->name, 0},
              {"machine", FIELD_ANY, true, 0, 0, &mover, 0},
              {"at", FIELD_LIST, false, 0, 0, &where, 0},
              {"while", FIELD_ANY, true, 0, 0, &holder, 0},
              {"within", FIELD_LIST, true, 0, 0, &within, 0}))
        return;
    rule->mover = find_machines(r, mover, v, &rule->n_mover);
    rule->holder = find_machines(r, holder, v, &rule->n_holder);
    rule->has_at = where != NULL;
    if (where) read_bounds(r, where, unit_of(r, v, rule->mover, rule->n_mover), rule->at);
    read_bounds(r, within, unit_of(r, v, rule->holder, rule->n_holder), rule->within);
    if (r->n_error == before) check_reach(r, at, v, rule);
}

void venue_read_interlocks(reader *r, const node *list, venue *v) {
    if (!list) return;
    v->interlock = take(r, list->n_child, sizeof *v->interlock);
    v->interlock_at = take(r, list->n_child, sizeof(const node *));
    if (!v->interlock || !v->interlock_at) return;
    for (int i = 0; i < list->n_child; i++) {
        v->interlock_at[i] = list->child[i];
        read_interlock(r, list->child[i], v, &v->interlock[i]);
    }
    check_names(r, list, v->interlock, list->n_child, sizeof *v->interlock);
    v->n_interlock = list->n_child;
}

/* ---- one layout
 * ------------------------------------------------------------------------------------- */

/* The door whose place among the doors is n. */
static const node *door_at(const venue *v, const plan *p, int n) {
    for (int i = 0; i < v->n_facade; i++)
        if (v->facade[i].kind == GRADIN_ELEMENT_DOOR && n-- == 0) return p->door_at[i];
    return NULL;
}

static const node *setting_at(const venue *v, const plan *p, int machine) {
    if (machine < v->n_section) return p->section[machine].at;
    if (machine < first_hoist(v) + 2 * v->n_tower)
        return p->tower[(machine - v->n_section) % v->n_tower].at;
    int share = machine - first_panel(v);
    if (share < 0) return p->arch.at;
    if (share < v->n_panel) return p->panel_at[share];
    if (share < v->n_panel + v->n_shade) return p->shade_at[share - v->n_panel];
    return door_at(v, p, share - v->n_panel - v->n_shade);
}

static void complain_interlock(reader *r, const node *at, const gradin_interlock *rule,
                               const gradin_machine *mover, const gradin_machine *holder,
                               const gradin_setting *mover_set, const gradin_setting *holder_set) {
    char here[64], there[64], low[64], high[64];
    bool is_length = gradin_machine_unit(holder->kind)[0] != '\0';
    double mover_unit = gradin_machine_unit(mover->kind)[0] != '\0' ? r->unit_m : 1.0;
    double unit = is_length ? r->unit_m : 1.0;
    gradin_format_fixed(here, sizeof here, mover_set->position / mover_unit, 3);
    gradin_format_fixed(there, sizeof there, holder_set->position / unit, 3);
    gradin_format_fixed(low, sizeof low, rule->within[0] / unit, 3);
    gradin_format_fixed(high, sizeof high, rule->within[1] / unit, 3);
    complain(r, at,
             "interlock '%s': %s stands at %s only while %s is within %s to %s%s%s; it is at %s",
             rule->name, mover->name, here, holder->name, low, high, is_length ? " " : "",
             is_length ? r->unit_name : "", there);
}

static void check_rule(reader *r, const venue *v, const plan *p, const gradin_interlock *rule,
                       const gradin_setting *set) {
    for (int i = 0; i < rule->n_mover; i++) {
        int mover = rule->mover[i];
        if (!gradin_setting_touches(&set[mover], rule->at)) continue;
        for (int k = 0; k < rule->n_holder; k++) {
            int holder = rule->holder[k];
            if (gradin_setting_is_within(&set[holder], rule->within)) continue;
            complain_interlock(r, setting_at(v, p, mover), rule, &v->machine[mover],
                               &v->machine[holder], &set[mover], &set[holder]);
            return;
        }
    }
}

void check_interlocks(reader *r, const venue *v, const plan *p) {
    const gradin_setting *set = plan_settings(r, v, p);
    if (!set) return;
    for (int i = 0; i < v->n_interlock; i++)
        if (v->interlock[i].has_at) check_rule(r, v, p, &v->interlock[i], set);
}
