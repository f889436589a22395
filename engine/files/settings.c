/* Where a layout puts the venue's machines. Every setting is held against the machine's own range.
 */
#include "venue/plan.h"

#include <string.h>

/* ---- lifts
 * ---------------------------------------------------------------------------------------- */

static int section_index(reader *r, const node *at, const char *key, const venue *v,
                         const char *name) {
    int found = index_of(v->section, v->n_section, sizeof *v->section, name);
    if (found < 0)
        complain_key(r, at, key,
                     "unknown lift section '%s'; sections are named GRID-ColumnRow, such "
                     "as %s",
                     name, v->n_section > 0 ? v->section[0].name : "none here");
    return found;
}

bool read_sections(reader *r, const node *at, const venue *v, const char *from, const char *to,
                   bool *chosen) {
    int a = section_index(r, at, "from", v, from);
    int b = to ? section_index(r, at, "to", v, to) : a;
    if (a < 0 || b < 0) return false;
    const lift_section *first = &v->section[a], *last = &v->section[b];
    if (first->grid != last->grid || first->column > last->column || first->row > last->row) {
        complain_key(r, at, "to", "must be in the same grid as 'from', not left of it or below it");
        return false;
    }
    for (int i = 0; i < v->n_section; i++) {
        const lift_section *s = &v->section[i];
        chosen[i] |= s->grid == first->grid && s->column >= first->column &&
                     s->column <= last->column && s->row >= first->row && s->row <= last->row;
    }
    return true;
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

static bool is_within(double value_m, const double range_m[2]) {
    return value_m >= range_m[0] - 1e-9 && value_m <= range_m[1] + 1e-9;
}

static bool check_terrace(reader *r, const node *at, const lift_section *s, const lift_grid *g,
                          const section_state *state) {
    const node *below = map_get(at, "terrace");
    if (state->n_step == 1) return true;
    if (state->n_step > g->most_steps) {
        complain_key(r, below, "steps", "%s makes at most %d treads", s->name, g->most_steps);
        return false;
    }
    if (!is_within(state->riser_m, g->riser_m)) {
        complain_range(r, below, "riser", s->name, state->riser_m, g->riser_m);
        return false;
    }
    int quarter = (int)(state->facing_deg / 90.0);
    if (state->facing_deg != 90.0 * quarter || quarter > 3 || !g->faces[quarter]) {
        complain_key(r, below, "facing_deg", "%s cannot terrace towards this bearing", s->name);
        return false;
    }
    return true;
}

static bool check_section(reader *r, const node *at, const lift_section *s, const lift_grid *g,
                          const section_state *state) {
    double top_m = state->height_m + (state->n_step - 1) * state->riser_m;
    if (!is_within(state->height_m, g->travel_m))
        complain_range(r, at, "height", s->name, state->height_m, g->travel_m);
    else if (!is_within(top_m, g->travel_m))
        complain_range(r, at, "terrace", s->name, top_m, g->travel_m);
    else
        return check_terrace(r, at, s, g, state);
    return false;
}

static void set_sections(reader *r, const node *at, const venue *v, plan *p, const bool *chosen,
                         const section_state *state) {
    for (int i = 0; i < v->n_section; i++) {
        if (!chosen[i]) continue;
        if (p->section[i].at) {
            complain(r, at, "sets %s again; first in line %d", v->section[i].name,
                     p->section[i].at->line);
            return;
        }
        p->section[i] = *state;
        if (!check_section(r, at, &v->section[i], &v->grid[v->section[i].grid], state)) return;
    }
}

static void read_lift_setting(reader *r, const node *at, const venue *v, plan *p) {
    const char *from = NULL, *to = NULL;
    const node *terrace = NULL;
    section_state state = {.n_step = 1, .at = at};
    bool *chosen = take(r, v->n_section, sizeof *chosen);
    if (!chosen) return;
    bool good = READ(r, at, {"from", FIELD_TEXT, true, 0, 0, &from, 0},
                     {"to", FIELD_TEXT, false, 0, 0, &to, 0},
                     {"height", FIELD_LENGTH, true, -100, 100, &state.height_m, 0},
                     {"terrace", FIELD_MAP, false, 0, 0, &terrace, 0});
    if (terrace)
        good &= READ(r, terrace, {"steps", FIELD_INTEGER, true, 2, 100, &state.n_step, 0},
                     {"riser", FIELD_LENGTH, true, 0, 10, &state.riser_m, 0},
                     {"facing_deg", FIELD_NUMBER, true, 0, 360, &state.facing_deg, 0});
    if (good && read_sections(r, at, v, from, to, chosen))
        set_sections(r, at, v, p, chosen, &state);
}

/* ---- towers, arch
 * ---------------------------------------------------------------------------------- */

static void read_tower_setting(reader *r, const node *at, const venue *v, plan *p) {
    const node *name = NULL;
    tower_state state = {.is_seated = true, .at = at};
    if (!READ(r, at, {"name", FIELD_NAME, true, 0, 0, &name, 0},
              {"hoist", FIELD_LENGTH, false, -100, 100, &state.hoist_m, 0},
              {"slide", FIELD_LENGTH, false, -100, 100, &state.slide_m, 0},
              {"seated", FIELD_FLAG, false, 0, 0, &state.is_seated, 0}))
        return;
    int i = look_up(r, name, "tower", v->tower, v->n_tower, sizeof *v->tower);
    if (i < 0) return;
    if (!is_within(state.hoist_m, v->tower[i].hoist_m))
        complain_range(r, at, "hoist", v->tower[i].name, state.hoist_m, v->tower[i].hoist_m);
    if (!is_within(state.slide_m, v->tower[i].slide_m))
        complain_range(r, at, "slide", v->tower[i].name, state.slide_m, v->tower[i].slide_m);
    p->tower[i] = state;
}

static void read_arch_setting(reader *r, const node *at, const venue *v, plan *p) {
    if (!v->arch) {
        complain(r, at, "the venue has no arch");
        return;
    }
    arch_state *s = &p->arch;
    s->at = at;
    if (!READ(r, at, {"in", FIELD_FLAG, true, 0, 0, &s->is_in, 0},
              {"opening", FIELD_LENGTH, false, 0.1, 100, &s->opening_m, 0},
              {"trim", FIELD_LENGTH, false, 0.1, 100, &s->trim_m, 0},
              {"closed", FIELD_NUMBER, false, 0, 1, &s->closed, 0}))
        return;
    if (s->closed > 0.0 && !v->arch->closing_name)
        complain_key(r, at, "closed", "%s has nothing that closes it", v->arch->name);
    else if (s->closed > 0.0 && !s->is_in)
        complain_key(r, at, "closed", "%s comes down only while %s is in", v->arch->closing_name,
                     v->arch->name);
    if (!s->is_in) return;
    if (!is_within(s->opening_m, v->arch->opening_m))
        complain_range(r, at, "opening", v->arch->name, s->opening_m, v->arch->opening_m);
    if (!is_within(s->trim_m, v->arch->trim_m))
        complain_range(r, at, "trim", v->arch->name, s->trim_m, v->arch->trim_m);
}

/* ---- shades, doors, panels
 * -------------------------------------------------------------------------- */

/* One entry {name, KEY: 0..1}; the index of the name, or -1. */
static int read_share(reader *r, const node *at, const char *what, const char *key,
                      const void *items, int n, size_t stride, double *share) {
    const node *name = NULL;
    if (!READ(r, at, {"name", FIELD_NAME, true, 0, 0, &name, 0},
              {key, FIELD_NUMBER, true, 0, 1, share, 0}))
        return -1;
    return look_up(r, name, what, items, n, stride);
}

static void read_shade_setting(reader *r, const node *at, const venue *v, plan *p) {
    double share = 0.0;
    int i = read_share(r, at, "shade", "closed", v->shade, v->n_shade, sizeof *v->shade, &share);
    if (i < 0) return;
    p->shade_closed[i] = share;
    p->shade_at[i] = at;
}

static void read_door_setting(reader *r, const node *at, const venue *v, plan *p) {
    double share = 0.0;
    int i = read_share(r, at, "door", "open", v->facade, v->n_facade, sizeof *v->facade, &share);
    if (i >= 0 && v->facade[i].kind != GRADIN_ELEMENT_DOOR)
        complain(r, at, "'%s' is no door", v->facade[i].name);
    else if (i >= 0) {
        p->door_open[i] = share;
        p->door_at[i] = at;
    }
}

static void read_panel_setting(reader *r, const node *at, const venue *v, plan *p) {
    const node *name = NULL;
    bool is_open = false;
    if (!READ(r, at, {"name", FIELD_NAME, true, 0, 0, &name, 0},
              {"open", FIELD_FLAG, true, 0, 0, &is_open, 0}))
        return;
    int i = look_up(r, name, "floor panel", v->panel, v->n_panel, sizeof *v->panel);
    if (i < 0) return;
    p->panel_open[i] = is_open;
    p->panel_at[i] = at;
}

typedef void (*setting_reader)(reader *r, const node *at, const venue *v, plan *p);

static void each(reader *r, const node *list, setting_reader read, const venue *v, plan *p) {
    for (int i = 0; list && i < list->n_child; i++) read(r, list->child[i], v, p);
}

static bool take_states(reader *r, const venue *v, plan *p) {
    p->section = take(r, v->n_section, sizeof *p->section);
    p->tower = take(r, v->n_tower, sizeof *p->tower);
    p->panel_open = take(r, v->n_panel, sizeof *p->panel_open);
    p->shade_closed = take(r, v->n_shade, sizeof *p->shade_closed);
    p->door_open = take(r, v->n_facade, sizeof *p->door_open);
    p->panel_at = take(r, v->n_panel, sizeof(const node *));
    p->shade_at = take(r, v->n_shade, sizeof(const node *));
    p->door_at = take(r, v->n_facade, sizeof(const node *));
    if (r->failed != GRADIN_OK) return false;
    for (int i = 0; i < v->n_section; i++) p->section[i].n_step = 1;
    return true;
}

void plan_read_settings(reader *r, const node *machines, const venue *v, plan *p) {
    if (!take_states(r, v, p) || !machines) return;
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
