/* Drives of machines, and what a changeover needs besides: crew, power, seating stock, the lift to
 * the store. Every figure is the venue's own. */
#include "venue/venue.h"

gradin_drive drive_of(double speed_per_s, double mass_kg) {
    return (gradin_drive){.speed_per_s = speed_per_s, .mass_kg = mass_kg, .crew = 1, .at_once = 1};
}

gradin_drive drive_of_share(double move_s) {
    return drive_of(move_s > 0.0 ? 1.0 / move_s : INFINITY, 0.0);
}

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

static void check_crew(reader *r, const node *at, const char *key, int crew, const venue *v) {
    if (v->house.crew > 0 && crew > v->house.crew)
        complain_key(r, at, key, "takes %d people; the venue's crew has %d", crew, v->house.crew);
}

static void read_seating(reader *r, const node *at, const venue *v, gradin_seating *s) {
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

static void read_stock(reader *r, const node *list, venue *v) {
    gradin_seating *made = take(r, list->n_child, sizeof *made);
    if (!made) return;
    for (int i = 0; i < list->n_child; i++) read_seating(r, list->child[i], v, &made[i]);
    check_names(r, list, made, list->n_child, sizeof *made);
    v->house.seating = made;
    v->house.n_seating = list->n_child;
}

static void read_store(reader *r, const node *at, venue *v) {
    gradin_store *store = take(r, 1, sizeof *store);
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
    store->drive = drive_of(speed_ms, 0.0);
    read_drive(r, drive, &store->drive);
    v->house.store = store;
}

void venue_read_house(reader *r, const node *at, venue *v) {
    const node *seating = NULL, *store = NULL;
    house *h = &v->house;
    h->rail_crew = 2;
    if (!at) return;
    if (!READ(r, at, {"people", FIELD_INTEGER, true, 1, 1000, &h->crew, 0},
              {"power_kw", FIELD_NUMBER, false, 0.1, 100000, &h->power_kw, 0},
              {"rail_m_person_hour", FIELD_NUMBER, false, 0.1, 10000, &h->rail_rate, 0},
              {"rail_crew", FIELD_INTEGER, false, 1, 100, &h->rail_crew, 0},
              {"seating", FIELD_LIST, false, 0, 0, &seating, 0},
              {"store", FIELD_MAP, false, 0, 0, &store, 0}))
        return;
    check_crew(r, at, "rail_crew", h->rail_crew, v);
    if (seating) read_stock(r, seating, v);
    if (store) read_store(r, store, v);
    for (int i = 0; i < h->n_seating; i++)
        if (h->seating[i].is_stored && !h->store)
            complain_key(r, seating->child[i], "stored", "needs a store lift; add 'store'");
}
