/* Interlocks: "a machine may move, and may stand within `at`, only while another is within a
 * range". Written once in the venue; a layout is held against them here, a changeover by the study
 * that plans it. */
#include "venue/parts.h"

static double top_of(const gradin_setting *setting) {
    return setting->position + (setting->n_step - 1) * setting->riser_m;
}

bool gradin_setting_is_within(const gradin_setting *setting, const double range[2]) {
    if (!setting || !range) return false;
    return setting->position >= range[0] - 1e-9 && top_of(setting) <= range[1] + 1e-9;
}

bool gradin_setting_touches(const gradin_setting *setting, const double range[2]) {
    if (!setting || !range) return false;
    return setting->position <= range[1] + 1e-9 && top_of(setting) >= range[0] - 1e-9;
}

static bool is_length(const gradin_machine *m) {
    return gradin_machine_unit(m->kind)[0] != '\0';
}

static void complain_interlock(complaints *c, const gradin_venue *v, const gradin_layout *p,
                               const gradin_interlock *rule, int mover, int holder) {
    const gradin_machine *m = &v->machine[mover], *h = &v->machine[holder];
    char here[64], there[64], low[64], high[64];
    double mover_unit = is_length(m) ? unit_length_m(p->units) : 1.0;
    double unit = is_length(h) ? unit_length_m(p->units) : 1.0;
    gradin_format_fixed(here, sizeof here, p->machine[mover].set.position / mover_unit, 3);
    gradin_format_fixed(there, sizeof there, p->machine[holder].set.position / unit, 3);
    gradin_format_fixed(low, sizeof low, rule->within[0] / unit, 3);
    gradin_format_fixed(high, sizeof high, rule->within[1] / unit, 3);
    refuse(c, p->machine[mover].at,
           "interlock '%s': %s stands at %s only while %s is within %s to %s%s%s; it is at %s",
           rule->name, m->name, here, h->name, low, high, is_length(h) ? " " : "",
           is_length(h) ? p->units : "", there);
}

/* The first mover that stands where it may not, by the first holder that lets it down. */
static void check_rule(complaints *c, const gradin_venue *v, const gradin_layout *p,
                       const gradin_interlock *rule) {
    for (int i = 0; i < rule->n_mover; i++) {
        if (!gradin_setting_touches(&p->machine[rule->mover[i]].set, rule->at)) continue;
        for (int k = 0; k < rule->n_holder; k++) {
            if (gradin_setting_is_within(&p->machine[rule->holder[k]].set, rule->within)) continue;
            complain_interlock(c, v, p, rule, rule->mover[i], rule->holder[k]);
            return;
        }
    }
}

void check_interlocks(complaints *c, const gradin_venue *v, const gradin_layout *p) {
    for (int i = 0; i < v->n_interlock; i++)
        if (v->interlock[i].has_at) check_rule(c, v, p, &v->interlock[i]);
}
