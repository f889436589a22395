/* The machines as this layout puts them, for the studies that move them. */
#include "model/build.h"

/* Body of an obstacle: towers and sections by their number, then the arch, then all fixed. */
static int body_of(const builder *b, const obstacle *o) {
    int n = b->v->n_tower + b->v->n_section;
    return o->machine >= 0 ? o->machine : o->machine == -2 ? n : n + 1;
}

static bool build_bodies(builder *b, gradin_machinery *m) {
    int n_body = b->v->n_tower + b->v->n_section + 2;
    gradin_body *body = alloc(b->c, n_body, sizeof *body);
    gradin_part *part = alloc(b->c, b->n_obstacle, sizeof *part);
    if (!body || !part) return false;
    for (int i = 0; i < b->n_obstacle; i++) body[body_of(b, &b->obstacle[i])].n_part++;
    for (int i = 0; i < n_body; i++) {
        body[i].part = part;
        part += body[i].n_part;
        body[i].n_part = 0;
    }
    for (int i = 0; i < b->n_obstacle; i++) {
        const obstacle *o = &b->obstacle[i];
        gradin_body *into = &body[body_of(b, o)];
        ((gradin_part *)into->part)[into->n_part++] =
            (gradin_part){o->name, o->polygon, o->bottom_m, o->top_m};
    }
    m->body = body;
    m->n_body = n_body;
    return true;
}

static bool build_block_seating(builder *b, gradin_machinery *m) {
    int *seating = alloc(b->c, b->n_block_name, sizeof *seating);
    if (!seating) return false;
    for (int i = 0; i < b->n_block_name; i++)
        seating[i] = i >= b->p->n_block          ? -1
                     : b->v->crew.n_seating == 0 ? -2
                                                 : b->p->block[i].seating;
    double *depth_m = alloc(b->c, b->n_block_name, sizeof *depth_m);
    for (int i = 0; depth_m && i < b->n_block_name; i++)
        depth_m[i] = i < b->p->n_block ? b->p->block[i].seat_depth_m : NAN;
    m->block_seating = seating;
    m->block_seat_depth_m = depth_m;
    return depth_m != NULL;
}

/* A tower's pivot goes with its slide. */
static void place_pivot(const builder *b, gradin_machine *m) {
    if (m->kind != GRADIN_MACHINE_TURN) return;
    const gradin_tower *t = &b->v->tower[m->item];
    m->pivot_m = point_along_m(m->pivot_m, t->slide_bearing_deg, tower_slide_m(b, m->item));
}

bool build_machinery(builder *b) {
    const gradin_venue *v = b->v;
    gradin_machinery *m = alloc(b->c, 1, sizeof *m);
    gradin_machine *machine = alloc(b->c, v->n_machine, sizeof *machine);
    if (!m || !machine || !build_bodies(b, m) || !build_block_seating(b, m) ||
        !build_loads(b, &m->loads))
        return false;
    for (int i = 0; i < v->n_machine; i++) {
        machine[i] = v->machine[i];
        machine[i].setting = b->p->machine[i].set;
        place_pivot(b, &machine[i]);
    }
    m->machine = machine;
    m->n_machine = v->n_machine;
    m->interlock = v->interlock;
    m->n_interlock = v->n_interlock;
    m->seating = v->crew.seating;
    m->n_seating = v->crew.n_seating;
    m->store = v->crew.store;
    m->crew = v->crew.people;
    m->power_kw = v->crew.power_kw;
    m->rail_rate = v->crew.rail_rate;
    m->rail_crew = v->crew.rail_crew;
    m->work = v->crew.work;
    m->scenery = b->p->scenery;
    m->n_scenery = b->p->n_scenery;
    m->rules = v->rules;
    b->model->machinery = m;
    return true;
}
