/* Layers of glazing and of shades. */
#include "files/venue/read.h"

static void fill_plate(const stated_layer *s, gradin_layer *layer) {
    bool is_glass = s->glass_m > 0.0;
    *layer = (gradin_layer){.kind = GRADIN_LAYER_PLATE,
                            .thickness_m = is_glass ? s->glass_m : s->plate_m,
                            .density_kgm3 = is_glass ? GRADIN_GLASS_DENSITY_KGM3 : s->density_kgm3,
                            .young_pa = is_glass ? GRADIN_GLASS_YOUNG_PA : s->young_pa,
                            .poisson = is_glass ? GRADIN_GLASS_POISSON : s->poisson,
                            .loss = s->loss};
}

static void fill_terms(reader *r, const stated_relaxation *s, gradin_relaxation *made) {
    const node *list = map_get(s->at, "terms");
    double sum = 0.0;
    for (int i = 0; i < s->n_term; i++) {
        made->share[i] = s->term[i].x;
        made->time_s[i] = s->term[i].y;
        if (!(made->time_s[i] > 0.0))
            complain(r, list->child[i], "has a time of 0; [share, time in s]");
        sum += made->share[i];
    }
    made->n_term = s->n_term;
    if (sum > 1.0 + 1e-9) complain(r, list, "has shares that add up to more than 1");
}

static const gradin_relaxation *fill_relaxation(reader *r, const stated_relaxation *s) {
    gradin_relaxation *made = alloc(&r->c, 1, sizeof *made);
    if (!made || !s->at) return NULL;
    made->instant_pa = s->instant_pa;
    made->reference_c = s->reference_c;
    made->wlf_c1 = s->wlf[0];
    made->wlf_c2_k = s->wlf[1];
    fill_terms(r, s, made);
    /* The shift must reach the coldest temperature that is allowed. */
    if (!(made->wlf_c2_k > made->reference_c - GRADIN_GLAZING_LEAST_C))
        complain(r, map_get(s->at, "wlf"),
                 "does not reach down to -20 degC: [C1, C2 in K], C2 above reference_c + 20");
    return made;
}

/* PVB by frequency and temperature, unless a constant modulus or own terms are given. */
static void fill_interlayer(reader *r, const stated_layer *s, gradin_layer *layer) {
    bool is_constant = !isnan(s->shear_pa);
    *layer = (gradin_layer){.kind = GRADIN_LAYER_INTERLAYER,
                            .thickness_m = s->interlayer_m,
                            .density_kgm3 = s->density_kgm3,
                            .loss = s->loss,
                            .shear_pa = is_constant ? s->shear_pa : 0.0,
                            .relaxation = is_constant ? NULL : &gradin_pvb};
    if (s->relaxation) layer->relaxation = fill_relaxation(r, s->relaxation);
}

static void fill_gap(const stated_layer *s, gradin_layer *layer) {
    *layer =
        (gradin_layer){.kind = GRADIN_LAYER_GAP,
                       .thickness_m = s->gap_m,
                       .density_kgm3 = s->gas ? GRADIN_ARGON_DENSITY_KGM3 : GRADIN_AIR_DENSITY_KGM3,
                       .speed_ms = s->gas ? GRADIN_ARGON_SPEED_MS : GRADIN_AIR_SPEED_MS};
}

static void fill_layer(reader *r, const stated_layer *s, gradin_layer *layer) {
    if (s->glass_m > 0.0 || s->plate_m > 0.0)
        fill_plate(s, layer);
    else if (s->interlayer_m > 0.0)
        fill_interlayer(r, s, layer);
    else if (s->gap_m > 0.0)
        fill_gap(s, layer);
    else if (s->porous_m > 0.0)
        *layer = (gradin_layer){.kind = GRADIN_LAYER_POROUS,
                                .thickness_m = s->porous_m,
                                .resistivity_pasm2 = s->resistivity_pasm2};
    else
        *layer = (gradin_layer){.kind = GRADIN_LAYER_SHEET,
                                .thickness_m = 0.001,
                                .density_kgm3 = s->sheet_kgm3,
                                .resistance_pasm = s->resistance_pasm};
}

void fill_layers(reader *r, const stated_layer *s, int n, const gradin_layer **layer,
                 int *n_layer) {
    gradin_layer *made = n > 0 ? alloc(&r->c, n, sizeof *made) : NULL;
    if (!made) return;
    for (int i = 0; i < n; i++)
        if (s[i].at) fill_layer(r, &s[i], &made[i]);
    *layer = made;
    *n_layer = n;
}
