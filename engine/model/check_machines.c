/* Machines against each other, against fixed solids and against the room, as they stand. The way
 * they take to get there is not checked here. */
#include "base/lengths.h"
#include "model/build.h"

static const double TOUCH_M = 0.02;

/* The setting of the lift that is met, else the tower's own; NULL when neither is stated. */
static const gradin_place *place_of(const builder *b, const obstacle *part, const obstacle *o) {
    int section = o->machine - b->v->n_tower;
    bool is_section = section >= 0 && section < b->v->n_section;
    const gradin_machine_state *met =
        is_section ? gradin_layout_state(b->v, b->p, GRADIN_MACHINE_SECTION, section) : NULL;
    return met && met->at
               ? met->at
               : gradin_layout_state(b->v, b->p, GRADIN_MACHINE_HOIST, part->machine)->at;
}

static bool is_tower(const builder *b, const obstacle *o) {
    return o->machine >= 0 && o->machine < b->v->n_tower;
}

static bool meets(const obstacle *a, const obstacle *o) {
    return a->machine != o->machine && a->bottom_m < o->top_m - TOUCH_M &&
           o->bottom_m < a->top_m - TOUCH_M &&
           gradin_polygon_overlap(a->polygon, o->polygon, TOUCH_M);
}

/* The first thing that a tower part runs into. */
static void check_tower_part(builder *b, const obstacle *part, bool *is_told) {
    for (int k = 0; k < b->n_obstacle && !*is_told; k++) {
        const obstacle *o = &b->obstacle[k];
        if (!meets(part, o)) continue;
        char low[LENGTH_CHARS], high[LENGTH_CHARS];
        length_unit unit = length_unit_of(b->p->units);
        *is_told = true;
        refuse(b->c, place_of(b, part, o), "machines clash: %s meets %s between %s and %s",
               part->name, o->name, length_text(low, fmax(part->bottom_m, o->bottom_m), unit),
               length_text(high, fmin(part->top_m, o->top_m), unit));
    }
    for (int k = 0; k < part->polygon.n_corner && !*is_told; k++) {
        if (gradin_polygon_contains(b->v->footprint, part->polygon.corner_m[k])) continue;
        *is_told = true;
        refuse(b->c, place_of(b, part, part),
               "machines clash: %s stands outside the room's footprint", part->name);
    }
    if (!*is_told && part->top_m > b->v->ceiling_m) {
        *is_told = true;
        refuse(b->c, place_of(b, part, part), "machines clash: %s reaches above the ceiling",
               part->name);
    }
}

void check_machines(builder *b) {
    bool *is_told = alloc(b->c, b->v->n_tower, sizeof *is_told);
    if (!is_told) return;
    for (int i = 0; i < b->n_obstacle; i++)
        if (is_tower(b, &b->obstacle[i]))
            check_tower_part(b, &b->obstacle[i], &is_told[b->obstacle[i].machine]);
}
