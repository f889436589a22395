/* Every drive of a venue in one list, so that interlocks, layouts and changeovers speak of the same
 * machines by the same names. */
#include "venue/venue.h"

#include <string.h>

int first_hoist(const venue *v) {
    return v->n_section;
}

static int first_arch(const venue *v) {
    return v->n_section + 2 * v->n_tower;
}

int first_panel(const venue *v) {
    return first_arch(v) + (!v->arch ? 0 : v->arch->closing_name ? 3 : 2);
}

static int count_doors(const venue *v) {
    int n = 0;
    for (int i = 0; i < v->n_facade; i++) n += v->facade[i].kind == GRADIN_ELEMENT_DOOR;
    return n;
}

static void add(venue *v, gradin_machine m) {
    m.setting.n_step = 1;
    v->machine[v->n_machine++] = m;
}

static void add_sections(venue *v) {
    for (int i = 0; i < v->n_section; i++) {
        const lift_grid *g = &v->grid[v->section[i].grid];
        add(v, (gradin_machine){.name = v->section[i].name,
                                .kind = GRADIN_MACHINE_SECTION,
                                .group = v->section[i].grid,
                                .body = v->n_tower + i,
                                .travel = {g->travel_m[0], g->travel_m[1]},
                                .drive = g->drive});
    }
}

static void add_towers(reader *r, venue *v) {
    for (int i = 0; i < v->n_tower; i++) {
        const tower *t = &v->tower[i];
        add(v, (gradin_machine){.name = print_text(r, "%s hoist", t->name),
                                .kind = GRADIN_MACHINE_HOIST,
                                .group = -1,
                                .body = i,
                                .travel = {t->hoist_m[0], t->hoist_m[1]},
                                .way = {0.0, 0.0, 1.0},
                                .drive = t->hoist_drive});
    }
    for (int i = 0; i < v->n_tower; i++) {
        const tower *t = &v->tower[i];
        gradin_vec2 unit = gradin_bearing_unit(t->slide_bearing_deg);
        add(v, (gradin_machine){.name = print_text(r, "%s slide", t->name),
                                .kind = GRADIN_MACHINE_SLIDE,
                                .group = -1,
                                .body = i,
                                .travel = {t->slide_m[0], t->slide_m[1]},
                                .way = {unit.x, unit.y, 0.0},
                                .drive = t->slide_drive});
    }
}

static void add_share(venue *v, const char *name, gradin_machine_kind kind, gradin_drive drive) {
    add(v, (gradin_machine){.name = name,
                            .kind = kind,
                            .group = -1,
                            .body = -1,
                            .travel = {0.0, 1.0},
                            .drive = drive});
}

static void add_arch(reader *r, venue *v) {
    const arch *a = v->arch;
    if (!a) return;
    int body = v->n_tower + v->n_section;
    add(v, (gradin_machine){.name = print_text(r, "%s trim", a->name),
                            .kind = GRADIN_MACHINE_TRIM,
                            .group = -1,
                            .body = body,
                            .travel = {a->trim_m[0], v->ceiling_m},
                            .drive = a->trim_drive});
    add(v, (gradin_machine){.name = print_text(r, "%s opening", a->name),
                            .kind = GRADIN_MACHINE_OPENING,
                            .group = -1,
                            .body = body,
                            .travel = {a->opening_m[0], a->opening_m[1]},
                            .drive = a->opening_drive});
    if (a->closing_name) add_share(v, a->closing_name, GRADIN_MACHINE_CURTAIN, a->closing_drive);
}

bool venue_list_machines(reader *r, venue *v) {
    int n = first_panel(v) + v->n_panel + v->n_shade + count_doors(v);
    v->machine = take(r, n, sizeof *v->machine);
    if (!v->machine) return false;
    add_sections(v);
    add_towers(r, v);
    add_arch(r, v);
    for (int i = 0; i < v->n_panel; i++)
        add_share(v, v->panel[i].name, GRADIN_MACHINE_PANEL, v->panel_drive[i]);
    for (int i = 0; i < v->n_shade; i++)
        add_share(v, v->shade[i].name, GRADIN_MACHINE_SHADE, v->shade_drive[i]);
    for (int i = 0; i < v->n_facade; i++)
        if (v->facade[i].kind == GRADIN_ELEMENT_DOOR)
            add_share(v, v->facade[i].name, GRADIN_MACHINE_DOOR, v->facade[i].drive);
    for (int i = 0; i < v->n_machine && r->failed == GRADIN_OK; i++)
        if (i >= v->n_section &&
            index_of(v->machine, i, sizeof *v->machine, v->machine[i].name) >= 0)
            complain(r, NULL, "two machines are named '%s'", v->machine[i].name);
    return r->failed == GRADIN_OK;
}

/* ---- by name
 * ---------------------------------------------------------------------------------------- */

static int section_named(const venue *v, const char *name) {
    return index_of(v->section, v->n_section, sizeof *v->section, name);
}

static bool is_between(const lift_section *s, const lift_section *a, const lift_section *b) {
    return s->grid == a->grid && s->column >= a->column && s->column <= b->column &&
           s->row >= a->row && s->row <= b->row;
}

/* Sections FROM..TO; none when they are not of one grid. */
static int find_span(reader *r, const char *text, const venue *v, int *found) {
    const char *dots = strstr(text, "..");
    char *from = dots ? print_text(r, "%.*s", (int)(dots - text), text) : NULL;
    int a = from ? section_named(v, from) : -1, b = from ? section_named(v, dots + 2) : -1;
    int n = 0;
    if (a < 0 || b < 0 || v->section[a].grid != v->section[b].grid) return 0;
    for (int i = 0; i < v->n_section; i++)
        if (is_between(&v->section[i], &v->section[a], &v->section[b])) found[n++] = i;
    return n;
}

static int find_grid(const char *text, const venue *v, int *found) {
    int grid = index_of(v->grid, v->n_grid, sizeof *v->grid, text), n = 0;
    for (int i = 0; i < v->n_section; i++)
        if (v->section[i].grid == grid) found[n++] = i;
    return n;
}

int *find_machines(reader *r, const node *at, const venue *v, int *n) {
    *n = 0;
    int *found = take(r, v->n_machine, sizeof *found);
    if (!found || !at || at->kind != NODE_TEXT) return found;
    *n = find_span(r, at->text, v, found);
    if (*n == 0) *n = find_grid(at->text, v, found);
    if (*n > 0) return found;
    found[0] = look_up(r, at, "machine", v->machine, v->n_machine, sizeof *v->machine);
    *n = found[0] >= 0;
    return found;
}
