/* Where a layout puts the venue's machines. Every setting is held against the machine's own range.
 */
#include "files/layout/read.h"

static int section_index(reader *r, const node *at, const char *key, const gradin_venue *v,
                         const char *name) {
    int found = gradin_section_find(v, name);
    if (found < 0)
        complain_key(r, at, key,
                     "unknown lift section '%s'; sections are named GRID-ColumnRow, such "
                     "as %s",
                     name, v->n_section > 0 ? v->section[0].name : "none here");
    return found;
}

bool find_span(reader *r, const node *at, const gradin_venue *v, const char *from, const char *to,
               int *first, int *last) {
    *first = section_index(r, at, "from", v, from);
    *last = to ? section_index(r, at, "to", v, to) : *first;
    if (*first < 0 || *last < 0) return false;
    const gradin_lift_section *a = &v->section[*first], *b = &v->section[*last];
    if (a->grid == b->grid && a->column <= b->column && a->row <= b->row) return true;
    complain_key(r, at, "to", "must be in the same grid as 'from', not left of it or below it");
    return false;
}

static void complain_riser(reader *r, const node *at, const char *name, double value_m,
                           const double range_m[2]) {
    char value[64], low[64], high[64];
    gradin_format_fixed(value, sizeof value, value_m / r->unit_m, 3);
    gradin_format_fixed(low, sizeof low, range_m[0] / r->unit_m, 3);
    gradin_format_fixed(high, sizeof high, range_m[1] / r->unit_m, 3);
    complain_key(r, at, "riser", "the treads of %s would stand %s %s apart; it makes %s to %s %s",
                 name, value, r->unit_name, low, high, r->unit_name);
}

static void complain_range(reader *r, const node *at, const char *key, const char *machine,
                           double value_m, const double range_m[2]) {
    char value[64], low[64], high[64];
    gradin_format_fixed(value, sizeof value, value_m / r->unit_m, 3);
    gradin_format_fixed(low, sizeof low, range_m[0] / r->unit_m, 3);
    gradin_format_fixed(high, sizeof high, range_m[1] / r->unit_m, 3);
    complain_key(r, at, key, "%s would be at %s %s; its travel is %s to %s %s", machine, value,
                 r->unit_name, low, high, r->unit_name);
}

static bool is_within(double position, const double range[2]) {
    return gradin_setting_is_within(&(gradin_setting){.position = position, .n_step = 1}, range);
}

static gradin_machine_state *machine_state(const gradin_venue *v, gradin_layout *p,
                                           gradin_machine_kind kind, int item) {
    return &p->machine[gradin_machine_index(v, kind, item)];
}

/* False after a complaint. */
static bool check_section(reader *r, const node *at, const gradin_venue *v, int section,
                          const gradin_setting *set) {
    const gradin_lift_section *s = &v->section[section];
    const gradin_lift_grid *g = &v->grid[s->grid];
    const node *below = map_get(at, "terrace");
    switch (
        gradin_setting_check(v, gradin_machine_index(v, GRADIN_MACHINE_SECTION, section), set)) {
    case GRADIN_SETTING_POSSIBLE:
        return true;
    case GRADIN_SETTING_BEYOND:
        complain_range(r, at, "height", s->name, set->position, g->travel_m);
        break;
    case GRADIN_SETTING_TOP_BEYOND:
        complain_range(r, at, "terrace", s->name, set->position + (set->n_step - 1) * set->riser_m,
                       g->travel_m);
        break;
    case GRADIN_SETTING_TREADS:
        complain_key(r, below, "steps", "%s makes at most %d treads", s->name, g->most_steps);
        break;
    case GRADIN_SETTING_RISER:
        complain_riser(r, below, s->name, set->riser_m, g->riser_m);
        break;
    case GRADIN_SETTING_FACING:
        complain_key(r, below, "facing_deg", "%s cannot terrace towards this bearing", s->name);
        break;
    }
    return false;
}

/* True after a complaint: an entry above sets the same machine. */
static bool is_set_before(reader *r, const node *at, const char *name,
                          const gradin_machine_state *state) {
    if (!state->at) return false;
    complain(r, at, "sets %s again; first in line %d", name, state->at->line);
    return true;
}

static void set_sections(reader *r, const node *at, const gradin_venue *v, gradin_layout *p,
                         const int span[2], const gradin_setting *set) {
    const gradin_lift_section *a = &v->section[span[0]], *b = &v->section[span[1]];
    for (int row = a->row; row <= b->row; row++)
        for (int column = a->column; column <= b->column; column++) {
            int section = gradin_section_index(v, a->grid, column, row);
            gradin_machine_state *state = machine_state(v, p, GRADIN_MACHINE_SECTION, section);
            if (is_set_before(r, at, v->section[section].name, state)) return;
            *state = (gradin_machine_state){*set, &at->place};
            if (!check_section(r, at, v, section, set)) return;
        }
}

static void fill_lift(reader *r, const stated_lift *s, const gradin_venue *v, gradin_layout *p) {
    gradin_setting set = {.position = s->height_m, .n_step = 1};
    int span[2];
    if (!s->at || (s->terrace && !s->terrace->at)) return;
    if (s->terrace) {
        set.n_step = s->terrace->n_step;
        set.riser_m = s->terrace->riser_m;
        set.facing_deg = s->terrace->facing_deg;
    }
    if (find_span(r, s->at, v, s->from, s->to, &span[0], &span[1]))
        set_sections(r, s->at, v, p, span, &set);
}

/* A tower that faces another way than the venue states must be able to turn there. */
static void set_turn(reader *r, const stated_tower_setting *s, const gradin_venue *v, int tower,
                     gradin_layout *p) {
    char low[64], high[64];
    const gradin_tower *t = &v->tower[tower];
    if (isnan(s->facing_deg)) return;
    double turn_deg = gradin_tower_turn_to(t, s->facing_deg);
    int machine = gradin_machine_index(v, GRADIN_MACHINE_TURN, tower);
    gradin_format_fixed(low, sizeof low, gradin_wrap_360_deg(t->facing_deg + t->turn_deg[0]), 1);
    gradin_format_fixed(high, sizeof high, gradin_wrap_360_deg(t->facing_deg + t->turn_deg[1]), 1);
    if (isnan(turn_deg) && machine < 0)
        complain_key(r, s->at, "facing_deg", "%s does not turn; it faces %s", t->name, low);
    else if (isnan(turn_deg))
        complain_key(r, s->at, "facing_deg", "%s cannot face this bearing; it turns from %s to %s",
                     t->name, low, high);
    else if (machine >= 0)
        p->machine[machine].set.position = turn_deg;
}

static void fill_tower(reader *r, const stated_tower_setting *s, const gradin_venue *v,
                       gradin_layout *p) {
    if (!s->at) return;
    int i = look_up(r, map_get(s->at, "name"), "tower", v->tower, v->n_tower, sizeof *v->tower);
    if (i < 0) return;
    const gradin_tower *t = &v->tower[i];
    if (is_set_before(r, s->at, t->name, machine_state(v, p, GRADIN_MACHINE_HOIST, i))) return;
    if (!is_within(s->hoist_m, t->hoist_m))
        complain_range(r, s->at, "hoist", t->name, s->hoist_m, t->hoist_m);
    if (!is_within(s->slide_m, t->slide_m))
        complain_range(r, s->at, "slide", t->name, s->slide_m, t->slide_m);
    *machine_state(v, p, GRADIN_MACHINE_HOIST, i) =
        (gradin_machine_state){{.position = s->hoist_m, .n_step = 1}, &s->at->place};
    *machine_state(v, p, GRADIN_MACHINE_SLIDE, i) =
        (gradin_machine_state){{.position = s->slide_m, .n_step = 1}, &s->at->place};
    if (gradin_machine_index(v, GRADIN_MACHINE_TURN, i) >= 0)
        machine_state(v, p, GRADIN_MACHINE_TURN, i)->at = &s->at->place;
    set_turn(r, s, v, i, p);
    p->is_seated[i] = s->is_seated;
}

/* Out, the arch stays as it is parked whatever else the entry says. */
static void set_arch(const stated_arch_setting *s, const gradin_venue *v, gradin_layout *p) {
    const double position[] = {s->trim_m, s->opening_m, s->closed};
    p->is_arch_in = s->is_in;
    for (int k = 0; k < 3; k++) {
        int machine = gradin_machine_index(v, (gradin_machine_kind)(GRADIN_MACHINE_TRIM + k), 0);
        if (machine < 0) continue;
        p->machine[machine].at = &s->at->place;
        if (s->is_in) p->machine[machine].set.position = position[k];
    }
}

static void fill_arch(reader *r, const stated_arch_setting *s, const node *at,
                      const gradin_venue *v, gradin_layout *p) {
    const gradin_arch *a = v->arch;
    if (!a) {
        complain(r, at, "the venue has no arch");
        return;
    }
    if (!s->at) return;
    set_arch(s, v, p);
    if (s->closed > 0.0 && !a->closing_name)
        complain_key(r, s->at, "closed", "%s has nothing that closes it", a->name);
    else if (s->closed > 0.0 && !s->is_in)
        complain_key(r, s->at, "closed", "%s comes down only while %s is in", a->closing_name,
                     a->name);
    if (!s->is_in) return;
    if (!is_within(s->opening_m, a->opening_m))
        complain_range(r, s->at, "opening", a->name, s->opening_m, a->opening_m);
    if (!is_within(s->trim_m, a->trim_m))
        complain_range(r, s->at, "trim", a->name, s->trim_m, a->trim_m);
}

static void set_share(reader *r, const node *at, const char *name, gradin_machine_state *state,
                      double share) {
    if (is_set_before(r, at, name, state)) return;
    state->set.position = share;
    state->at = &at->place;
}

static void fill_shade(reader *r, const stated_share *s, const gradin_venue *v, gradin_layout *p) {
    if (!s->at) return;
    int i = look_up(r, map_get(s->at, "name"), "shade", v->shade, v->n_shade, sizeof *v->shade);
    if (i >= 0)
        set_share(r, s->at, v->shade[i].name, machine_state(v, p, GRADIN_MACHINE_SHADE, i),
                  s->share);
}

static void fill_door(reader *r, const stated_share *s, const gradin_venue *v, gradin_layout *p) {
    if (!s->at) return;
    int i = look_up(r, map_get(s->at, "name"), "door", v->facade, v->n_facade, sizeof *v->facade);
    if (i >= 0 && v->facade[i].kind != GRADIN_ELEMENT_DOOR)
        complain(r, s->at, "'%s' is no door", v->facade[i].name);
    else if (i >= 0)
        set_share(r, s->at, v->facade[i].name, machine_state(v, p, GRADIN_MACHINE_DOOR, i),
                  s->share);
}

static void fill_panel(reader *r, const stated_panel_setting *s, const gradin_venue *v,
                       gradin_layout *p) {
    if (!s->at) return;
    int i =
        look_up(r, map_get(s->at, "name"), "floor panel", v->panel, v->n_panel, sizeof *v->panel);
    if (i >= 0)
        set_share(r, s->at, v->panel[i].name, machine_state(v, p, GRADIN_MACHINE_PANEL, i),
                  s->is_open ? 1.0 : 0.0);
}

void fill_settings(reader *r, const stated_settings *s, const gradin_venue *v, gradin_layout *p) {
    for (int i = 0; i < s->n_lift; i++) fill_lift(r, &s->lift[i], v, p);
    for (int i = 0; i < s->n_tower; i++) fill_tower(r, &s->tower[i], v, p);
    if (s->arch && s->at) fill_arch(r, s->arch, map_get(s->at, "arch"), v, p);
    for (int i = 0; i < s->n_shade; i++) fill_shade(r, &s->shade[i], v, p);
    for (int i = 0; i < s->n_door; i++) fill_door(r, &s->door[i], v, p);
    for (int i = 0; i < s->n_panel; i++) fill_panel(r, &s->panel[i], v, p);
}
