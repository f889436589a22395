/* The facade: layers, build-ups, shades, entries. */
#include "files/write/state.h"

#include <string.h>

static bool is_float_glass(const gradin_layer *layer) {
    return layer->density_kgm3 == GRADIN_GLASS_DENSITY_KGM3 &&
           layer->young_pa == GRADIN_GLASS_YOUNG_PA && layer->poisson == GRADIN_GLASS_POISSON &&
           layer->thickness_m >= 0.0005 && layer->thickness_m <= 0.1;
}

static void state_plate(const gradin_layer *layer, stated_layer *s) {
    *(is_float_glass(layer) ? &s->glass_m : &s->plate_m) = layer->thickness_m;
    s->density_kgm3 = layer->density_kgm3;
    s->young_pa = layer->young_pa;
    s->poisson = layer->poisson;
    s->loss = layer->loss;
}

static stated_relaxation *state_relaxation(complaints *c, const gradin_relaxation *relaxation) {
    stated_relaxation *s = alloc(c, 1, sizeof *s);
    gradin_vec2 *term = alloc(c, relaxation->n_term, sizeof *term);
    if (!s || !term) return NULL;
    for (int i = 0; i < relaxation->n_term; i++)
        term[i] = (gradin_vec2){relaxation->share[i], relaxation->time_s[i]};
    *s = (stated_relaxation){.instant_pa = relaxation->instant_pa,
                             .reference_c = relaxation->reference_c,
                             .wlf = {relaxation->wlf_c1, relaxation->wlf_c2_k},
                             .term = term,
                             .n_term = relaxation->n_term};
    return s;
}

static void state_interlayer(complaints *c, const gradin_layer *layer, stated_layer *s) {
    s->interlayer_m = layer->thickness_m;
    s->density_kgm3 = layer->density_kgm3;
    s->shear_pa = layer->relaxation ? NAN : layer->shear_pa;
    s->loss = layer->relaxation ? GRADIN_PVB_LOSS : layer->loss;
    if (layer->relaxation && layer->relaxation != &gradin_pvb)
        s->relaxation = state_relaxation(c, layer->relaxation);
}

static void state_layer(complaints *c, const gradin_layer *layer, stated_layer *s) {
    switch (layer->kind) {
    case GRADIN_LAYER_PLATE:
        state_plate(layer, s);
        return;
    case GRADIN_LAYER_INTERLAYER:
        state_interlayer(c, layer, s);
        return;
    case GRADIN_LAYER_GAP:
        s->gap_m = layer->thickness_m;
        s->gas = layer->density_kgm3 == GRADIN_ARGON_DENSITY_KGM3;
        return;
    case GRADIN_LAYER_POROUS:
        s->porous_m = layer->thickness_m;
        s->resistivity_pasm2 = layer->resistivity_pasm2;
        return;
    case GRADIN_LAYER_SHEET:
        s->sheet_kgm3 = layer->density_kgm3 * (layer->thickness_m / 0.001);
        s->resistance_pasm = layer->resistance_pasm;
        return;
    }
}

stated_layer *state_layers(complaints *c, const gradin_layer *layer, int n) {
    stated_layer *s = n > 0 ? alloc(c, n, sizeof *s) : NULL;
    for (int i = 0; s && i < n; i++) state_layer(c, &layer[i], &s[i]);
    return s;
}

static void state_buildups(complaints *c, const gradin_venue *v, stated_facade *s) {
    s->n_buildup = v->n_buildup;
    s->buildup = v->n_buildup > 0 ? alloc(c, v->n_buildup, sizeof *s->buildup) : NULL;
    for (int i = 0; s->buildup && i < v->n_buildup; i++) {
        const gradin_buildup *b = &v->buildup[i];
        s->buildup[i] = (stated_buildup){
            .name = b->name,
            .measured = b->is_measured ? b->measured_file : NULL,
            .generic = b->generic,
            .report = b->generic ? NULL : b->report,
            .layer = state_layers(c, b->layer, b->n_layer),
            .n_layer = b->n_layer,
            .temperature_c = b->temperature_c == s->temperature_c ? NAN : b->temperature_c,
            .sample_m2 = b->sample_m2,
            .frames = (int)b->frames,
            .reveals = b->has_lined_reveals ? 1 : 0,
            .is_flush = b->is_flush};
        if (b->is_measured && !b->measured_file && !b->generic)
            misuse(c, "build-up %s has no measured_file: a measurement stands in a file of its own",
                   b->name);
    }
}

static void state_shades(complaints *c, const gradin_venue *v, stated_facade *s) {
    s->n_shade = v->n_shade;
    s->shade = v->n_shade > 0 ? alloc(c, v->n_shade, sizeof *s->shade) : NULL;
    for (int i = 0; s->shade && i < v->n_shade; i++) {
        const gradin_shade *from = &v->shade[i];
        stated_shade *to = &s->shade[i];
        *to = (stated_shade){.name = from->name,
                             .layer = state_layers(c, from->layer, from->n_layer),
                             .n_layer = from->n_layer,
                             .rate_per_s = from->drive.speed_per_s,
                             .drive = from->drive};
        memcpy(to->absorption, from->absorption, sizeof to->absorption);
        memcpy(to->insertion_loss_db, from->insertion_loss_db, sizeof to->insertion_loss_db);
        for (int b = 0; from->is_by_layers && b < GRADIN_N_BAND; b++)
            to->insertion_loss_db[b] = NAN;
    }
}

/* By band only where the bands differ. */
static void state_joint(const gradin_facade_entry *e, stated_entry *s) {
    bool is_even = true;
    for (int b = 0; b < GRADIN_N_BAND; b++) is_even = is_even && e->joint_shape_db[b] == 0.0;
    for (int b = 0; b < GRADIN_N_BAND; b++)
        s->joint_band_db[b] = is_even ? NAN : e->joint_r_db + e->joint_shape_db[b];
}

static void state_entry(const gradin_facade_entry *e, const gradin_venue *v, stated_entry *s) {
    *s = (stated_entry){.name = e->name,
                        .buildup = e->buildup >= 0 ? v->buildup[e->buildup].name : NULL,
                        .shade = e->shade >= 0 ? v->shade[e->shade].name : NULL,
                        .start_m = e->start_m,
                        .bearing_deg = e->bearing_deg,
                        .width_m = e->width_m,
                        .height_m = e->height_m,
                        .sill_m = e->sill_m,
                        .joint_r_db = e->joint_r_db,
                        .rate_per_s = e->drive.speed_per_s,
                        .count = e->count,
                        .exit = (int)e->exit,
                        .drive = e->drive};
    memcpy(s->dn_e_db, e->dn_e_db, sizeof s->dn_e_db);
    state_joint(e, s);
    memcpy(s->absorption, e->absorption, sizeof s->absorption);
    s->tilt_deg = e->tilt_deg;
    s->polygon = e->polygon;
    s->from_m = e->is_rest ? (gradin_vec2){NAN, NAN} : e->line_m[0];
    s->to_m = e->is_rest ? (gradin_vec2){NAN, NAN} : e->line_m[1];
}

static stated_entry *state_entries(complaints *c, const gradin_venue *v, gradin_element_kind kind,
                                   int *n) {
    stated_entry *s = v->n_facade > 0 ? alloc(c, v->n_facade, sizeof *s) : NULL;
    *n = 0;
    for (int i = 0; s && i < v->n_facade; i++)
        if (v->facade[i].kind == kind) state_entry(&v->facade[i], v, &s[(*n)++]);
    return s;
}

stated_facade *state_facade(complaints *c, const gradin_venue *v) {
    bool is_empty = v->n_buildup == 0 && v->n_shade == 0 && v->n_facade == 0;
    stated_facade *s = is_empty ? NULL : alloc(c, 1, sizeof *s);
    if (!s) return NULL;
    s->temperature_c = GRADIN_GLAZING_TEMPERATURE_C;
    s->has_finite_panes = v->has_finite_panes;
    s->ground = (int)v->ground;
    s->site = (gradin_site *)(uintptr_t)v->site;
    state_buildups(c, v, s);
    state_shades(c, v, s);
    s->glazing = state_entries(c, v, GRADIN_ELEMENT_PANE, &s->n_glazing);
    s->door = state_entries(c, v, GRADIN_ELEMENT_DOOR, &s->n_door);
    s->vent = state_entries(c, v, GRADIN_ELEMENT_VENT, &s->n_vent);
    s->wall = state_entries(c, v, GRADIN_ELEMENT_WALL, &s->n_wall);
    s->roof = state_entries(c, v, GRADIN_ELEMENT_ROOF, &s->n_roof);
    return s;
}
