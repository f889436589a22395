/* Interlocks: "a machine may move, and may stand within `at`, only while another is within a
 * range". Written once in the venue; a layout is held against them here, a changeover by the study
 * that plans it. */
#include "venue/parts.h"

#include <stdio.h>
#include <string.h>

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

/* "0.200", or from the lowest tread to the highest of a terrace. */
static char *put_setting(char out[2 * LENGTH_CHARS], const gradin_setting *set, length_unit unit) {
    char high[LENGTH_CHARS];
    length_number(out, set->position, unit);
    if (set->n_step == 1) return out;
    size_t used = strlen(out);
    snprintf(out + used, 2 * LENGTH_CHARS - used, " to %s", length_number(high, top_of(set), unit));
    return out;
}

static void complain_interlock(complaints *c, const gradin_venue *v, const gradin_layout *p,
                               const gradin_interlock *rule, int mover, int holder) {
    const gradin_machine *m = &v->machine[mover], *h = &v->machine[holder];
    char here[2 * LENGTH_CHARS], there[2 * LENGTH_CHARS], low[LENGTH_CHARS], high[LENGTH_CHARS];
    length_unit unit = machine_unit_of(h->kind, p->units);
    refuse(c, p->machine[mover].at,
           "interlock '%s': %s stands at %s only while %s is within %s to %s; it is at %s",
           rule->name, m->name,
           put_setting(here, &p->machine[mover].set, machine_unit_of(m->kind, p->units)), h->name,
           length_number(low, rule->within[0], unit), length_text(high, rule->within[1], unit),
           put_setting(there, &p->machine[holder].set, unit));
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
