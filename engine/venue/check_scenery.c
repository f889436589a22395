/* Can a crew bring in what the layout states: are there people enough, and the lift that carries
 * it? */
#include "venue/parts.h"

static void check_one(complaints *c, const gradin_venue *v, const gradin_scenery *s) {
    const gradin_place *at = s->at ? s->at : &(gradin_place){.key = s->name};
    int people = v->crew.people, own = s->crew;
    if (s->door < 0 && !v->crew.store)
        refuse_key(c, at, "by", "%s comes by a store lift, and the venue states none", s->name);
    if (s->door < 0 && v->crew.store) own += v->crew.store->drive.crew;
    if (people > 0 && own > people)
        refuse_key(c, at, "crew", "%s takes %d people; the venue's crew has %d", s->name, own,
                   people);
}

void check_scenery_work(complaints *c, const gradin_venue *v, const gradin_layout *p) {
    for (int i = 0; i < p->n_scenery; i++) check_one(c, v, &p->scenery[i]);
}
