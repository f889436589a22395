/* The crew with its stock and store; live loads. */
#include "files/write/state.h"

#include <string.h>

static stated_seating *state_stock(complaints *c, const gradin_crew *crew) {
    stated_seating *s = crew->n_seating > 0 ? alloc(c, crew->n_seating, sizeof *s) : NULL;
    for (int i = 0; s && i < crew->n_seating; i++) {
        const gradin_seating *from = &crew->seating[i];
        s[i] = (stated_seating){.name = from->name,
                                .kind = (int)from->kind,
                                .set_rate = from->set_rate,
                                .strike_rate = from->strike_rate,
                                .seat_kg = from->seat_kg,
                                .crew = from->crew,
                                .is_stored = from->is_stored};
    }
    return s;
}

static stated_store *state_store(complaints *c, const gradin_store *store) {
    stated_store *s = store ? alloc(c, 1, sizeof *s) : NULL;
    if (!s) return NULL;
    *s = (stated_store){.name = store->name,
                        .travel_m = store->travel_m,
                        .speed_ms = store->drive.speed_per_s,
                        .load_s = store->load_s,
                        .seats_per_trip = store->seats_per_trip,
                        .drive = state_drive(&store->drive, 0.0)};
    return s;
}

stated_crew *state_crew(complaints *c, const gradin_venue *v) {
    const gradin_crew *crew = &v->crew;
    stated_crew *s = crew->people > 0 ? alloc(c, 1, sizeof *s) : NULL;
    if (!s) return NULL;
    *s = (stated_crew){.people = crew->people,
                       .rail_crew = crew->rail_crew,
                       .power_kw = crew->power_kw,
                       .rail_rate = crew->rail_rate,
                       .seating = state_stock(c, crew),
                       .n_seating = crew->n_seating,
                       .store = state_store(c, crew->store)};
    return s;
}

stated_loads state_loads(const gradin_venue *v) {
    const gradin_occupancy *o = &v->occupancy;
    stated_loads s = {.person_kg = o->person_kg, .floor_kn_m2 = v->floor_load.spread_kn_m2};
    for (int k = 0; k < GRADIN_N_OCCUPANCY; k++)
        if (o->source &&
            strcmp(o->source, gradin_occupancy_of((gradin_occupancy_source)k).source) == 0)
            s.source = k;
    for (int i = 0; i < GRADIN_N_USE; i++) s.use_kn_m2[i] = o->is_own[i] ? o->load_kn_m2[i] : NAN;
    return s;
}
