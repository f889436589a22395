/* What floors may carry, and what people weigh: a named source, or the venue's own figures. */
#include "files/venue_read.h"

static const char *const source_names[N_OCCUPANCY + 1] = {
    [OCCUPANCY_EN_1991_1_1] = "en_1991_1_1", [OCCUPANCY_ASCE_7] = "asce_7", NULL};

void read_load_limit(reader *r, const node *at, gradin_load_limit *limit) {
    *limit = (gradin_load_limit){NAN, NAN};
    if (!at) return;
    READ(r, at, {"spread_kn_m2", FIELD_NUMBER, false, 0.01, 1000, &limit->spread_kn_m2, 0},
         {"total_kn", FIELD_NUMBER, false, 0.01, 1e5, &limit->total_kn, 0});
    if (at->n_child == 0) complain(r, at, "states nothing; give spread_kn_m2, total_kn or both");
}

void read_payload(reader *r, const node *at, gradin_tower *t) {
    t->most_kg = NAN;
    if (!at) return;
    READ(r, at, {"people", FIELD_INTEGER, false, 1, 100000, &t->most_people, 0},
         {"mass_kg", FIELD_NUMBER, false, 1, 1e6, &t->most_kg, 0});
    if (at->n_child == 0) complain(r, at, "states nothing; give people, mass_kg or both");
}

void venue_read_loads(reader *r, const node *at, gradin_venue *v) {
    int source = OCCUPANCY_EN_1991_1_1;
    double own[GRADIN_N_USE] = {NAN, NAN, NAN}, person_kg = v->occupancy.person_kg;
    READ(r, at, {"occupancy", FIELD_CHOICE, false, 0, 0, &source, source_names},
         {"seated_kn_m2", FIELD_NUMBER, false, 0.1, 100, &own[GRADIN_USE_SEATED], 0},
         {"open_kn_m2", FIELD_NUMBER, false, 0.1, 100, &own[GRADIN_USE_OPEN], 0},
         {"stage_kn_m2", FIELD_NUMBER, false, 0.1, 100, &own[GRADIN_USE_STAGE], 0},
         {"person_kg", FIELD_NUMBER, false, 30, 300, &person_kg, 0},
         {"floor_spread_kn_m2", FIELD_NUMBER, false, 0.1, 1000, &v->floor_load.spread_kn_m2, 0});
    gradin_occupancy *o = &v->occupancy;
    *o = occupancy_of(source);
    o->person_kg = person_kg;
    for (int i = 0; i < GRADIN_N_USE; i++) {
        if (isnan(own[i])) continue;
        o->load_kn_m2[i] = own[i];
        o->is_own[i] = true;
    }
}
