/* Where a layout puts the venue's machines. Every setting is held against the machine's own range.
 */
#include "files/layout_read.h"

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

bool read_span(reader *r, const node *at, const gradin_venue *v, const char *from, const char *to,
               int *first, int *last) {
    *first = section_index(r, at, "from", v, from);
    *last = to ? section_index(r, at, "to", v, to) : *first;
    if (*first < 0 || *last < 0) return false;
    const gradin_lift_section *a = &v->section[*first], *b = &v->section[*last];
    if (a->grid == b->grid && a->column <= b->column && a->row <= b->row) return true;
    complain_key(r, at, "to", "must be in the same grid as 'from', not left of it or below it");
    return false;
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
    switch (fault_of_setting(v, gradin_machine_index(v, GRADIN_MACHINE_SECTION, section), set)) {
    case SETTING_POSSIBLE:
        return true;
    case SETTING_BEYOND:
        complain_range(r, at, "height", s->name, set->position, g->travel_m);
        break;
    case SETTING_TOP_BEYOND:
        complain_range(r, at, "terrace", s->name, set->position + (set->n_step - 1) * set->riser_m,
                       g->travel_m);
        break;
    case SETTING_TREADS:
        complain_key(r, below, "steps", "%s makes at most %d treads", s->name, g->most_steps);
        break;
    case SETTING_RISER:
        complain_range(r, below, "riser", s->name, set->riser_m, g->riser_m);
        break;
    case SETTING_FACING:
        complain_key(r, below, "facing_deg", "%s cannot terrace towards this bearing", s->name);
        break;
    }
    return false;
}

static void set_sections(reader *r, const node *at, const gradin_venue *v, gradin_layout *p,
                         const int span[2], const gradin_setting *set) {
    const gradin_lift_section *a = &v->section[span[0]], *b = &v->section[span[1]];
    for (int row = a->row; row <= b->row; row++)
        for (int column = a->column; column <= b->column; column++) {
            int section = gradin_section_index(v, a->grid, column, row);
            gradin_machine_state *state = machine_state(v, p, GRADIN_MACHINE_SECTION, section);
            if (state->at) {
                complain(r, at, "sets %s again; first in line %d", v->section[section].name,
                         state->at->line);
                return;
            }
            *state = (gradin_machine_state){*set, &at->place};
            if (!check_section(r, at, v, section, set)) return;
        }
}

static void read_lift_setting(reader *r, const node *at, const gradin_venue *v, gradin_layout *p) {
    const char *from = NULL, *to = NULL;
    const node *terrace = NULL;
    gradin_setting set = {.n_step = 1};
    int span[2];
    bool good = READ(r, at, {"from", FIELD_TEXT, true, 0, 0, &from, 0},
                     {"to", FIELD_TEXT, false, 0, 0, &to, 0},
                     {"height", FIELD_LENGTH, true, -100, 100, &set.position, 0},
                     {"terrace", FIELD_MAP, false, 0, 0, &terrace, 0});
    if (terrace)
        good &= READ(r, terrace, {"steps", FIELD_INTEGER, true, 2, 100, &set.n_step, 0},
                     {"riser", FIELD_LENGTH, true, 0, 10, &set.riser_m, 0},
                     {"facing_deg", FIELD_NUMBER, true, 0, 360, &set.facing_deg, 0});
    if (good && read_span(r, at, v, from, to, &span[0], &span[1]))
        set_sections(r, at, v, p, span, &set);
}

static void read_tower_setting(reader *r, const node *at, const gradin_venue *v, gradin_layout *p) {
    const node *name = NULL;
    double hoist_m = 0.0, slide_m = 0.0;
    bool is_seated = true;
    if (!READ(r, at, {"name", FIELD_NAME, true, 0, 0, &name, 0},
              {"hoist", FIELD_LENGTH, false, -100, 100, &hoist_m, 0},
              {"slide", FIELD_LENGTH, false, -100, 100, &slide_m, 0},
              {"seated", FIELD_FLAG, false, 0, 0, &is_seated, 0}))
        return;
    int i = look_up(r, name, "tower", v->tower, v->n_tower, sizeof *v->tower);
    if (i < 0) return;
    const gradin_tower *t = &v->tower[i];
    if (!is_in_range(hoist_m, t->hoist_m))
        complain_range(r, at, "hoist", t->name, hoist_m, t->hoist_m);
    if (!is_in_range(slide_m, t->slide_m))
        complain_range(r, at, "slide", t->name, slide_m, t->slide_m);
    *machine_state(v, p, GRADIN_MACHINE_HOIST, i) =
        (gradin_machine_state){{.position = hoist_m, .n_step = 1}, &at->place};
    *machine_state(v, p, GRADIN_MACHINE_SLIDE, i) =
        (gradin_machine_state){{.position = slide_m, .n_step = 1}, &at->place};
    p->is_seated[i] = is_seated;
}

/* Out, the arch stays as it is parked whatever else the entry says. */
static void set_arch(const node *at, const gradin_venue *v, gradin_layout *p, double opening_m,
                     double trim_m, double closed) {
    const double position[] = {trim_m, opening_m, closed};
    for (int k = 0; k < 3; k++) {
        int machine = gradin_machine_index(v, (gradin_machine_kind)(GRADIN_MACHINE_TRIM + k), 0);
        if (machine < 0) continue;
        p->machine[machine].at = &at->place;
        if (p->is_arch_in) p->machine[machine].set.position = position[k];
    }
}

static void read_arch_setting(reader *r, const node *at, const gradin_venue *v, gradin_layout *p) {
    const gradin_arch *a = v->arch;
    double opening_m = 0.0, trim_m = 0.0, closed = 0.0;
    if (!a) {
        complain(r, at, "the venue has no arch");
        return;
    }
    if (!READ(r, at, {"in", FIELD_FLAG, true, 0, 0, &p->is_arch_in, 0},
              {"opening", FIELD_LENGTH, false, 0.1, 100, &opening_m, 0},
              {"trim", FIELD_LENGTH, false, 0.1, 100, &trim_m, 0},
              {"closed", FIELD_NUMBER, false, 0, 1, &closed, 0}))
        return;
    set_arch(at, v, p, opening_m, trim_m, closed);
    if (closed > 0.0 && !a->closing_name)
        complain_key(r, at, "closed", "%s has nothing that closes it", a->name);
    else if (closed > 0.0 && !p->is_arch_in)
        complain_key(r, at, "closed", "%s comes down only while %s is in", a->closing_name,
                     a->name);
    if (!p->is_arch_in) return;
    if (!is_in_range(opening_m, a->opening_m))
        complain_range(r, at, "opening", a->name, opening_m, a->opening_m);
    if (!is_in_range(trim_m, a->trim_m)) complain_range(r, at, "trim", a->name, trim_m, a->trim_m);
}

/* One entry {name, KEY: 0..1}; the index of the name, or -1. */
static int read_share(reader *r, const node *at, const char *what, const char *key,
                      const void *items, int n, size_t stride, double *share) {
    const node *name = NULL;
    if (!READ(r, at, {"name", FIELD_NAME, true, 0, 0, &name, 0},
              {key, FIELD_NUMBER, true, 0, 1, share, 0}))
        return -1;
    return look_up(r, name, what, items, n, stride);
}

static void set_share(const node *at, gradin_machine_state *state, double share) {
    state->set.position = share;
    state->at = &at->place;
}

static void read_shade_setting(reader *r, const node *at, const gradin_venue *v, gradin_layout *p) {
    double share = 0.0;
    int i = read_share(r, at, "shade", "closed", v->shade, v->n_shade, sizeof *v->shade, &share);
    if (i >= 0) set_share(at, machine_state(v, p, GRADIN_MACHINE_SHADE, i), share);
}

static void read_door_setting(reader *r, const node *at, const gradin_venue *v, gradin_layout *p) {
    double share = 0.0;
    int i = read_share(r, at, "door", "open", v->facade, v->n_facade, sizeof *v->facade, &share);
    if (i >= 0 && v->facade[i].kind != GRADIN_ELEMENT_DOOR)
        complain(r, at, "'%s' is no door", v->facade[i].name);
    else if (i >= 0)
        set_share(at, machine_state(v, p, GRADIN_MACHINE_DOOR, i), share);
}

static void read_panel_setting(reader *r, const node *at, const gradin_venue *v, gradin_layout *p) {
    const node *name = NULL;
    bool is_open = false;
    if (!READ(r, at, {"name", FIELD_NAME, true, 0, 0, &name, 0},
              {"open", FIELD_FLAG, true, 0, 0, &is_open, 0}))
        return;
    int i = look_up(r, name, "floor panel", v->panel, v->n_panel, sizeof *v->panel);
    if (i >= 0) set_share(at, machine_state(v, p, GRADIN_MACHINE_PANEL, i), is_open ? 1.0 : 0.0);
}

typedef void (*setting_reader)(reader *r, const node *at, const gradin_venue *v, gradin_layout *p);

static void each(reader *r, const node *list, setting_reader read, const gradin_venue *v,
                 gradin_layout *p) {
    for (int i = 0; list && i < list->n_child; i++) read(r, list->child[i], v, p);
}

void layout_read_machines(reader *r, const node *machines, const gradin_venue *v,
                          gradin_layout *p) {
    if (!machines) return;
    const node *lifts = NULL, *towers = NULL, *arch_at = NULL;
    const node *shades = NULL, *doors = NULL, *panels = NULL;
    if (!READ(r, machines, {"lifts", FIELD_LIST, false, 0, 0, &lifts, 0},
              {"towers", FIELD_LIST, false, 0, 0, &towers, 0},
              {"arch", FIELD_MAP, false, 0, 0, &arch_at, 0},
              {"shades", FIELD_LIST, false, 0, 0, &shades, 0},
              {"doors", FIELD_LIST, false, 0, 0, &doors, 0},
              {"panels", FIELD_LIST, false, 0, 0, &panels, 0}))
        return;
    each(r, lifts, read_lift_setting, v, p);
    each(r, towers, read_tower_setting, v, p);
    if (arch_at) read_arch_setting(r, arch_at, v, p);
    each(r, shades, read_shade_setting, v, p);
    each(r, doors, read_door_setting, v, p);
    each(r, panels, read_panel_setting, v, p);
}
