/* The interlocks of a venue, once its machines are listed. */
#include "files/venue/read.h"

#include <string.h>

static bool is_between(const gradin_lift_section *s, const gradin_lift_section *a,
                       const gradin_lift_section *b) {
    return s->grid == a->grid && s->column >= a->column && s->column <= b->column &&
           s->row >= a->row && s->row <= b->row;
}

/* Sections FROM..TO; none when they are not of one grid. */
static int find_span(reader *r, const char *text, const gradin_venue *v, int *found) {
    const char *dots = strstr(text, "..");
    char *from = dots ? print_text(&r->c, "%.*s", (int)(dots - text), text) : NULL;
    int a = gradin_section_find(v, from), b = from ? gradin_section_find(v, dots + 2) : -1;
    int n = 0;
    if (a < 0 || b < 0 || v->section[a].grid != v->section[b].grid) return 0;
    for (int i = 0; i < v->n_section; i++)
        if (is_between(&v->section[i], &v->section[a], &v->section[b]))
            found[n++] = gradin_machine_index(v, GRADIN_MACHINE_SECTION, i);
    return n;
}

static int find_grid(const char *text, const gradin_venue *v, int *found) {
    int grid = index_of(v->grid, v->n_grid, sizeof *v->grid, text), n = 0;
    for (int i = 0; i < v->n_section; i++)
        if (v->section[i].grid == grid)
            found[n++] = gradin_machine_index(v, GRADIN_MACHINE_SECTION, i);
    return n;
}

/* The machines that a text names: a machine, a whole grid, or sections FROM..TO. */
int *find_machines(reader *r, const node *at, const gradin_venue *v, int *n) {
    *n = 0;
    int *found = alloc(&r->c, v->n_machine, sizeof *found);
    if (!found || !at || at->kind != NODE_TEXT) return found;
    *n = find_span(r, at->text, v, found);
    if (*n == 0) *n = find_grid(at->text, v, found);
    if (*n > 0) return found;
    found[0] = look_up(r, at, "machine", v->machine, v->n_machine, sizeof *v->machine);
    *n = found[0] >= 0;
    return found;
}

/* A range stands in the unit of the machines it is of: read again, now that they are known. */
static void read_bounds(reader *r, const node *at, const gradin_venue *v, const int *machine, int n,
                        double range[2]) {
    gradin_machine_kind kind = n > 0 ? v->machine[machine[0]].kind : GRADIN_MACHINE_DOOR;
    bool is_length = gradin_machine_is_length(kind);
    double most = kind == GRADIN_MACHINE_TURN ? 360.0 : 100.0;
    const schema_key bounds = {
        .unit = is_length ? UNIT_LENGTH : UNIT_NONE, .least = -most, .most = most};
    value_range(r, at, &bounds, range);
}

static void check_reach(reader *r, const node *at, const gradin_venue *v,
                        const gradin_interlock *rule) {
    for (int i = 0; i < rule->n_holder; i++) {
        const gradin_machine *m = &v->machine[rule->holder[i]];
        if (rule->within[0] <= m->travel[1] && rule->within[1] >= m->travel[0]) continue;
        complain_key(r, at, "within", "%s never gets there", m->name);
        return;
    }
}

/* A machine that waits for itself waits for ever. */
static void check_own(reader *r, const node *at, const gradin_venue *v,
                      const gradin_interlock *rule) {
    for (int i = 0; i < rule->n_mover; i++)
        for (int k = 0; k < rule->n_holder; k++) {
            if (rule->mover[i] != rule->holder[k]) continue;
            complain_key(r, at, "while", "names %s, which the interlock itself holds",
                         v->machine[rule->mover[i]].name);
            return;
        }
}

static void fill_interlock(reader *r, const stated_interlock *s, const gradin_venue *v,
                           gradin_interlock *rule) {
    const node *where = map_get(s->at, "at");
    int before = r->c.n_error;
    rule->name = s->name;
    rule->mover = find_machines(r, map_get(s->at, "machine"), v, &rule->n_mover);
    rule->holder = find_machines(r, map_get(s->at, "while"), v, &rule->n_holder);
    rule->has_at = where != NULL;
    if (!rule->mover || !rule->holder) return;
    if (where) read_bounds(r, where, v, rule->mover, rule->n_mover, rule->at);
    read_bounds(r, map_get(s->at, "within"), v, rule->holder, rule->n_holder, rule->within);
    if (r->c.n_error == before) check_reach(r, s->at, v, rule);
    if (r->c.n_error == before) check_own(r, s->at, v, rule);
}

void fill_interlocks(reader *r, const stated_machines *s, gradin_venue *v) {
    if (s->n_interlock == 0) return;
    gradin_interlock *made = alloc(&r->c, s->n_interlock, sizeof *made);
    if (!made) return;
    for (int i = 0; i < s->n_interlock; i++) fill_interlock(r, &s->interlock[i], v, &made[i]);
    v->interlock = made;
    v->n_interlock = s->n_interlock;
}
