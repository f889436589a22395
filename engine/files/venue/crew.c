/* What a changeover needs besides the machines: crew, power, seating stock, the lift to the store;
 * and what people weigh. Every figure is the venue's own. */
#include "files/venue/read.h"

static void check_crew(reader *r, const node *at, const char *key, int crew,
                       const gradin_venue *v) {
    if (at && v->crew.people > 0 && crew > v->crew.people)
        complain_key(r, at, key, "takes %d people; the venue's crew has %d", crew, v->crew.people);
}

static void fill_stock(reader *r, const stated_crew *s, gradin_venue *v) {
    gradin_seating *made = alloc(&r->c, s->n_seating, sizeof *made);
    if (!made) return;
    for (int i = 0; i < s->n_seating; i++) {
        const stated_seating *from = &s->seating[i];
        made[i] = (gradin_seating){.name = from->name,
                                   .kind = (gradin_seating_kind)from->kind,
                                   .set_rate = from->set_rate,
                                   .strike_rate = from->strike_rate,
                                   .crew = from->crew,
                                   .seat_kg = from->seat_kg,
                                   .is_stored = from->is_stored};
        check_crew(r, from->at, "crew", from->crew, v);
        if (from->at && from->is_stored && !s->store)
            complain_key(r, from->at, "stored", "needs a store lift; add 'store'");
    }
    v->crew.seating = made;
    v->crew.n_seating = s->n_seating;
}

static void fill_store(reader *r, const stated_store *s, gradin_venue *v) {
    gradin_store *store = alloc(&r->c, 1, sizeof *store);
    if (!store) return;
    *store = (gradin_store){.name = s->name,
                            .travel_m = s->travel_m,
                            .drive = drive_stated(&s->drive, s->speed_ms, 0.0),
                            .seats_per_trip = s->seats_per_trip,
                            .load_s = s->load_s};
    v->crew.store = store;
}

void fill_crew(reader *r, const stated_crew *s, gradin_venue *v) {
    v->crew.people = s->people;
    v->crew.power_kw = s->power_kw;
    v->crew.rail_rate = s->rail_rate;
    v->crew.rail_crew = s->rail_crew;
    check_crew(r, s->at, "rail_crew", s->rail_crew, v);
    if (s->n_seating > 0) fill_stock(r, s, v);
    if (s->store) fill_store(r, s->store, v);
}

void fill_loads(const stated_loads *s, gradin_venue *v) {
    gradin_occupancy *o = &v->occupancy;
    *o = gradin_occupancy_of((gradin_occupancy_source)s->source);
    o->person_kg = s->person_kg;
    v->floor_load.spread_kn_m2 = s->floor_kn_m2;
    for (int i = 0; i < GRADIN_N_USE; i++) {
        if (isnan(s->use_kn_m2[i])) continue;
        o->load_kn_m2[i] = s->use_kn_m2[i];
        o->is_own[i] = true;
    }
}
