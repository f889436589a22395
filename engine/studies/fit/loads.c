/* Loads against what the venue states. A surface bears its occupancy over its whole area (the
 * live load of its use), the seats and platforms that stand on it, and its share by area of every
 * thing with a stated mass whose foot is at its height; loads count as spread evenly. What stands
 * on it counts beside the people, not instead of them. Under one thing alone the load is that
 * thing's over its own footprint. A wheelchair place brings no seat; aisles between seats count as
 * seated. The mass of people counts only against a tower's payload. Not in
 * it: point loads of legs, moving and shock loads, side loads, how a load reaches the building. */
#include "studies/fit/fit.h"

#include <string.h>

static const double FOOT_M = 0.05; /* a thing stands where its foot is this near */

typedef struct burden {
    double kn; /* seats, platforms and things, people left out */
    double heaviest_kn;
    const char *what; /* the heaviest of them */
    int n_seat;
} burden;

typedef struct weigher {
    const gradin_model *m;
    const gradin_loads *loads;
    burden *on;    /* [n_carrier] */
    double *share; /* [n_carrier] of one thing's footprint */
    gradin_overload *found;
    int n_found;
} weigher;

static double thing_kn(const gradin_solid *solid) {
    return solid->mass_kg * GRADIN_GRAVITY_MS2 / 1000.0 + solid->carries_kn;
}

static void put_on(burden *on, double kn, const char *what) {
    on->kn += kn;
    if (kn <= on->heaviest_kn) return;
    on->heaviest_kn = kn;
    on->what = what;
}

static bool carries_seat(const gradin_model *m, const gradin_carrier *c, int seat) {
    gradin_vec2 at_m = {m->seats.floor_m[seat].x, m->seats.floor_m[seat].y};
    switch (c->kind) {
    case GRADIN_CARRIER_SECTION:
        return m->seats.section[seat] == c->index;
    case GRADIN_CARRIER_DECK:
        return m->seats.section[seat] == GRADIN_ON_DECK && m->seats.block[seat] == c->index;
    case GRADIN_CARRIER_PANEL:
        return m->seats.section[seat] == GRADIN_ON_FLOOR &&
               gradin_polygon_contains(c->polygon, at_m);
    default: /* the floor comes last and takes what is left */
        return m->seats.section[seat] == GRADIN_ON_FLOOR;
    }
}

static void put_seat(weigher *w, int seat) {
    const gradin_seats *s = &w->m->seats;
    const gradin_block_load *load = &w->loads->block[s->block[seat]];
    double place_m2 = s->width_m[seat] * s->depth_m[seat];
    double seat_kg = s->kind[seat] == GRADIN_SEAT_WHEELCHAIR ? 0.0 : load->seat_kg;
    for (int i = 0; i < w->loads->n_carrier; i++) {
        if (!carries_seat(w->m, &w->loads->carrier[i], seat)) continue;
        burden *on = &w->on[i];
        on->n_seat++;
        on->kn += seat_kg * GRADIN_GRAVITY_MS2 / 1000.0 + load->platform_kn_m2 * place_m2;
        return;
    }
}

/* Shares of the footprint on each carrier; what is left at floor level is the floor's. */
static double share_out(weigher *w, const gradin_solid *solid) {
    double left_m2 = gradin_polygon_area_m2(solid->polygon), all_m2 = left_m2;
    for (int i = 0; i < w->loads->n_carrier; i++) {
        const gradin_carrier *c = &w->loads->carrier[i];
        bool is_foot =
            solid->bottom_m > c->bottom_m - FOOT_M && solid->bottom_m < c->top_m + FOOT_M;
        bool is_floor = c->kind == GRADIN_CARRIER_FLOOR;
        double here_m2 = !is_foot   ? 0.0
                         : is_floor ? left_m2
                                    : gradin_polygon_common_m2(solid->polygon, c->polygon);
        w->share[i] = here_m2 / all_m2;
        left_m2 = fmax(left_m2 - here_m2, 0.0);
    }
    return left_m2 / all_m2;
}

static void tell(weigher *w, const char *where, const char *what, gradin_load_kind kind,
                 double load, double limit) {
    if (!(load > limit * (1.0 + 1e-9))) return; /* also when no limit is stated */
    w->found[w->n_found++] = (gradin_overload){where, what, kind, load, limit};
}

static void put_thing(weigher *w, const gradin_solid *solid, gradin_fit *fit) {
    if (thing_kn(solid) <= 0.0) return;
    double loose = share_out(w, solid);
    double under = thing_kn(solid) / gradin_polygon_area_m2(solid->polygon);
    if (loose > 0.01 && !fit->hanging) fit->hanging = solid->name;
    for (int i = 0; i < w->loads->n_carrier; i++) {
        const gradin_carrier *c = &w->loads->carrier[i];
        if (w->share[i] <= 1e-9) continue;
        put_on(&w->on[i], thing_kn(solid) * w->share[i], solid->name);
        tell(w, c->name, solid->name, GRADIN_LOAD_UNDER, under, c->limit.spread_kn_m2);
    }
}

static bool is_stage(const gradin_model *m, const gradin_carrier *c) {
    gradin_vec2 middle_m = gradin_polygon_centroid_m(c->polygon);
    for (int i = 0; i < m->n_focus; i++) {
        const gradin_focus *f = &m->focus[i];
        double z_m = gradin_focus_z_m(f, middle_m);
        if (f->kind == GRADIN_FOCUS_FLOOR &&
            gradin_polygon_common_m2(f->polygon, c->polygon) > 0.01 && z_m > c->bottom_m - FOOT_M &&
            z_m < c->top_m + FOOT_M)
            return true;
    }
    return false;
}

static bool is_stage_on_floor(const weigher *w) {
    for (int i = 0; i < w->m->n_focus; i++) {
        const gradin_focus *f = &w->m->focus[i];
        if (f->kind != GRADIN_FOCUS_FLOOR) continue;
        double left_m2 = gradin_polygon_area_m2(f->polygon);
        for (int k = 0; k < w->loads->n_carrier; k++)
            left_m2 -= gradin_polygon_common_m2(f->polygon, w->loads->carrier[k].polygon);
        if (fabs(f->z_m) < FOOT_M && left_m2 > 0.01) return true;
    }
    return false;
}

static gradin_use use_of(const weigher *w, int carrier) {
    const gradin_carrier *c = &w->loads->carrier[carrier];
    bool is_floor = c->kind == GRADIN_CARRIER_FLOOR;
    if (is_floor ? is_stage_on_floor(w) : is_stage(w->m, c)) return GRADIN_USE_STAGE;
    return w->on[carrier].n_seat > 0 && !is_floor ? GRADIN_USE_SEATED : GRADIN_USE_OPEN;
}

static void weigh_surface(weigher *w, int carrier, double area_m2) {
    const gradin_carrier *c = &w->loads->carrier[carrier];
    const burden *on = &w->on[carrier];
    gradin_use use = use_of(w, carrier);
    double people_kn = w->loads->occupancy.load_kn_m2[use] * area_m2;
    const char *what = on->what ? on->what : gradin_use_name(use);
    tell(w, c->name, what, GRADIN_LOAD_SPREAD, (people_kn + on->kn) / area_m2,
         c->limit.spread_kn_m2);
    tell(w, c->name, what, GRADIN_LOAD_TOTAL, people_kn + on->kn, c->limit.total_kn);
}

/* The fixed floor has no edge of its own: people at the load of its use, or the seats of a block
 * with what they stand on. */
static void weigh_floor(weigher *w, int carrier) {
    const gradin_carrier *c = &w->loads->carrier[carrier];
    const burden *on = &w->on[carrier];
    gradin_use use = use_of(w, carrier);
    double seated_kn_m2 = w->loads->occupancy.load_kn_m2[GRADIN_USE_SEATED];
    tell(w, c->name, gradin_use_name(use), GRADIN_LOAD_SPREAD, w->loads->occupancy.load_kn_m2[use],
         c->limit.spread_kn_m2);
    for (int b = 0; b < w->m->n_block && on->n_seat > 0; b++)
        for (int i = 0; i < w->m->seats.n_seat; i++) {
            const gradin_seats *s = &w->m->seats;
            if (s->block[i] != b || s->section[i] != GRADIN_ON_FLOOR) continue;
            double seat_kn_m2 = w->loads->block[b].seat_kg * GRADIN_GRAVITY_MS2 / 1000.0 /
                                (s->width_m[i] * s->depth_m[i]);
            tell(w, c->name, w->m->block_name[b], GRADIN_LOAD_SPREAD,
                 seated_kn_m2 + seat_kn_m2 + w->loads->block[b].platform_kn_m2,
                 c->limit.spread_kn_m2);
            break; /* the rows of a block are alike */
        }
}

static void weigh_tower(weigher *w, const gradin_payload *tower) {
    int people = 0;
    double things_kg = 0.0;
    for (int i = 0; i < tower->n_carrier; i++) {
        people += w->on[tower->carrier[i]].n_seat;
        things_kg += w->on[tower->carrier[i]].kn * 1000.0 / GRADIN_GRAVITY_MS2;
    }
    double mass_kg = people * w->loads->occupancy.person_kg + things_kg;
    tell(w, tower->name, "places", GRADIN_LOAD_PEOPLE, people,
         tower->most_people > 0 ? (double)tower->most_people : (double)NAN);
    tell(w, tower->name, "people, seats and things", GRADIN_LOAD_MASS, mass_kg, tower->most_kg);
}

static bool is_used(const weigher *w, int carrier) {
    return w->loads->carrier[carrier].kind != GRADIN_CARRIER_DECK || w->on[carrier].n_seat > 0;
}

static void weigh(weigher *w, gradin_fit *fit) {
    for (int i = 0; i < w->m->seats.n_seat; i++) put_seat(w, i);
    for (int i = 0; i < w->m->n_solid; i++) put_thing(w, &w->m->solid[i], fit);
    for (int i = 0; i < w->loads->n_carrier; i++) {
        const gradin_carrier *c = &w->loads->carrier[i];
        fit->n_limited += !isnan(c->limit.spread_kn_m2) || !isnan(c->limit.total_kn);
        if (c->kind == GRADIN_CARRIER_FLOOR)
            weigh_floor(w, i);
        else if (is_used(w, i))
            weigh_surface(w, i, gradin_polygon_area_m2(c->polygon));
    }
    for (int i = 0; i < w->loads->n_payload; i++) {
        const gradin_payload *tower = &w->loads->payload[i];
        fit->n_limited += tower->most_people > 0 || !isnan(tower->most_kg);
        weigh_tower(w, tower);
    }
}

bool fit_loads(gradin_arena *arena, gradin_fit *fit) {
    const gradin_model *m = fit->model;
    const gradin_loads *loads = &m->machinery->loads;
    if (!loads->is_stated) return true;
    size_t n_carrier = (size_t)loads->n_carrier, n_solid = (size_t)m->n_solid;
    size_t most = n_carrier * (2 + n_solid) + 2 * (size_t)loads->n_payload + (size_t)m->n_block;
    weigher w = {.m = m,
                 .loads = loads,
                 .on = gradin_arena_alloc(arena, n_carrier, sizeof *w.on),
                 .share = gradin_arena_alloc(arena, n_carrier, sizeof *w.share),
                 .found = gradin_arena_alloc(arena, most, sizeof *w.found)};
    if (!w.on || !w.share || !w.found) return false;
    weigh(&w, fit);
    fit->overload = w.found;
    fit->n_overload = w.n_found;
    return true;
}
