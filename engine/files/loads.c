/* What floors may carry, and what people bring: a named source, or the venue's own figures.
 *
 * EN 1991-1-1 (2002), table 6.2, recommended values (from memory): C2, areas with fixed seats, 4.0;
 * C5, areas susceptible to large crowds, 5.0; C4, areas with physical activities such as
 * stages, 5.0 kN/m2. ASCE 7 (from memory): assembly areas, fixed seats 60 psf, lobbies and movable
 * seats 100 psf, stage floors 150 psf; 1 psf = 0.04788 kN/m2. A person counts 75 kg, as in a lift's
 * rated load (EN 81-20, from memory). National annexes and local codes may ask for more: then the
 * venue states its own. */
#include "venue/venue.h"

static const double person_kg = 75.0;

enum { EN_1991_1_1, ASCE_7, N_SOURCE };

static const gradin_occupancy sources[N_SOURCE] = {
    {.source = "EN 1991-1-1, categories C2, C5, C4 (from memory)", .load_kn_m2 = {4.0, 5.0, 5.0}},
    {.source = "ASCE 7, assembly: 60, 100, 150 psf (from memory)",
     .load_kn_m2 = {2.87, 4.79, 7.18}}};
static const char *const source_names[] = {"en_1991_1_1", "asce_7", NULL};

void read_load_limit(reader *r, const node *at, gradin_load_limit *limit) {
    *limit = (gradin_load_limit){NAN, NAN};
    if (!at) return;
    READ(r, at, {"spread_kn_m2", FIELD_NUMBER, false, 0.01, 1000, &limit->spread_kn_m2, 0},
         {"total_kn", FIELD_NUMBER, false, 0.01, 1e5, &limit->total_kn, 0});
    if (at->n_child == 0) complain(r, at, "states nothing; give spread_kn_m2, total_kn or both");
}

void read_payload(reader *r, const node *at, tower *t) {
    t->most_kg = NAN;
    if (!at) return;
    READ(r, at, {"people", FIELD_INTEGER, false, 1, 100000, &t->most_people, 0},
         {"mass_kg", FIELD_NUMBER, false, 1, 1e6, &t->most_kg, 0});
    if (at->n_child == 0) complain(r, at, "states nothing; give people, mass_kg or both");
}

void venue_read_loads(reader *r, const node *at, venue *v) {
    int source = EN_1991_1_1;
    double own[GRADIN_N_USE] = {NAN, NAN, NAN};
    gradin_occupancy *o = &v->loads.occupancy;
    *o = sources[source];
    o->person_kg = person_kg;
    v->loads.floor = (gradin_load_limit){NAN, NAN};
    if (!at) return;
    READ(r, at, {"occupancy", FIELD_CHOICE, false, 0, 0, &source, source_names},
         {"seated_kn_m2", FIELD_NUMBER, false, 0.1, 100, &own[GRADIN_USE_SEATED], 0},
         {"open_kn_m2", FIELD_NUMBER, false, 0.1, 100, &own[GRADIN_USE_OPEN], 0},
         {"stage_kn_m2", FIELD_NUMBER, false, 0.1, 100, &own[GRADIN_USE_STAGE], 0},
         {"person_kg", FIELD_NUMBER, false, 30, 300, &o->person_kg, 0},
         {"floor_spread_kn_m2", FIELD_NUMBER, false, 0.1, 1000, &v->loads.floor.spread_kn_m2, 0});
    double stated_kg = o->person_kg;
    *o = sources[source];
    o->person_kg = stated_kg;
    for (int i = 0; i < GRADIN_N_USE; i++) {
        if (isnan(own[i])) continue;
        o->load_kn_m2[i] = own[i];
        o->is_own[i] = true;
    }
}
