/* Which machines move. An interlock may need a machine within a range while another one moves.
 * When the machine stands there neither before nor after, it stops there on its way, flat. Sections
 * of a grid that move alike under the same rules are one move. */
#include "base/lengths.h"
#include "studies/changeover/changeover.h"

#include <stdlib.h>
#include <string.h>

static bool moves(const chain *w) {
    return w->n_stop > 1;
}

/* Does the step from one setting to the next touch the positions that the rule is about? */
static bool is_bound(const gradin_interlock *rule, const gradin_setting *from,
                     const gradin_setting *to) {
    if (!rule->has_at) return true;
    double from_top = from->position + (from->n_step - 1) * from->riser_m;
    double to_top = to->position + (to->n_step - 1) * to->riser_m;
    double low = fmin(from->position, to->position), high = fmax(from_top, to_top);
    return low <= rule->at[1] + 1e-9 && high >= rule->at[0] - 1e-9;
}

static bool has_bound_step(const gradin_interlock *rule, const chain *w) {
    for (int i = 0; i + 1 < w->n_stop; i++)
        if (is_bound(rule, &w->stop[i], &w->stop[i + 1])) return true;
    return false;
}

static bool is_needed(const changeover *c, const gradin_interlock *rule) {
    for (int i = 0; i < rule->n_mover; i++)
        if (has_bound_step(rule, &c->chain[rule->mover[i]])) return true;
    return false;
}

static bool gets_there(const gradin_interlock *rule, const chain *w) {
    for (int i = 0; i < w->n_stop; i++)
        if (gradin_setting_is_within(&w->stop[i], rule->within)) return true;
    return false;
}

static bool refuse(changeover *c, const gradin_interlock *rule, int machine) {
    changeover_refuse(c, c->to->file, NULL,
                      "interlock '%s': no order of moves from %s to %s keeps it; %s cannot come "
                      "within its range on the way",
                      rule->name, c->from->layout_name, c->to->layout_name,
                      c->a->machine[machine].name);
    return false;
}

/* A range so narrow stands for its middle. */
static const double HEIGHT_M = 0.0101;

/* A stop at the near end of the range; a terraced lift goes flat for it. */
static bool add_stop(changeover *c, const gradin_interlock *rule, int machine) {
    const gradin_machine *m = &c->a->machine[machine];
    chain *w = &c->chain[machine];
    double low = fmax(rule->within[0], m->travel[0]), high = fmin(rule->within[1], m->travel[1]);
    if (w->n_stop > 2 || low > high) return refuse(c, rule, machine);
    gradin_setting last = w->n_stop == 2 ? w->stop[1] : w->stop[0], stop = last;
    stop.n_step = 1;
    stop.position =
        high - low < HEIGHT_M ? (low + high) / 2.0 : fmin(fmax(w->stop[0].position, low), high);
    w->stop[1] = stop;
    w->stop[2] = last;
    w->n_stop = 3;
    return true;
}

static bool add_stops_of(changeover *c, const gradin_interlock *rule, bool *has_changed) {
    for (int i = 0; i < rule->n_holder; i++) {
        int machine = rule->holder[i];
        if (gets_there(rule, &c->chain[machine])) continue;
        if (!add_stop(c, rule, machine)) return false;
        *has_changed = true;
    }
    return true;
}

static bool add_all_stops(changeover *c, bool *has_changed) {
    for (int i = 0; i < c->a->n_interlock; i++)
        if (is_needed(c, &c->a->interlock[i]) && !add_stops_of(c, &c->a->interlock[i], has_changed))
            return false;
    for (int i = 0; i < c->n_job; i++)
        if (!add_stops_of(c, &c->job[i].floor, has_changed) ||
            !add_stops_of(c, &c->job[i].door, has_changed))
            return false;
    return true;
}

bool changeover_chains(changeover *c) {
    c->chain = gradin_arena_alloc(c->arena, (size_t)c->a->n_machine, sizeof *c->chain);
    if (!c->chain) return changeover_no_memory(c);
    for (int i = 0; i < c->a->n_machine; i++) {
        chain *w = &c->chain[i];
        w->stop[0] = c->a->machine[i].setting;
        w->stop[1] = c->b->machine[i].setting;
        w->n_stop = gradin_setting_equal(&w->stop[0], &w->stop[1]) ? 1 : 2;
        w->move[0] = w->move[1] = -1;
    }
    for (bool has_changed = true; has_changed;) {
        has_changed = false;
        if (!add_all_stops(c, &has_changed)) return false;
    }
    return true;
}

static bool names(const int *machine, int n, int wanted) {
    for (int i = 0; i < n; i++)
        if (machine[i] == wanted) return true;
    return false;
}

static bool are_ruled_alike(const changeover *c, int i, int k) {
    for (int r = 0; r < c->a->n_interlock; r++) {
        const gradin_interlock *rule = &c->a->interlock[r];
        if (names(rule->mover, rule->n_mover, i) != names(rule->mover, rule->n_mover, k) ||
            names(rule->holder, rule->n_holder, i) != names(rule->holder, rule->n_holder, k))
            return false;
    }
    for (int j = 0; j < c->n_job; j++) {
        const gradin_interlock *rule = &c->job[j].floor;
        if (names(rule->holder, rule->n_holder, i) != names(rule->holder, rule->n_holder, k))
            return false;
    }
    return true;
}

static bool move_alike(const changeover *c, int i, int k) {
    const chain *a = &c->chain[i], *b = &c->chain[k];
    if (c->a->machine[i].group < 0 || c->a->machine[i].group != c->a->machine[k].group ||
        a->n_stop != b->n_stop)
        return false;
    for (int s = 0; s < a->n_stop; s++)
        if (!gradin_setting_equal(&a->stop[s], &b->stop[s])) return false;
    return are_ruled_alike(c, i, k);
}

static int *members_of(changeover *c, int first, int *n) {
    int *member = gradin_arena_alloc(c->arena, (size_t)c->a->n_machine, sizeof *member);
    *n = 0;
    for (int k = first; member && k < c->a->n_machine; k++)
        if (k == first || (c->chain[k].move[0] < 0 && move_alike(c, first, k))) member[(*n)++] = k;
    return member;
}

/* The bearing that a tower faces, turned so; with a decimal where it has one. */
static char *facing_text(changeover *c, const gradin_machine *m, const gradin_setting *s) {
    char facing[64];
    double tenths = nearbyint(10.0 * gradin_wrap_360_deg(m->facing_deg + s->position));
    if (tenths >= 3600.0) tenths = 0.0;
    gradin_format_fixed(facing, sizeof facing, tenths / 10.0, fmod(tenths, 10.0) == 0.0 ? 0 : 1);
    return changeover_print(c, "facing %s", facing);
}

static char *setting_text(changeover *c, const gradin_machine *m, const gradin_setting *s) {
    gradin_machine_kind kind = m->kind;
    char low[LENGTH_CHARS], high[LENGTH_CHARS], facing[64];
    length_unit unit = length_unit_of(c->to->units);
    if (kind == GRADIN_MACHINE_TURN) return facing_text(c, m, s);
    if (kind == GRADIN_MACHINE_PANEL)
        return changeover_print(c, "%s", s->position > 0.5 ? "away" : "in place");
    if (!gradin_machine_is_length(kind))
        return changeover_print(c, "%s %% %s",
                                gradin_format_fixed(low, sizeof low, 100.0 * s->position, 0),
                                kind == GRADIN_MACHINE_SHADE     ? "shut"
                                : kind == GRADIN_MACHINE_CURTAIN ? "down"
                                                                 : "open");
    if (s->n_step == 1) return changeover_print(c, "%s", length_text(low, s->position, unit));
    double top_m = s->position + (s->n_step - 1) * s->riser_m;
    gradin_format_fixed(facing, sizeof facing, s->facing_deg, 0);
    return changeover_print(c, "%s to %s in %d treads facing %s",
                            length_number(low, s->position, unit), length_text(high, top_m, unit),
                            s->n_step, facing);
}

/* Column and row of a section from its name GRID-A1. */
static int column_of(const gradin_machine *m) {
    return strrchr(m->name, '-')[1] - 'A';
}

static int row_of(const gradin_machine *m) {
    return (int)strtol(strrchr(m->name, '-') + 2, NULL, 10);
}

static int member_at(const changeover *c, const int *member, int n, const bool *is_named,
                     int column, int row) {
    const gradin_machine *m = c->a->machine;
    for (int i = 0; i < n; i++)
        if (!is_named[i] && column_of(&m[member[i]]) == column && row_of(&m[member[i]]) == row)
            return i;
    return -1;
}

static bool has_row(const changeover *c, const int *member, int n, const bool *is_named,
                    int from_column, int to_column, int row) {
    for (int column = from_column; column <= to_column; column++)
        if (member_at(c, member, n, is_named, column, row) < 0) return false;
    return true;
}

/* The rectangle of sections that starts at member `first`; marks them as named, gives the last. */
static int take_rectangle(const changeover *c, const int *member, int n, bool *is_named,
                          int first) {
    const gradin_machine *m = &c->a->machine[member[first]];
    int column = column_of(m), row = row_of(m), right = column, top = row, last = first;
    while (member_at(c, member, n, is_named, right + 1, row) >= 0) right++;
    while (has_row(c, member, n, is_named, column, right, top + 1)) top++;
    for (int r = row; r <= top; r++)
        for (int k = column; k <= right; k++) {
            last = member_at(c, member, n, is_named, k, r);
            is_named[last] = true;
        }
    return last;
}

/* "F-B2..G3, F-A8 (14)": sections as rectangles, and how many. */
static char *move_name(changeover *c, const int *member, int n) {
    const gradin_machine *m = c->a->machine;
    if (n == 1) return changeover_print(c, "%s", m[member[0]].name);
    bool *is_named = gradin_arena_alloc(c->arena, (size_t)n, sizeof *is_named);
    char *name = is_named ? changeover_print(c, "%s", "") : NULL;
    for (int i = 0; name && i < n; i++) {
        if (is_named[i]) continue;
        int last = take_rectangle(c, member, n, is_named, i);
        name = changeover_print(c, "%s%s%s", name, name[0] ? ", " : "", m[member[i]].name);
        if (name && last != i)
            name = changeover_print(c, "%s..%s", name, strrchr(m[member[last]].name, '-') + 1);
    }
    return name ? changeover_print(c, "%s (%d)", name, n) : NULL;
}

static char *lane_of(changeover *c, const gradin_machine *m) {
    if (m->kind == GRADIN_MACHINE_SECTION)
        return changeover_print(c, "lifts %.*s", (int)strcspn(m->name, "-"), m->name);
    if (!changeover_is_tower(m))
        return m->body < 0
                   ? changeover_print(c, "%s", m->name)
                   : changeover_print(c, "%.*s", (int)(strrchr(m->name, ' ') - m->name), m->name);
    return changeover_print(c, "tower %.*s", (int)(strrchr(m->name, ' ') - m->name), m->name);
}

/* Of a batch: those that move together are not left alone half way. */
static int piece_s(int duration_s, int n, int together) {
    int n_batch = together > 0 ? (n + together - 1) / together : 1;
    return (duration_s + n_batch - 1) / n_batch;
}

static bool add_leg(changeover *c, const int *member, int n, int leg) {
    const gradin_machine *m = &c->a->machine[member[0]];
    const chain *w = &c->chain[member[0]];
    const gradin_drive *d = &m->drive;
    int together = gradin_moves_together(d, c->a->power_kw, n);
    gradin_move move = {.name = move_name(c, member, n),
                        .lane = lane_of(c, m),
                        .kind = GRADIN_MOVE_MACHINE,
                        .duration_s =
                            gradin_moves_s(&w->stop[leg], &w->stop[leg + 1], d, c->a->power_kw, n),
                        .crew = d->crew,
                        .power_kw = d->power_kw * together,
                        .are_people_near = d->are_people_near};
    const char *from = setting_text(c, m, &w->stop[leg]);
    const char *to = setting_text(c, m, &w->stop[leg + 1]);
    if (!move.name || !move.lane || !from || !to) return changeover_no_memory(c);
    move.task = changeover_print(c, "%s -> %s", from, to);
    int index = changeover_add(c, move,
                               (move_detail){.machine = member,
                                             .n_machine = n,
                                             .leg = leg,
                                             .piece_s = piece_s(move.duration_s, n, together),
                                             .together = m->group >= 0 ? together : 0});
    for (int i = 0; i < n && index >= 0; i++) c->chain[member[i]].move[leg] = index;
    return index >= 0;
}

bool changeover_machines(changeover *c) {
    for (int i = 0; i < c->a->n_machine; i++) {
        if (!moves(&c->chain[i]) || c->chain[i].move[0] >= 0) continue;
        int n = 0, *member = members_of(c, i, &n);
        if (!member) return changeover_no_memory(c);
        for (int leg = 0; leg + 1 < c->chain[i].n_stop; leg++)
            if (!add_leg(c, member, n, leg)) return false;
    }
    return true;
}
