/* The list of moves: adding one, and who comes before whom. The other files of the changeover call
 * these, and these call none of them. */
#include "base/shared/plain.h"
#include "studies/changeover/changeover.h"

#include <stdarg.h>
#include <stdio.h>

bool changeover_no_memory(changeover *c) {
    gradin_error_add(c->error, GRADIN_NO_MEMORY, NULL, "no memory for a changeover");
    return false;
}

char *changeover_print(changeover *c, const char *format, ...) {
    char text[400];
    va_list arguments;
    va_start(arguments, format);
    plain_print_list(text, sizeof text, format, arguments);
    va_end(arguments);
    return gradin_arena_copy_text(c->arena, text);
}

gradin_status changeover_refuse(changeover *c, const char *file, const char *key,
                                const char *format, ...) {
    char text[GRADIN_TEXT_CHARS];
    va_list arguments;
    va_start(arguments, format);
    plain_print_list(text, sizeof text, format, arguments);
    va_end(arguments);
    gradin_place at = {.file = file, .key = key};
    return gradin_error_add(c->error, GRADIN_BAD_INPUT, &at, "%s", text);
}

bool changeover_no_stretch(changeover *c) {
    changeover_refuse(c, c->from->venue_file, "machines.crew",
                      "a machine's move fits into no stretch of work between shifts and rests");
    return false;
}

static bool check_limit(changeover *c, const gradin_move *m, bool is_stored) {
    const gradin_drive *store = is_stored ? &c->a->store->drive : NULL;
    if (m->crew + (store ? store->crew : 0) > c->a->crew)
        changeover_refuse(c, c->to->venue_file, "machines.crew.people",
                          "%s takes %d people; the venue's crew has %d", m->name,
                          m->crew + (store ? store->crew : 0), c->a->crew);
    else if (m->power_kw + (store ? store->power_kw : 0.0) > c->a->power_kw)
        changeover_refuse(c, c->to->venue_file, "machines.crew.power_kw",
                          "%s draws %.2f kW; the venue's power_kw is %.2f", m->name,
                          m->power_kw + (store ? store->power_kw : 0.0), c->a->power_kw);
    else
        return true;
    return false;
}

int changeover_add(changeover *c, gradin_move move, move_detail what) {
    if (c->n_move == GRADIN_MAX_MOVE) {
        changeover_refuse(c, c->to->file, NULL, "the changeover from %s has more than %d moves",
                          c->from->layout_name, GRADIN_MAX_MOVE);
        return -1;
    }
    if (!check_limit(c, &move, what.n_trip > 0)) return -1;
    c->move[c->n_move] = move;
    c->move[c->n_move].piece_s = what.piece_s;
    c->detail[c->n_move] = what;
    return c->n_move++;
}

void changeover_put_before(changeover *c, int first, int then, const char *rule) {
    if (first < 0 || then < 0 || first == then) return;
    if (!c->before[first * c->n_move + then]) c->rule[first * c->n_move + then] = rule;
    c->before[first * c->n_move + then] = true;
}

void changeover_put_apart(changeover *c, int i, int k, const char *rule) {
    if (i == k || changeover_is_before(c, i, k) || changeover_is_before(c, k, i)) return;
    c->apart[i * c->n_move + k] = c->apart[k * c->n_move + i] = true;
    c->rule[i * c->n_move + k] = c->rule[k * c->n_move + i] = rule;
}

bool changeover_is_tower(const gradin_machine *m) {
    return m->kind == GRADIN_MACHINE_HOIST || m->kind == GRADIN_MACHINE_SLIDE ||
           m->kind == GRADIN_MACHINE_TURN;
}

int changeover_section_under(const changeover *c, gradin_vec3 at_m) {
    for (int i = 0; i < c->n_section; i++) {
        const gradin_vec2 *corner = c->from->section[i].corner_m;
        if (at_m.x >= corner[0].x && at_m.x < corner[2].x && at_m.y >= corner[0].y &&
            at_m.y < corner[2].y)
            return i;
    }
    return -1;
}

bool changeover_is_on_moving_lift(const changeover *c, gradin_vec3 at_m) {
    int section = changeover_section_under(c, at_m);
    return section >= 0 && c->chain[section].n_stop > 1;
}

static bool is_within(const changeover *c, const gradin_interlock *rule, int holder, int stop) {
    return gradin_setting_is_within(&c->chain[holder].stop[stop], rule->within);
}

/* The run of stops within the range during which the mover takes its step: the last run when the
 * mover then stays where the rule binds it, else the first. */
static void find_run(const changeover *c, const gradin_interlock *rule, int holder, bool is_last,
                     int *first, int *last) {
    int n = c->chain[holder].n_stop;
    if (is_last) {
        for (*last = n - 1; !is_within(c, rule, holder, *last);) --*last;
        for (*first = *last; *first > 0 && is_within(c, rule, holder, *first - 1);) --*first;
        return;
    }
    for (*first = 0; !is_within(c, rule, holder, *first);) ++*first;
    for (*last = *first; *last + 1 < n && is_within(c, rule, holder, *last + 1);) ++*last;
}

void changeover_hold(changeover *c, const gradin_interlock *rule, int move, int holder,
                     bool is_last) {
    const chain *h = &c->chain[holder];
    int first, last;
    find_run(c, rule, holder, is_last, &first, &last);
    if (first > 0) changeover_put_before(c, h->move[first - 1], move, rule->name);
    if (last + 1 < h->n_stop) changeover_put_before(c, move, h->move[last], rule->name);
}
