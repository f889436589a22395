/* Every drive of a venue in one list, so that interlocks, layouts and changeovers speak of the same
 * machines by the same names. The list runs kind by kind, each kind in the order of its items:
 * nobody but this file counts on that. */
#include "base/lookup.h"
#include "venue/parts.h"

const char *gradin_machine_unit(gradin_machine_kind kind) {
    if (kind == GRADIN_MACHINE_TURN) return "deg";
    return kind <= GRADIN_MACHINE_OPENING ? "m" : "";
}

bool gradin_machine_is_length(gradin_machine_kind kind) {
    return gradin_machine_unit(kind)[0] == 'm';
}

/* Is there such a machine? Only some towers turn, and only some facade entries are doors. */
static bool is_moved(const gradin_venue *v, gradin_machine_kind kind, int item) {
    if (kind == GRADIN_MACHINE_TURN) return v->tower[item].turn_deg[0] < v->tower[item].turn_deg[1];
    return kind != GRADIN_MACHINE_DOOR || v->facade[item].kind == GRADIN_ELEMENT_DOOR;
}

/* Items of the venue that a kind may move. */
static int items_of(const gradin_venue *v, gradin_machine_kind kind) {
    switch (kind) {
    case GRADIN_MACHINE_SECTION:
        return v->n_section;
    case GRADIN_MACHINE_HOIST:
    case GRADIN_MACHINE_SLIDE:
    case GRADIN_MACHINE_TURN:
        return v->n_tower;
    case GRADIN_MACHINE_TRIM:
    case GRADIN_MACHINE_OPENING:
        return v->arch ? 1 : 0;
    case GRADIN_MACHINE_CURTAIN:
        return v->arch && v->arch->closing_name ? 1 : 0;
    case GRADIN_MACHINE_PANEL:
        return v->n_panel;
    case GRADIN_MACHINE_SHADE:
        return v->n_shade;
    case GRADIN_MACHINE_DOOR:
        return v->n_facade;
    default:
        return 0;
    }
}

/* Machines of a kind that move an item before this one. */
static int before(const gradin_venue *v, gradin_machine_kind kind, int item) {
    if (kind != GRADIN_MACHINE_TURN && kind != GRADIN_MACHINE_DOOR) return item;
    int n = 0;
    for (int i = 0; i < item; i++) n += is_moved(v, kind, i);
    return n;
}

/* Machines of all kinds below this one. */
static int first_of(const gradin_venue *v, int kind) {
    int n = 0;
    for (int k = 0; k < kind; k++)
        n += before(v, (gradin_machine_kind)k, items_of(v, (gradin_machine_kind)k));
    return n;
}

int gradin_machine_index(const gradin_venue *v, gradin_machine_kind kind, int item) {
    if (!v) return -1;
    if (item < 0 || item >= items_of(v, kind) || !is_moved(v, kind, item)) return -1;
    return first_of(v, (int)kind) + before(v, kind, item);
}

int gradin_machine_find(const gradin_venue *v, const char *name) {
    if (!v || !name) return -1;
    return name ? index_of(v->machine, v->n_machine, sizeof *v->machine, name) : -1;
}

int gradin_section_find(const gradin_venue *v, const char *name) {
    if (!v || !name) return -1;
    return name ? index_of(v->section, v->n_section, sizeof *v->section, name) : -1;
}

int gradin_section_index(const gradin_venue *v, int grid, int column, int row) {
    if (!v) return -1;
    int first = 0;
    if (grid < 0 || grid >= v->n_grid) return -1;
    const gradin_lift_grid *g = &v->grid[grid];
    if (column < 0 || column >= g->n_column || row < 0 || row >= g->n_row) return -1;
    for (int i = 0; i < grid; i++) first += v->grid[i].n_column * v->grid[i].n_row;
    return first + row * g->n_column + column;
}

const gradin_machine_state *gradin_layout_state(const gradin_venue *v, const gradin_layout *p,
                                                gradin_machine_kind kind, int item) {
    int index = gradin_machine_index(v, kind, item);
    return index >= 0 ? &p->machine[index] : NULL;
}

static void name_section(complaints *c, const gradin_lift_grid *g, gradin_lift_section *s) {
    double x_m = g->origin_m.x + s->column * g->size_m[0];
    double y_m = g->origin_m.y + s->row * g->size_m[1];
    s->name = print_text(c, "%s-%c%d", g->name, 'A' + s->column, s->row + 1);
    s->pivot_m = g->origin_m;
    s->bearing_deg = g->bearing_deg;
    s->box = (gradin_box2){x_m, y_m, x_m + g->size_m[0], y_m + g->size_m[1]};
}

static bool name_sections(complaints *c, gradin_venue *v) {
    int n = 0, k = 0;
    for (int i = 0; i < v->n_grid; i++) {
        n += v->grid[i].n_column * v->grid[i].n_row;
        if (n <= GRADIN_MAX_SECTION) continue;
        refuse(c, v->grid[i].at, "brings the venue over %d lift sections", GRADIN_MAX_SECTION);
        return false;
    }
    gradin_lift_section *section = alloc(c, n, sizeof *section);
    if (!section) return false;
    for (int i = 0; i < v->n_grid; i++)
        for (int row = 0; row < v->grid[i].n_row; row++)
            for (int column = 0; column < v->grid[i].n_column; column++) {
                section[k] = (gradin_lift_section){.grid = i, .column = column, .row = row};
                name_section(c, &v->grid[i], &section[k++]);
            }
    v->section = section;
    v->n_section = n;
    return c->failed == GRADIN_OK;
}

/* Where a machine stands that no layout sets: at nought, or as near to it as its travel goes. */
static gradin_setting nearest_nought(const double travel[2]) {
    return (gradin_setting){.position = fmin(fmax(0.0, travel[0]), travel[1])};
}

static gradin_machine section_machine(const gradin_venue *v, int item) {
    const gradin_lift_section *s = &v->section[item];
    const gradin_lift_grid *g = &v->grid[s->grid];
    return (gradin_machine){.name = s->name,
                            .group = s->grid,
                            .body = v->n_tower + item,
                            .travel = {g->travel_m[0], g->travel_m[1]},
                            .setting = nearest_nought(g->travel_m),
                            .drive = g->drive};
}

static gradin_machine hoist_machine(complaints *c, const gradin_tower *t, int item) {
    return (gradin_machine){.name = print_text(c, "%s hoist", t->name),
                            .group = -1,
                            .body = item,
                            .travel = {t->hoist_m[0], t->hoist_m[1]},
                            .setting = nearest_nought(t->hoist_m),
                            .way = {0.0, 0.0, 1.0},
                            .drive = t->hoist_drive};
}

static gradin_machine slide_machine(complaints *c, const gradin_tower *t, int item) {
    gradin_vec2 unit = gradin_bearing_unit(t->slide_bearing_deg);
    return (gradin_machine){.name = print_text(c, "%s slide", t->name),
                            .group = -1,
                            .body = item,
                            .travel = {t->slide_m[0], t->slide_m[1]},
                            .setting = nearest_nought(t->slide_m),
                            .way = {unit.x, unit.y, 0.0},
                            .drive = t->slide_drive};
}

static gradin_machine turn_machine(complaints *c, const gradin_tower *t, int item) {
    return (gradin_machine){.name = print_text(c, "%s turn", t->name),
                            .group = -1,
                            .body = item,
                            .travel = {t->turn_deg[0], t->turn_deg[1]},
                            .setting = nearest_nought(t->turn_deg),
                            .pivot_m = gradin_tower_pivot_m(t),
                            .facing_deg = t->facing_deg,
                            .drive = t->turn_drive};
}

/* Parked, the header hangs at the ceiling and the panels stand apart. */
static gradin_machine arch_machine(complaints *c, const gradin_venue *v, bool is_trim) {
    const gradin_arch *a = v->arch;
    gradin_machine m = {.group = -1, .body = v->n_tower + v->n_section};
    m.name = print_text(c, is_trim ? "%s trim" : "%s opening", a->name);
    m.travel[0] = is_trim ? a->trim_m[0] : a->opening_m[0];
    m.travel[1] = is_trim ? v->ceiling_m : a->opening_m[1];
    m.drive = is_trim ? a->trim_drive : a->opening_drive;
    m.setting.position = m.travel[1];
    return m;
}

static gradin_machine share_machine(const char *name, gradin_drive drive) {
    return (gradin_machine){
        .name = name, .group = -1, .body = -1, .travel = {0.0, 1.0}, .drive = drive};
}

static gradin_machine machine_of(complaints *c, const gradin_venue *v, gradin_machine_kind kind,
                                 int item) {
    switch (kind) {
    case GRADIN_MACHINE_SECTION:
        return section_machine(v, item);
    case GRADIN_MACHINE_HOIST:
        return hoist_machine(c, &v->tower[item], item);
    case GRADIN_MACHINE_SLIDE:
        return slide_machine(c, &v->tower[item], item);
    case GRADIN_MACHINE_TURN:
        return turn_machine(c, &v->tower[item], item);
    case GRADIN_MACHINE_TRIM:
    case GRADIN_MACHINE_OPENING:
        return arch_machine(c, v, kind == GRADIN_MACHINE_TRIM);
    case GRADIN_MACHINE_CURTAIN:
        return share_machine(v->arch->closing_name, v->arch->closing_drive);
    case GRADIN_MACHINE_PANEL:
        return share_machine(v->panel[item].name, v->panel[item].drive);
    case GRADIN_MACHINE_SHADE:
        return share_machine(v->shade[item].name, v->shade[item].drive);
    default:
        return share_machine(v->facade[item].name, v->facade[item].drive);
    }
}

static int count_machines(const gradin_venue *v) {
    return first_of(v, GRADIN_N_MACHINE_KIND);
}

bool is_complete(const gradin_venue *v) {
    int n_section = 0;
    for (int i = 0; i < v->n_grid; i++) n_section += v->grid[i].n_column * v->grid[i].n_row;
    return v->n_section == n_section && (v->section || n_section == 0) &&
           v->n_machine == count_machines(v) && (v->machine || v->n_machine == 0);
}

static bool list_machines(complaints *c, gradin_venue *v) {
    int n = count_machines(v), k = 0;
    gradin_machine *machine = alloc(c, n, sizeof *machine);
    if (!machine) return false;
    for (int kind = 0; kind < GRADIN_N_MACHINE_KIND; kind++)
        for (int item = 0; item < items_of(v, (gradin_machine_kind)kind); item++) {
            if (!is_moved(v, (gradin_machine_kind)kind, item)) continue;
            machine[k] = machine_of(c, v, (gradin_machine_kind)kind, item);
            machine[k].kind = (gradin_machine_kind)kind;
            machine[k].item = item;
            machine[k++].setting.n_step = 1;
        }
    v->machine = machine;
    v->n_machine = n;
    return c->failed == GRADIN_OK;
}

bool complete_venue(complaints *c, gradin_venue *v) {
    int before = c->n_error;
    if (!name_sections(c, v) || !list_machines(c, v)) return false;
    for (int i = v->n_section; i < v->n_machine; i++)
        if (index_of(v->machine, i, sizeof *v->machine, v->machine[i].name) >= 0)
            refuse(c, NULL, "two machines are named '%s'", v->machine[i].name);
    return c->n_error == before;
}
