/* Drives of machines, and what a changeover needs besides: crew, power, seating stock, the lift to
 * the store. Every figure is the venue's own. */
#include "files/venue_read.h"

void read_drive(reader *r, const node *at, gradin_drive *drive) {
    if (!at) return;
    READ(r, at, {"accel_ms2", FIELD_NUMBER, false, 1e-6, 10, &drive->accel_per_s2, 0},
         {"prepare_s", FIELD_NUMBER, false, 0, 36000, &drive->prepare_s, 0},
         {"mass_kg", FIELD_NUMBER, false, 1, 1e6, &drive->mass_kg, 0},
         {"power_kw", FIELD_NUMBER, false, 0, 10000, &drive->power_kw, 0},
         {"crew", FIELD_INTEGER, false, 0, 100, &drive->crew, 0},
         {"people_near", FIELD_FLAG, false, 0, 0, &drive->are_people_near, 0},
         {"at_once", FIELD_INTEGER, false, 1, GRADIN_MAX_SECTION, &drive->at_once, 0},
         {"turn_s", FIELD_NUMBER, false, 0, 36000, &drive->turn_s, 0});
}

void read_share_drive(reader *r, const node *at, gradin_drive *drive) {
    read_drive(r, at, drive);
    if (at && map_get(at, "accel_ms2"))
        complain_key(r, at, "accel_ms2", "does not go with a time from end to end, which holds it");
}

static void check_crew(reader *r, const node *at, const char *key, int crew,
                       const gradin_venue *v) {
    if (v->crew.people > 0 && crew > v->crew.people)
        complain_key(r, at, key, "takes %d people; the venue's crew has %d", crew, v->crew.people);
}

static void read_seating(reader *r, const node *at, const gradin_venue *v, gradin_seating *s) {
    static const char *const kinds[] = {"loose", "telescopic", NULL};
    int kind = GRADIN_SEATING_LOOSE;
    bool is_telescopic = false;
    const node *stated = map_get(at, "kind");
    if (stated && stated->kind == NODE_TEXT) is_telescopic = stated->text[0] == 't';
    const char *set = is_telescopic ? "set_s_row" : "set_seats_person_hour";
    const char *strike = is_telescopic ? "strike_s_row" : "strike_seats_person_hour";
    if (!READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &s->name, 0},
              {"kind", FIELD_CHOICE, true, 0, 0, &kind, kinds},
              {set, FIELD_NUMBER, true, 0.1, 10000, &s->set_rate, 0},
              {strike, FIELD_NUMBER, true, 0.1, 10000, &s->strike_rate, 0},
              {"crew", FIELD_INTEGER, true, 1, 100, &s->crew, 0},
              {"seat_kg", FIELD_NUMBER, false, 0, 500, &s->seat_kg, 0},
              {"stored", FIELD_FLAG, false, 0, 0, &s->is_stored, 0}))
        return;
    s->kind = (gradin_seating_kind)kind;
    check_crew(r, at, "crew", s->crew, v);
}

static void read_stock(reader *r, const node *list, gradin_venue *v) {
    gradin_seating *made = alloc(&r->c, list->n_child, sizeof *made);
    if (!made) return;
    for (int i = 0; i < list->n_child; i++) read_seating(r, list->child[i], v, &made[i]);
    check_names(r, list, made, list->n_child, sizeof *made);
    v->crew.seating = made;
    v->crew.n_seating = list->n_child;
}

static void read_store(reader *r, const node *at, gradin_venue *v) {
    gradin_store *store = alloc(&r->c, 1, sizeof *store);
    const node *drive = NULL;
    double speed_ms = 0.0;
    if (!store ||
        !READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &store->name, 0},
              {"travel", FIELD_LENGTH, true, 0.1, 50, &store->travel_m, 0},
              {"speed_ms", FIELD_NUMBER, true, 1e-4, 2, &speed_ms, 0},
              {"seats_per_trip", FIELD_INTEGER, true, 1, 10000, &store->seats_per_trip, 0},
              {"load_s", FIELD_NUMBER, true, 0, 36000, &store->load_s, 0},
              {"drive", FIELD_MAP, false, 0, 0, &drive, 0}))
        return;
    store->drive = gradin_drive_of(speed_ms, 0.0);
    read_drive(r, drive, &store->drive);
    v->crew.store = store;
}

void venue_read_crew(reader *r, const node *at, gradin_venue *v) {
    const node *seating = NULL, *store = NULL;
    gradin_crew *crew = &v->crew;
    if (!READ(r, at, {"people", FIELD_INTEGER, true, 1, 1000, &crew->people, 0},
              {"power_kw", FIELD_NUMBER, false, 0.1, 100000, &crew->power_kw, 0},
              {"rail_m_person_hour", FIELD_NUMBER, false, 0.1, 10000, &crew->rail_rate, 0},
              {"rail_crew", FIELD_INTEGER, false, 1, 100, &crew->rail_crew, 0},
              {"seating", FIELD_LIST, false, 0, 0, &seating, 0},
              {"store", FIELD_MAP, false, 0, 0, &store, 0}))
        return;
    check_crew(r, at, "rail_crew", crew->rail_crew, v);
    if (seating) read_stock(r, seating, v);
    if (store) read_store(r, store, v);
    for (int i = 0; i < crew->n_seating; i++)
        if (crew->seating[i].is_stored && !crew->store)
            complain_key(r, seating->child[i], "stored", "needs a store lift; add 'store'");
}
