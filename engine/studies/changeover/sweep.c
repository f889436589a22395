/* Collisions: what a machine sweeps through on its way against every other machine, before and
 * after that one's own move, and against what is fixed. Towers are rigid: path.c has what
 * they fill on their way. Lifts and the arch change shape: their sweep is what they fill at either
 * end (their treads and panels move along themselves). Only pairs with a tower are checked: lifts
 * of one grid cannot meet, and the arch comes down on the stage lifts by design. */
#include "studies/changeover/changeover.h"

#include <string.h>

static const double TOUCH_M = 0.02;
static const double SEATED_M = 1.4; /* a seat and who sits on it */
static const char *const in_the_way = "nothing stands in a tower's way";
static const char *const swept = "one would sweep through the other";

/* Where the other drives of a tower stand while `move` runs, from the layout the changeover starts
 * from. */
static pose others(const changeover *c, int machine, int move) {
    pose sum = {.turn_deg = 0.0};
    for (int i = c->n_section; i < c->a->n_machine; i++) {
        const gradin_machine *m = &c->a->machine[i];
        const chain *w = &c->chain[i];
        if (i == machine || m->body != c->a->machine[machine].body) continue;
        int stop = 0;
        while (stop + 1 < w->n_stop && changeover_is_before(c, w->move[stop], move)) stop++;
        sum = changeover_moved(sum, m, w->stop[stop].position - w->stop[0].position);
    }
    return sum;
}

static pose with_own(const changeover *c, pose rest, int machine, int stop) {
    const chain *w = &c->chain[machine];
    return changeover_moved(rest, &c->a->machine[machine],
                            w->stop[stop].position - w->stop[0].position);
}

typedef enum phase { PHASE_BEFORE, PHASE_DURING, PHASE_AFTER } phase;

static bool tower_volumes(changeover *c, int move, phase when, volumes *out) {
    int machine = c->detail[move].machine[0], leg = c->detail[move].leg;
    const gradin_body *body = &c->a->body[c->a->machine[machine].body];
    pose rest = others(c, machine, move);
    pose from = with_own(c, rest, machine, leg), to = with_own(c, rest, machine, leg + 1);
    if (when == PHASE_BEFORE) to = from;
    if (when == PHASE_AFTER) from = to;
    return changeover_open_volumes(c, body->n_part, to.turn_deg - from.turn_deg, out) &&
           changeover_sweep(c, body, from, to, out);
}

static int parts_of(const changeover *c, const move_detail *w) {
    int n = 0;
    for (int i = 0; i < w->n_machine; i++) {
        int body = c->a->machine[w->machine[i]].body;
        if (body >= 0) n += c->a->body[body].n_part + c->b->body[body].n_part;
    }
    return n;
}

static bool shape_volumes(changeover *c, int move, phase when, volumes *out) {
    const move_detail *w = &c->detail[move];
    const pose none = {.turn_deg = 0.0};
    if (!changeover_open_volumes(c, parts_of(c, w), 0.0, out)) return false;
    for (int i = 0; i < w->n_machine; i++) {
        int body = c->a->machine[w->machine[i]].body;
        if (body < 0) continue;
        if (when != PHASE_AFTER && !changeover_sweep(c, &c->a->body[body], none, none, out))
            return false;
        if (when != PHASE_BEFORE && !changeover_sweep(c, &c->b->body[body], none, none, out))
            return false;
    }
    return true;
}

static bool is_tower_move(const changeover *c, int move) {
    const move_detail *w = &c->detail[move];
    return w->machine && changeover_is_tower(&c->a->machine[w->machine[0]]);
}

static bool volumes_of(changeover *c, int move, phase when, volumes *out) {
    return is_tower_move(c, move) ? tower_volumes(c, move, when, out)
                                  : shape_volumes(c, move, when, out);
}

static bool do_touch(const volumes *a, const volumes *b) {
    for (int i = 0; i < a->n; i++)
        for (int k = 0; k < b->n; k++) {
            const volume *p = &a->item[i], *q = &b->item[k];
            if (p->bottom_m < q->top_m - TOUCH_M && q->bottom_m < p->top_m - TOUCH_M &&
                p->box.x_min_m < q->box.x_max_m && q->box.x_min_m < p->box.x_max_m &&
                p->box.y_min_m < q->box.y_max_m && q->box.y_min_m < p->box.y_max_m &&
                gradin_polygon_overlap(p->polygon, q->polygon, TOUCH_M))
                return true;
        }
    return false;
}

static bool refuse(changeover *c, int i, const char *other) {
    changeover_refuse(c, c->to->file, NULL,
                      "swept volumes clash: %s (%s) meets %s in every order of moves",
                      c->move[i].name, c->move[i].task, other);
    return false;
}

/* Checks move i against where k stands before and after its own move. */
static bool order_swept(changeover *c, int i, int k, const volumes *sweep_i) {
    volumes before, after, during;
    if (!volumes_of(c, k, PHASE_BEFORE, &before) || !volumes_of(c, k, PHASE_AFTER, &after) ||
        !volumes_of(c, k, PHASE_DURING, &during))
        return false;
    bool meets_before = do_touch(sweep_i, &before), meets_after = do_touch(sweep_i, &after);
    if (meets_before && meets_after) return refuse(c, i, c->move[k].name);
    if (meets_before) changeover_put_before(c, k, i, swept);
    if (meets_after) changeover_put_before(c, i, k, swept);
    if (!meets_before && !meets_after && do_touch(sweep_i, &during))
        changeover_put_apart(c, i, k, swept);
    return true;
}

static bool share_body(const changeover *c, int i, int k) {
    int a = c->a->machine[c->detail[i].machine[0]].body;
    return a >= 0 && a == c->a->machine[c->detail[k].machine[0]].body;
}

static bool hold_against_moves(changeover *c, int i, const volumes *sweep) {
    for (int k = 0; k < c->n_move; k++) {
        if (k == i || !c->detail[k].machine || share_body(c, i, k)) continue;
        if (!is_tower_move(c, i) && !is_tower_move(c, k)) continue;
        if (!order_swept(c, i, k, sweep)) return false;
    }
    return true;
}

/* A seat, or scenery where it stands. */
static bool is_any_inside(const volumes *sweep, const move_detail *w) {
    double height_m = w->scenery ? w->scenery->s->height_m : SEATED_M;
    int n = w->scenery ? w->n_stand : w->n_point;
    for (int i = 0; i < sweep->n; i++)
        for (int k = 0; k < n; k++) {
            gradin_vec3 at_m = w->point_m[k];
            if (at_m.z < sweep->item[i].top_m && at_m.z + height_m > sweep->item[i].bottom_m &&
                gradin_polygon_contains(sweep->item[i].polygon, (gradin_vec2){at_m.x, at_m.y}))
                return true;
        }
    return false;
}

/* Seats and scenery in a tower's way: off before it comes, on when it has gone. */
static void clear_way(changeover *c, int i, const volumes *sweep) {
    for (int k = 0; k < c->n_move && is_tower_move(c, i); k++) {
        const move_detail *w = &c->detail[k];
        if ((!w->seat && !w->scenery) || !is_any_inside(sweep, w)) continue;
        if (c->move[k].kind == GRADIN_MOVE_STRIKE)
            changeover_put_before(c, k, i, in_the_way);
        else
            changeover_put_before(c, i, k, in_the_way);
    }
}

static bool does_body_move(const changeover *c, int body) {
    for (int i = 0; i < c->a->n_machine; i++)
        if (c->a->machine[i].body == body && c->chain[i].n_stop > 1) return true;
    return false;
}

static bool hold_against_scenery(changeover *c, int i, const volumes *sweep) {
    const char *name;
    for (int k = 0; k < sweep->n && is_tower_move(c, i); k++)
        if (changeover_is_kept_at(c, &sweep->item[k].polygon, sweep->item[k].bottom_m,
                                  sweep->item[k].top_m, &name))
            return refuse(c, i, name);
    return true;
}

static bool hold_against_rest(changeover *c, int i, const volumes *sweep) {
    const pose none = {.turn_deg = 0.0};
    for (int body = 0; body < c->a->n_body; body++) {
        volumes rest;
        const gradin_body *still = &c->a->body[body];
        bool is_tower = body < c->n_tower;
        if (still->n_part == 0 || does_body_move(c, body)) continue;
        if (!is_tower && !is_tower_move(c, i)) continue;
        if (!changeover_open_volumes(c, still->n_part, 0.0, &rest) ||
            !changeover_sweep(c, still, none, none, &rest))
            return false;
        if (do_touch(sweep, &rest)) return refuse(c, i, still->part[0].name);
    }
    return true;
}

bool changeover_sweeps(changeover *c) {
    for (int i = 0; i < c->n_move; i++) {
        volumes sweep;
        if (!c->detail[i].machine) continue;
        if (!volumes_of(c, i, PHASE_DURING, &sweep)) return false;
        clear_way(c, i, &sweep);
        if (!hold_against_scenery(c, i, &sweep) || !hold_against_rest(c, i, &sweep) ||
            !hold_against_moves(c, i, &sweep))
            return false;
    }
    return true;
}
