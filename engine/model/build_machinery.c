/* The machines as this layout puts them, for the studies that move them. */
#include "model/build.h"

const char *gradin_machine_unit(gradin_machine_kind kind) {
    return kind <= GRADIN_MACHINE_OPENING ? "m" : "";
}

static gradin_setting flat_at(double position) {
    return (gradin_setting){.position = position, .n_step = 1};
}

gradin_setting *plan_settings(reader *r, const venue *v, const plan *p) {
    gradin_setting *set = take(r, v->n_machine, sizeof *set);
    if (!set) return NULL;
    int n = 0;
    for (int i = 0; i < v->n_section; i++) {
        const section_state *s = &p->section[i];
        set[n++] = (gradin_setting){s->height_m, s->n_step, s->riser_m, s->facing_deg};
    }
    for (int i = 0; i < v->n_tower; i++) set[n++] = flat_at(p->tower[i].hoist_m);
    for (int i = 0; i < v->n_tower; i++) set[n++] = flat_at(p->tower[i].slide_m);
    if (v->arch) {
        bool is_in = p->arch.is_in;
        set[n++] = flat_at(is_in ? p->arch.trim_m : v->ceiling_m);
        set[n++] = flat_at(is_in ? p->arch.opening_m : v->arch->opening_m[1]);
        if (v->arch->closing_name) set[n++] = flat_at(p->arch.closed);
    }
    for (int i = 0; i < v->n_panel; i++) set[n++] = flat_at(p->panel_open[i] ? 1.0 : 0.0);
    for (int i = 0; i < v->n_shade; i++) set[n++] = flat_at(p->shade_closed[i]);
    for (int i = 0; i < v->n_facade; i++)
        if (v->facade[i].kind == GRADIN_ELEMENT_DOOR) set[n++] = flat_at(p->door_open[i]);
    return set;
}

/* Body of an obstacle: towers and sections by their number, then the arch, then all fixed. */
static int body_of(const builder *b, const obstacle *o) {
    int n = b->v->n_tower + b->v->n_section;
    return o->machine >= 0 ? o->machine : o->machine == -2 ? n : n + 1;
}

static bool build_bodies(builder *b, gradin_machinery *m) {
    int n_body = b->v->n_tower + b->v->n_section + 2;
    gradin_body *body = take(b->r, n_body, sizeof *body);
    gradin_part *part = take(b->r, b->n_obstacle, sizeof *part);
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
    int *seating = take(b->r, b->n_block_name, sizeof *seating);
    if (!seating) return false;
    for (int i = 0; i < b->n_block_name; i++) {
        seating[i] = -1;
        for (int k = 0; k < b->p->n_block; k++)
            if (b->block_at[i] && b->p->block[k].at == b->block_at[i])
                seating[i] = b->p->block[k].seating;
    }
    m->block_seating = seating;
    return true;
}

bool build_machinery(builder *b) {
    const venue *v = b->v;
    gradin_machinery *m = take(b->r, 1, sizeof *m);
    gradin_machine *machine = take(b->r, v->n_machine, sizeof *machine);
    const gradin_setting *set = plan_settings(b->r, v, b->p);
    if (!m || !machine || !set || !build_bodies(b, m) || !build_block_seating(b, m) ||
        !build_loads(b, &m->loads))
        return false;
    for (int i = 0; i < v->n_machine; i++) {
        machine[i] = v->machine[i];
        machine[i].setting = set[i];
    }
    m->machine = machine;
    m->n_machine = v->n_machine;
    m->interlock = v->interlock;
    m->n_interlock = v->n_interlock;
    m->seating = v->house.seating;
    m->n_seating = v->house.n_seating;
    m->store = v->house.store;
    m->crew = v->house.crew;
    m->power_kw = v->house.power_kw;
    m->rail_rate = v->house.rail_rate;
    m->rail_crew = v->house.rail_crew;
    m->rules = v->rules;
    b->model->machinery = m;
    return true;
}
