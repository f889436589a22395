/* What scenery waits for: a level floor and an open door, seats and rails off its way, old scenery
 * out of its place, and the machines that the layout names. Nothing that stands on a lift moves
 * with it unless its layout says that it rides. */
#include "studies/changeover/changeover.h"

static const char *const way_cleared = "seats and rails off the way of scenery";
static const char *const way_kept = "scenery is by before its way is built over";
static const char *const old_out = "the old scenery is out before the new comes in";
static const char *const behind_first = "scenery that would stand in the way of another comes last";
static const char *const before_first = "scenery that stands in the way of another goes first";
static const char *const stated = "the layout's own order of scenery and machines";

static bool refuse_lift(changeover *c, const scenery_job *j, int machine) {
    if (j->is_kept)
        changeover_refuse(c, c->to->file, "scenery",
                          "%s stays and would stand on %s while it moves; state 'rides: yes' in "
                          "both layouts where it may",
                          j->s->name, c->a->machine[machine].name);
    else
        changeover_refuse(c, c->to->file, "scenery",
                          "%s would stand on %s while it moves; state 'rides: yes' where it may, "
                          "or another level at which it is %s",
                          j->s->name, c->a->machine[machine].name,
                          j->is_in ? "brought in" : "taken out");
    return false;
}

/* A lift stands as it will when something comes to stand on it, and does not move before that has
 * gone. */
static bool is_still(const changeover *c, const scenery_job *j, int machine) {
    const chain *w = &c->chain[machine];
    if (j->is_kept) return w->n_stop == 1;
    const gradin_setting *end = &w->stop[j->is_in ? w->n_stop - 1 : 0];
    return gradin_setting_is_within(end, j->floor.within);
}

static bool hold_floor(changeover *c, const scenery_job *j) {
    for (int i = 0; i < c->n_section; i++)
        if (!j->rides && changeover_is_over(c, i, j->s->area) && !is_still(c, j, i))
            return refuse_lift(c, j, i);
    if (j->is_kept) return true;
    for (int i = 0; i < j->floor.n_holder; i++)
        changeover_hold(c, &j->floor, j->move, j->floor.holder[i], j->is_in);
    for (int i = 0; i < j->door.n_holder; i++)
        changeover_hold(c, &j->door, j->move, j->door.holder[i], j->is_in);
    return true;
}

static bool is_in_way(const scenery_job *j, gradin_vec3 at_m) {
    gradin_vec2 on_plan_m = {at_m.x, at_m.y};
    double low_m = fmin(j->level_m, j->stands_m), high_m = fmax(j->level_m, j->stands_m);
    if (at_m.z < low_m - 0.5 || at_m.z > high_m + j->s->height_m) return false;
    return gradin_polygon_contains(j->s->area, on_plan_m) ||
           (j->s->way.n_corner > 0 && gradin_polygon_contains(j->s->way, on_plan_m));
}

static bool is_any_in_way(const scenery_job *j, const move_detail *work) {
    for (int i = 0; i < work->n_point; i++)
        if (is_in_way(j, work->point_m[i])) return true;
    return false;
}

static void clear_way(changeover *c, const scenery_job *j) {
    for (int k = 0; k < c->n_move; k++) {
        const move_detail *o = &c->detail[k];
        if (o->machine || o->step || o->scenery || !is_any_in_way(j, o)) continue;
        if (c->move[k].kind == GRADIN_MOVE_STRIKE)
            changeover_put_before(c, k, j->move, way_cleared);
        else
            changeover_put_before(c, j->move, k, way_kept);
    }
}

static void order_out_and_in(changeover *c, const scenery_job *out, const scenery_job *in) {
    if (changeover_areas_meet(out->s->area, in->s->area) ||
        changeover_areas_meet(out->s->area, in->s->way) ||
        changeover_areas_meet(out->s->way, in->s->area))
        changeover_put_before(c, out->move, in->move, old_out);
}

/* Two that both come in, or both go out: does `one` stand where `other` passes? */
static void order_alike(changeover *c, const scenery_job *one, const scenery_job *other) {
    if (!changeover_areas_meet(one->s->area, other->s->way)) return;
    if (one->is_in)
        changeover_put_before(c, other->move, one->move, behind_first);
    else
        changeover_put_before(c, one->move, other->move, before_first);
}

static void order_with_others(changeover *c, const scenery_job *j) {
    for (int k = 0; k < c->n_job; k++) {
        const scenery_job *other = &c->job[k];
        if (other == j || other->is_kept) continue;
        if (other->is_in == j->is_in)
            order_alike(c, j, other);
        else if (other->is_in)
            order_out_and_in(c, j, other);
    }
}

static void order_machines(changeover *c, const scenery_job *j, const int *machine, int n,
                           bool is_after) {
    for (int i = 0; i < n; i++) {
        const chain *w = &c->chain[machine[i]];
        for (int leg = 0; leg + 1 < w->n_stop; leg++) {
            if (is_after == j->is_in)
                changeover_put_before(c, w->move[leg], j->move, stated);
            else
                changeover_put_before(c, j->move, w->move[leg], stated);
        }
    }
}

bool changeover_order_scenery(changeover *c) {
    for (int i = 0; i < c->n_job; i++) {
        const scenery_job *j = &c->job[i];
        if (!hold_floor(c, j)) return false;
        if (j->is_kept) continue;
        clear_way(c, j);
        order_machines(c, j, j->s->after, j->s->n_after, true);
        order_machines(c, j, j->s->before, j->s->n_before, false);
        order_with_others(c, j);
    }
    return true;
}
