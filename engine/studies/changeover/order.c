/* Who waits for whom: interlocks, seats off a lift before it moves and on when it stands, a tower
 * off the ground before it slides, people clear of what moves. */
#include "studies/changeover/changeover.h"

#include <string.h>

static const char *const seats_off = "seats off the lift before it moves";
static const char *const lift_stands = "the lift stands before seats go on";
static const char *const cleared = "cleared before the new seats";
static const char *const rails_off = "loose rails off before their lifts move";
static const char *const rails_on = "lifts stand before rails go up";
static const char *const replaced = "the old rails are off before the new ones go up";
static const char *const guarded_strike = "seats off before the rails that guard them";
static const char *const guarded_set = "rails stand before people set seats behind them";
static const char *const hoist_order = "a tower is up before it slides, and slides before it lands";
static const char *const turn_order = "a tower is up before it turns, and turns before it lands";
static const char *const out_order =
    "a tower is out before it turns, and turns back before it goes in";
static const char *const one_body = "one drive of a machine at a time";
static const char *const own_order = "its own way";
static const char *const people_clear = "nobody works beside a moving machine";
static const double CLEAR_M = 1.0; /* common practice, no source */

static const gradin_setting *stop_of(const changeover *c, int machine, int stop) {
    const chain *w = &c->chain[machine];
    return &w->stop[stop < w->n_stop ? stop : w->n_stop - 1];
}

static bool is_step_bound(const gradin_interlock *rule, const chain *w, int leg) {
    if (!rule->has_at) return true;
    const gradin_setting *from = &w->stop[leg], *to = &w->stop[leg + 1];
    double from_top = from->position + (from->n_step - 1) * from->riser_m;
    double to_top = to->position + (to->n_step - 1) * to->riser_m;
    return fmin(from->position, to->position) <= rule->at[1] + 1e-9 &&
           fmax(from_top, to_top) >= rule->at[0] - 1e-9;
}

static bool is_stop_within(const changeover *c, const gradin_interlock *rule, int holder,
                           int stop) {
    return gradin_setting_is_within(stop_of(c, holder, stop), rule->within);
}

/* A mover that stands where the rule binds it both before and after needs its holder within the
 * range all the time.
 */
static bool check_standing(changeover *c, const gradin_interlock *rule, int mover) {
    const chain *w = &c->chain[mover];
    if (!rule->has_at || !gradin_setting_touches(&w->stop[0], rule->at) ||
        !gradin_setting_touches(&w->stop[w->n_stop - 1], rule->at))
        return true;
    for (int k = 0; k < rule->n_holder; k++)
        for (int stop = 0; stop < c->chain[rule->holder[k]].n_stop; stop++) {
            if (is_stop_within(c, rule, rule->holder[k], stop)) continue;
            changeover_refuse(c, c->to->file, NULL,
                              "interlock '%s': %s would have to leave its range while %s stands "
                              "where it is bound",
                              rule->name, c->a->machine[rule->holder[k]].name,
                              c->a->machine[mover].name);
            return false;
        }
    return true;
}

static bool order_by_rule(changeover *c, const gradin_interlock *rule) {
    for (int i = 0; i < rule->n_mover; i++) {
        const chain *w = &c->chain[rule->mover[i]];
        if (!check_standing(c, rule, rule->mover[i])) return false;
        for (int leg = 0; leg + 1 < w->n_stop; leg++) {
            if (!is_step_bound(rule, w, leg)) continue;
            bool stays = rule->has_at && leg + 2 == w->n_stop &&
                         gradin_setting_touches(&w->stop[leg + 1], rule->at);
            for (int k = 0; k < rule->n_holder; k++)
                changeover_hold(c, rule, w->move[leg], rule->holder[k], stays);
        }
    }
    return true;
}

static void order_own(changeover *c) {
    for (int i = 0; i < c->a->n_machine; i++) {
        const chain *w = &c->chain[i];
        if (w->n_stop == 3) changeover_put_before(c, w->move[0], w->move[1], own_order);
    }
}

static bool is_tied(const changeover *c, int i, int k) {
    return changeover_is_before(c, i, k) || changeover_is_before(c, k, i);
}

/* How far a machine stands from where it is parked. */
static double out_m(const gradin_machine *m, const gradin_setting *s) {
    return fabs(s->position - fmin(fmax(0.0, m->travel[0]), m->travel[1]));
}

/* A tower slides out of its parking place before it turns, and turns back before it slides in. */
static void order_slide_and_turn(changeover *c, int slide, int slide_leg, int turn) {
    const chain *w = &c->chain[slide];
    const gradin_machine *m = &c->a->machine[slide];
    int move = w->move[slide_leg];
    if (out_m(m, &w->stop[slide_leg + 1]) > out_m(m, &w->stop[slide_leg]))
        changeover_put_before(c, move, turn, out_order);
    else
        changeover_put_before(c, turn, move, out_order);
}

/* The two drives of one body, unless an interlock has settled their order. */
static void order_pair(changeover *c, int a, int b) {
    const chain *first = &c->chain[a], *second = &c->chain[b];
    for (int i = 0; i + 1 < first->n_stop; i++)
        for (int k = 0; k + 1 < second->n_stop; k++) {
            int hoist = first->move[i], slide = second->move[k];
            bool turns = c->a->machine[b].kind == GRADIN_MACHINE_TURN;
            if (is_tied(c, hoist, slide)) continue;
            if (turns && c->a->machine[a].kind == GRADIN_MACHINE_SLIDE)
                order_slide_and_turn(c, a, i, slide);
            else if (c->a->machine[a].kind != GRADIN_MACHINE_HOIST)
                changeover_put_apart(c, hoist, slide, one_body);
            else if (first->stop[i + 1].position > first->stop[i].position)
                changeover_put_before(c, hoist, slide, turns ? turn_order : hoist_order);
            else
                changeover_put_before(c, slide, hoist, turns ? turn_order : hoist_order);
        }
}

static void order_bodies(changeover *c) {
    for (int i = c->n_section; i < c->a->n_machine; i++)
        for (int k = i + 1; k < c->a->n_machine; k++)
            if (c->a->machine[i].body >= 0 && c->a->machine[i].body == c->a->machine[k].body)
                order_pair(c, i, k);
}

static bool is_lift_move(const changeover *c, int move) {
    const move_detail *w = &c->detail[move];
    return w->machine && w->machine[0] < c->n_section;
}

static bool carries(const move_detail *lift, const move_detail *seats) {
    for (int i = 0; i < lift->n_machine; i++)
        if (seats->section[lift->machine[i]]) return true;
    return false;
}

static gradin_box2 bounds_of(const move_detail *w) {
    gradin_box2 box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
    for (int i = 0; i < w->n_seat; i++) {
        gradin_vec3 at_m = w->model->seats.floor_m[w->seat[i]];
        box = (gradin_box2){fmin(box.x_min_m, at_m.x), fmin(box.y_min_m, at_m.y),
                            fmax(box.x_max_m, at_m.x), fmax(box.y_max_m, at_m.y)};
    }
    return box;
}

static bool do_meet(gradin_box2 a, gradin_box2 b, double gap_m) {
    return a.x_min_m < b.x_max_m + gap_m && b.x_min_m < a.x_max_m + gap_m &&
           a.y_min_m < b.y_max_m + gap_m && b.y_min_m < a.y_max_m + gap_m;
}

static void order_seats(changeover *c, int seats, int other) {
    const move_detail *w = &c->detail[seats], *o = &c->detail[other];
    bool is_strike = c->move[seats].kind == GRADIN_MOVE_STRIKE;
    if (is_lift_move(c, other) && carries(o, w)) {
        if (is_strike)
            changeover_put_before(c, seats, other, seats_off);
        else
            changeover_put_before(c, other, seats, lift_stands);
    }
    if (is_strike && o->seat && c->move[other].kind == GRADIN_MOVE_SET &&
        do_meet(bounds_of(w), bounds_of(o), 0.0))
        changeover_put_before(c, seats, other, cleared);
}

static bool share_section(const changeover *c, const move_detail *a, const move_detail *b) {
    for (int i = 0; i < c->n_section; i++)
        if (a->section[i] && b->section[i]) return true;
    return false;
}

/* Seats are struck, then their rails, then the lift moves. When it stands again the order is
 * reversed. So whoever works on a raised tread finds its edges guarded. */
static void order_rails(changeover *c, int rails, int other) {
    const move_detail *w = &c->detail[rails], *o = &c->detail[other];
    bool is_strike = c->move[rails].kind == GRADIN_MOVE_STRIKE;
    bool is_set_next = c->move[other].kind == GRADIN_MOVE_SET;
    if (is_lift_move(c, other) && carries(o, w)) {
        if (is_strike)
            changeover_put_before(c, rails, other, rails_off);
        else
            changeover_put_before(c, other, rails, rails_on);
    }
    if (o->machine) return;
    if (is_strike && is_set_next) {
        if (share_section(c, w, o))
            changeover_put_before(c, rails, other, cleared);
        else if (!o->seat && changeover_rails_meet(w, o))
            changeover_put_before(c, rails, other, replaced);
    } else if (o->seat && is_strike != is_set_next && changeover_guards(c, w, o)) {
        if (is_strike)
            changeover_put_before(c, other, rails, guarded_strike);
        else
            changeover_put_before(c, rails, other, guarded_set);
    }
}

static bool is_near(const gradin_body *body, gradin_vec3 at_m, const gradin_machine *m, double by) {
    for (int i = 0; i < body->n_part; i++) {
        gradin_box2 box = changeover_reach(&body->part[i], m, by);
        if (do_meet(box, (gradin_box2){at_m.x, at_m.y, at_m.x, at_m.y}, CLEAR_M)) return true;
    }
    return false;
}

/* Beside a lift, however high it stands: one below all that is looked at has no body. */
static bool is_beside_lift(const changeover *c, int section, const move_detail *people) {
    gradin_polygon own = {c->from->section[section].corner_m, 4};
    gradin_box2 box = gradin_polygon_bounds(own);
    for (int k = 0; k < people->n_point; k++) {
        gradin_vec3 at_m = people->point_m[k];
        if (do_meet(box, (gradin_box2){at_m.x, at_m.y, at_m.x, at_m.y}, CLEAR_M)) return true;
    }
    return false;
}

static bool is_work_near(const changeover *c, const move_detail *machine,
                         const move_detail *people) {
    for (int i = 0; i < machine->n_machine; i++) {
        int index = machine->machine[i], body = c->a->machine[index].body;
        if (index < c->n_section && is_beside_lift(c, index, people)) return true;
        double by = c->chain[index].stop[machine->leg + 1].position -
                    c->chain[index].stop[machine->leg].position;
        for (int k = 0; body >= 0 && k < people->n_point; k++)
            if (is_near(&c->a->body[body], people->point_m[k], &c->a->machine[index], by) ||
                is_near(&c->b->body[body], people->point_m[k], &c->b->machine[index], -by))
                return true;
    }
    return false;
}

static void keep_people_clear(changeover *c, int machine, int people) {
    if (c->move[machine].are_people_near || is_tied(c, machine, people)) return;
    if (is_work_near(c, &c->detail[machine], &c->detail[people]))
        changeover_put_apart(c, machine, people, people_clear);
}

static void order_work(changeover *c) {
    for (int i = 0; i < c->n_move; i++) {
        const move_detail *w = &c->detail[i];
        if (w->machine || w->step || w->scenery) continue;
        for (int k = 0; k < c->n_move; k++) {
            if (k == i || c->detail[k].step) continue;
            if (w->seat)
                order_seats(c, i, k);
            else
                order_rails(c, i, k);
        }
    }
    for (int i = 0; i < c->n_move; i++)
        for (int k = 0; k < c->n_move; k++)
            if (c->detail[i].machine && !c->detail[k].machine) keep_people_clear(c, i, k);
}

static bool open_tables(changeover *c) {
    size_t n = (size_t)c->n_move;
    c->before = gradin_arena_alloc(c->arena, n * n, sizeof *c->before);
    c->apart = gradin_arena_alloc(c->arena, n * n, sizeof *c->apart);
    c->rule = gradin_arena_alloc(c->arena, n * n, sizeof *c->rule);
    return (c->before && c->apart && c->rule) || changeover_no_memory(c);
}

bool changeover_order(changeover *c) {
    if (!open_tables(c)) return false;
    order_own(c);
    for (int i = 0; i < c->a->n_interlock; i++)
        if (!order_by_rule(c, &c->a->interlock[i])) return false;
    order_bodies(c);
    order_work(c);
    if (!changeover_order_scenery(c)) return false;
    changeover_order_steps(c);
    return changeover_sweeps(c);
}

/* Moves that no order can have: each waits for the next, and the last for the first. Two of such a
 * circle are told, never one that only waits behind it.
 *
 * Takes out what waits for nothing that is left, or what nothing left waits for, until neither is
 * there. */
static void take_out(const changeover *c, bool *is_left) {
    for (bool is_changed = true; is_changed;) {
        is_changed = false;
        for (int i = 0; i < c->n_move; i++) {
            bool waits = false, is_awaited = false;
            for (int k = 0; k < c->n_move && is_left[i]; k++) {
                waits |= is_left[k] && changeover_is_before(c, k, i);
                is_awaited |= is_left[k] && changeover_is_before(c, i, k);
            }
            if (!is_left[i] || (waits && is_awaited)) continue;
            is_left[i] = false;
            is_changed = true;
        }
    }
}

static int one_before(const changeover *c, const bool *is_left, int move) {
    for (int i = 0; i < c->n_move; i++)
        if (is_left[i] && changeover_is_before(c, i, move)) return i;
    return move;
}

/* Two that wait for each other at once, or any two of a circle. */
static void find_two(const changeover *c, const bool *is_left, int *first, int *then) {
    for (int i = 0; i < c->n_move; i++)
        for (int k = 0; k < i && is_left[i]; k++)
            if (changeover_is_before(c, i, k) && changeover_is_before(c, k, i)) {
                *first = i;
                *then = k;
                return;
            }
    for (int steps = 0; steps < c->n_move; steps++) *then = one_before(c, is_left, *then);
    *first = one_before(c, is_left, *then);
}

static const char *text_of(changeover *c, const gradin_move *m) {
    return m->task[0] ? changeover_print(c, "%s (%s)", m->name, m->task) : m->name;
}

gradin_status changeover_tell_circle(changeover *c, int stuck) {
    bool *is_left = gradin_arena_alloc(c->arena, (size_t)c->n_move, sizeof *is_left);
    int first = stuck, then = stuck;
    if (!is_left) return changeover_no_memory(c), GRADIN_NO_MEMORY;
    for (int i = 0; i < c->n_move; i++) is_left[i] = true;
    take_out(c, is_left);
    for (int i = 0; i < c->n_move; i++)
        if (is_left[i]) then = i;
    find_two(c, is_left, &first, &then);
    if (first == then)
        return changeover_refuse(c, c->to->file, NULL,
                                 "no order of moves keeps every rule: %s waits for itself",
                                 c->move[then].name);
    const char *one = text_of(c, &c->move[then]), *other = text_of(c, &c->move[first]);
    if (!one || !other) return changeover_no_memory(c), GRADIN_NO_MEMORY;
    return changeover_refuse(c, c->to->file, NULL,
                             "no order of moves keeps every rule: %s and %s wait for each other; "
                             "one rule is '%s'",
                             one, other, c->rule[first * c->n_move + then]);
}
