/* Scenery of a layout: by which door or lift it comes, how long a piece takes, which machines it
 * waits for. */
#include "files/layout/read.h"

#include <string.h>

static int find_door(const gradin_venue *v, const char *name) {
    for (int i = 0; i < v->n_facade; i++)
        if (v->facade[i].kind == GRADIN_ELEMENT_DOOR && strcmp(v->facade[i].name, name) == 0)
            return i;
    return -1;
}

static void fill_by(reader *r, const stated_scenery *s, const gradin_venue *v, gradin_scenery *to) {
    const gradin_store *store = v->crew.store;
    to->by = s->by;
    to->door = s->by ? find_door(v, s->by) : -1;
    if (!s->by || to->door >= 0 || (store && strcmp(store->name, s->by) == 0)) return;
    const char **names = alloc(&r->c, v->n_facade + 1, sizeof *names);
    int n = 0;
    for (int i = 0; names && i < v->n_facade; i++)
        if (v->facade[i].kind == GRADIN_ELEMENT_DOOR) names[n++] = v->facade[i].name;
    if (names && store) names[n++] = store->name;
    if (names) complain_unknown(r, map_get(s->at, "by"), "door or store lift", s->by, names, n);
}

static double piece_s(const stated_scenery *s, double minutes, double kg_person_hour) {
    return isnan(minutes) ? 3600.0 * s->piece_kg / (kg_person_hour * s->crew) : 60.0 * minutes;
}

static void fill_paces(const stated_scenery *s, gradin_scenery *to) {
    bool is_out_stated = !isnan(s->out_min) || !isnan(s->out_kg_h);
    to->in_s = piece_s(s, s->in_min, s->in_kg_h);
    to->out_s = is_out_stated ? piece_s(s, s->out_min, s->out_kg_h) : to->in_s;
}

/* All that a list of names stands for, one after another. */
static const int *fill_machines_named(reader *r, const stated_scenery *s, const char *key,
                                      const gradin_venue *v, int *n) {
    const node *list = map_get(s->at, key);
    *n = 0;
    if (!list || list->kind != NODE_LIST) return NULL;
    int *found = alloc(&r->c, list->n_child * v->n_machine + 1, sizeof *found);
    for (int i = 0; found && i < list->n_child; i++) {
        int n_own = 0, *own = find_machines(r, list->child[i], v, &n_own);
        for (int k = 0; own && k < n_own; k++) found[(*n)++] = own[k];
    }
    return found;
}

static void fill_one(reader *r, const stated_scenery *s, const gradin_venue *v,
                     gradin_scenery *to) {
    *to = (gradin_scenery){.name = s->name,
                           .at = place_of(s->at),
                           .pieces = s->pieces,
                           .piece_kg = isnan(s->piece_kg) ? 0.0 : s->piece_kg,
                           .crew = s->crew,
                           .per_trip = s->per_trip,
                           .area = s->area,
                           .height_m = s->height_m,
                           .way = s->way,
                           .level_m = s->level_m,
                           .rides = s->rides};
    fill_paces(s, to);
    fill_by(r, s, v, to);
    to->after = fill_machines_named(r, s, "after", v, &to->n_after);
    to->before = fill_machines_named(r, s, "before", v, &to->n_before);
}

void fill_scenery(reader *r, const stated_layout *s, const gradin_venue *v, gradin_layout *p) {
    gradin_scenery *made = s->n_scenery > 0 ? alloc(&r->c, s->n_scenery, sizeof *made) : NULL;
    if (!made) return;
    for (int i = 0; i < s->n_scenery; i++) /* what could not be read was refused */
        if (s->scenery[i].at) fill_one(r, &s->scenery[i], v, &made[i]);
    p->scenery = made;
    p->n_scenery = s->n_scenery;
}
