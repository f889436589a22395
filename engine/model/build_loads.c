/* What carries people and things in this layout, each with what the venue says it may bear. */
#include "model/build.h"

static bool is_limit(gradin_load_limit limit) {
    return !isnan(limit.spread_kn_m2) || !isnan(limit.total_kn);
}

/* A limit of 0 is none. */
static double stated(double limit) {
    return limit > 0.0 ? limit : NAN;
}

static gradin_load_limit stated_limit(gradin_load_limit limit) {
    return (gradin_load_limit){stated(limit.spread_kn_m2), stated(limit.total_kn)};
}

static gradin_polygon section_polygon(builder *b, const gradin_lift_section *s) {
    gradin_vec2 *corner_m = alloc(b->c, 4, sizeof *corner_m);
    if (!corner_m) return (gradin_polygon){NULL, 0};
    gradin_section_corners(s, corner_m);
    return (gradin_polygon){corner_m, 4};
}

static gradin_carrier section_carrier(builder *b, int index) {
    const gradin_lift_section *s = &b->v->section[index];
    const gradin_setting *set = section_set(b, index);
    double top_m = set->position + (set->n_step - 1) * set->riser_m;
    return (gradin_carrier){.name = s->name,
                            .kind = GRADIN_CARRIER_SECTION,
                            .index = index,
                            .polygon = section_polygon(b, s),
                            .bottom_m = set->position,
                            .top_m = top_m,
                            .limit = stated_limit(b->v->grid[s->grid].load_limit)};
}

static int block_named(const builder *b, const char *name) {
    for (int i = 0; i < b->n_block_name; i++)
        if (b->block_name[i] == name) return i;
    return -1;
}

static gradin_carrier deck_carrier(builder *b, const deck *d) {
    const gradin_tower *t = &b->v->tower[d->tower];
    const gradin_tower_level *level = &t->level[d->level];
    gradin_vec2 centre_m = point_along_m(d->front_m, d->facing_deg, -t->depth_m / 2.0);
    return (gradin_carrier){
        .name = d->name,
        .kind = GRADIN_CARRIER_DECK,
        .index = block_named(b, d->name),
        .polygon = make_rectangle(b->c, centre_m, d->facing_deg, t->depth_m, t->width_m),
        .bottom_m = d->deck_m,
        .top_m = d->deck_m + (level->n_row - 1) * level->riser_m,
        .limit = stated_limit(level->load_limit)};
}

static gradin_carrier panel_carrier(const builder *b, int index) {
    return (gradin_carrier){.name = b->v->panel[index].name,
                            .kind = GRADIN_CARRIER_PANEL,
                            .index = -1,
                            .polygon = b->v->panel[index].polygon,
                            .limit = stated_limit(b->v->panel[index].load_limit)};
}

static bool build_carriers(builder *b, gradin_loads *loads, int *first_deck) {
    int n = b->v->n_section + b->n_deck + b->v->n_panel + 1, k = 0;
    gradin_carrier *carrier = alloc(b->c, n, sizeof *carrier);
    if (!carrier) return false;
    for (int i = 0; i < b->v->n_section; i++) carrier[k++] = section_carrier(b, i);
    *first_deck = k;
    for (int i = 0; i < b->n_deck; i++) carrier[k++] = deck_carrier(b, &b->deck[i]);
    for (int i = 0; i < b->v->n_panel; i++)
        if (!is_open(b, i)) carrier[k++] = panel_carrier(b, i);
    carrier[k++] = (gradin_carrier){.name = "fixed floor",
                                    .kind = GRADIN_CARRIER_FLOOR,
                                    .index = -1,
                                    .limit = stated_limit(b->v->floor_load)};
    for (int i = 0; i < k; i++) loads->is_stated |= is_limit(carrier[i].limit);
    loads->carrier = carrier;
    loads->n_carrier = k;
    return b->c->failed == GRADIN_OK;
}

static bool build_payloads(builder *b, gradin_loads *loads, int first_deck) {
    gradin_payload *made = alloc(b->c, b->v->n_tower, sizeof *made);
    int *index = alloc(b->c, b->n_deck, sizeof *index);
    if (!made || !index) return false;
    for (int i = 0; i < b->v->n_tower; i++) {
        const gradin_tower *t = &b->v->tower[i];
        made[i] = (gradin_payload){.name = t->name,
                                   .carrier = index,
                                   .most_people = t->most_people,
                                   .most_kg = stated(t->most_kg)};
        for (int k = 0; k < b->n_deck; k++)
            if (b->deck[k].tower == i) index[made[i].n_carrier++] = first_deck + k;
        index += made[i].n_carrier;
        loads->is_stated |= t->most_people > 0 || t->most_kg > 0.0;
    }
    loads->payload = made;
    loads->n_payload = b->v->n_tower;
    return true;
}

static double deck_seat_kg(const builder *b, const char *name) {
    for (int i = 0; i < b->n_deck; i++)
        if (b->deck[i].name == name)
            return b->v->tower[b->deck[i].tower].level[b->deck[i].level].seat_kg;
    return 0.0;
}

static bool build_block_loads(builder *b, gradin_loads *loads) {
    gradin_block_load *made = alloc(b->c, b->n_block_name, sizeof *made);
    if (!made) return false;
    for (int i = 0; i < b->n_block_name; i++) {
        const gradin_block *from = i < b->p->n_block ? &b->p->block[i] : NULL;
        if (!from) {
            made[i].seat_kg = deck_seat_kg(b, b->block_name[i]);
            continue;
        }
        made[i].platform_kn_m2 = from->platform_kn_m2;
        if (b->v->crew.n_seating > 0) made[i].seat_kg = b->v->crew.seating[from->seating].seat_kg;
    }
    loads->block = made;
    return true;
}

bool build_loads(builder *b, gradin_loads *loads) {
    int first_deck = 0;
    loads->occupancy = b->v->occupancy;
    return build_carriers(b, loads, &first_deck) && build_payloads(b, loads, first_deck) &&
           build_block_loads(b, loads);
}
