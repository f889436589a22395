/* Scenery: each piece by its time, whatever pace the file had. */
#include "files/write/state.h"

static const char **names_of(complaints *c, const gradin_venue *v, const int *machine, int n) {
    const char **name = n > 0 ? alloc(c, n, sizeof *name) : NULL;
    for (int i = 0; name && i < n; i++) name[i] = v->machine[machine[i]].name;
    return name;
}

stated_scenery *state_scenery(complaints *c, const gradin_venue *v, const gradin_layout *p) {
    stated_scenery *s = state_list(c, &scenery_table, p->n_scenery);
    for (int i = 0; s && i < p->n_scenery; i++) {
        const gradin_scenery *from = &p->scenery[i];
        s[i] = (stated_scenery){.name = from->name,
                                .by = from->by,
                                .pieces = from->pieces,
                                .crew = from->crew,
                                .per_trip = from->per_trip,
                                .piece_kg = from->piece_kg > 0.0 ? from->piece_kg : NAN,
                                .in_min = from->in_s / 60.0,
                                .out_min = from->out_s / 60.0,
                                .in_kg_h = NAN,
                                .out_kg_h = NAN,
                                .height_m = from->height_m,
                                .level_m = from->level_m,
                                .area = from->area,
                                .way = from->way,
                                .rides = from->rides,
                                .after = names_of(c, v, from->after, from->n_after),
                                .before = names_of(c, v, from->before, from->n_before),
                                .n_after = from->n_after,
                                .n_before = from->n_before};
    }
    return s;
}
