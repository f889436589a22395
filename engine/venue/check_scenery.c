/* Can a crew bring in what the layout states: are there people enough, and the lift that carries
 * it? */
#include "venue/parts.h"

/* The clock of a changeover counts seconds; ten days round the clock are no changeover. */
static const double MOST_H = 240.0;

static double trip_s(const gradin_store *store) {
    return 2.0 * gradin_move_s(store->travel_m, &store->drive) + store->load_s +
           store->drive.prepare_s;
}

static void check_time(complaints *c, const gradin_venue *v, const gradin_scenery *s,
                       const gradin_place *at) {
    static const char *const does[2] = {"bring in", "take out"};
    const double piece_s[2] = {s->in_s, s->out_s};
    bool is_lifted = s->door < 0 && v->crew.store && s->per_trip > 0;
    double trips_s =
        is_lifted ? ceil((double)s->pieces / s->per_trip) * trip_s(v->crew.store) : 0.0;
    for (int i = 0; i < 2; i++) {
        double hours = fmax(s->pieces * piece_s[i], trips_s) / 3600.0;
        if (hours <= MOST_H) continue;
        refuse_key(c, at, "pieces", "%s takes %.0f h to %s; at most %.0f h are allowed", s->name,
                   ceil(hours), does[i], MOST_H);
        return;
    }
}

static void check_one(complaints *c, const gradin_venue *v, const gradin_scenery *s) {
    const gradin_place *at = s->at ? s->at : &(gradin_place){.key = s->name};
    int people = v->crew.people, own = s->crew;
    if (s->door < 0 && !v->crew.store)
        refuse_key(c, at, "by", "%s comes by a store lift, and the venue states none", s->name);
    if (s->door < 0 && v->crew.store) own += v->crew.store->drive.crew;
    if (people > 0 && own > people)
        refuse_key(c, at, "crew", "%s takes %d people; the venue's crew has %d", s->name, own,
                   people);
    check_time(c, v, s, at);
}

void check_scenery_work(complaints *c, const gradin_venue *v, const gradin_layout *p) {
    for (int i = 0; i < p->n_scenery; i++) check_one(c, v, &p->scenery[i]);
}
