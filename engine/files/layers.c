/* Layers of glazing and of shades. */
#include "files/venue_read.h"

static gradin_layer plate_layer(void) {
    return (gradin_layer){.kind = GRADIN_LAYER_PLATE,
                          .density_kgm3 = GRADIN_GLASS_DENSITY_KGM3,
                          .young_pa = GRADIN_GLASS_YOUNG_PA,
                          .poisson = GRADIN_GLASS_POISSON,
                          .loss = GRADIN_GLASS_LOSS};
}

static void read_plate(reader *r, const node *at, gradin_layer *layer) {
    double thickness_mm = 0.0, young_gpa = 0.0;
    *layer = plate_layer();
    READ(r, at, {"plate_mm", FIELD_NUMBER, true, 0.1, 500, &thickness_mm, 0},
         {"density_kgm3", FIELD_NUMBER, true, 10, 20000, &layer->density_kgm3, 0},
         {"young_gpa", FIELD_NUMBER, true, 1e-4, 1000, &young_gpa, 0},
         {"poisson", FIELD_NUMBER, true, 0, 0.49, &layer->poisson, 0},
         {"loss", FIELD_NUMBER, true, 1e-5, 2, &layer->loss, 0});
    layer->thickness_m = thickness_mm / 1000.0;
    layer->young_pa = young_gpa * 1e9;
}

static void read_glass(reader *r, const node *at, gradin_layer *layer) {
    double thickness_mm = 0.0;
    *layer = plate_layer();
    READ(r, at, {"glass_mm", FIELD_NUMBER, true, 0.5, 100, &thickness_mm, 0},
         {"loss", FIELD_NUMBER, false, 1e-5, 2, &layer->loss, 0});
    layer->thickness_m = thickness_mm / 1000.0;
}

static void read_terms(reader *r, const node *list, gradin_relaxation *made) {
    double sum = 0.0;
    if (list->n_child < 1 || list->n_child > GRADIN_MAX_RELAXATION) {
        complain(r, list, "has %d terms; 1 to %d are allowed", list->n_child,
                 GRADIN_MAX_RELAXATION);
        return;
    }
    for (int i = 0; i < list->n_child; i++) {
        double term[2] = {0.0, 1.0}; /* share of the modulus, time in s */
        if (!read_numbers(r, list->child[i], 2, 2, 0.0, 1e12, 1.0, term, NULL)) return;
        if (!(term[1] > 0.0)) complain(r, list->child[i], "has a time of 0; [share, time in s]");
        made->share[i] = term[0];
        made->time_s[i] = term[1];
        sum += term[0];
    }
    made->n_term = list->n_child;
    if (sum > 1.0 + 1e-9) complain(r, list, "has shares that add up to more than 1");
}

/* The shift must reach the coldest temperature that is allowed. */
static void read_shift(reader *r, const node *list, gradin_relaxation *made) {
    double shift[2];
    if (!read_numbers(r, list, 2, 2, 0.0, 1000.0, 1.0, shift, NULL)) return;
    made->wlf_c1 = shift[0];
    made->wlf_c2_k = shift[1];
    if (!(shift[1] > made->reference_c - GRADIN_GLAZING_LEAST_C))
        complain(r, list,
                 "does not reach down to -20 degC: [C1, C2 in K], C2 above reference_c + "
                 "20");
}

static const gradin_relaxation *read_relaxation(reader *r, const node *at) {
    gradin_relaxation *made = alloc(&r->c, 1, sizeof *made);
    const node *terms = NULL, *shift = NULL;
    double instant_mpa = 0.0;
    if (!made) return NULL;
    made->reference_c = GRADIN_GLAZING_TEMPERATURE_C;
    if (!READ(r, at, {"instant_mpa", FIELD_NUMBER, true, 1e-3, 1e5, &instant_mpa, 0},
              {"terms", FIELD_LIST, true, 0, 0, &terms, 0},
              {"wlf", FIELD_LIST, true, 0, 0, &shift, 0},
              {"reference_c", FIELD_NUMBER, false, -100, 200, &made->reference_c, 0}))
        return NULL;
    made->instant_pa = instant_mpa * 1e6;
    read_terms(r, terms, made);
    read_shift(r, shift, made);
    return made;
}

/* PVB by frequency and temperature, unless a constant modulus or own terms are given. */
static void read_interlayer(reader *r, const node *at, gradin_layer *layer) {
    *layer = (gradin_layer){.kind = GRADIN_LAYER_INTERLAYER,
                            .density_kgm3 = GRADIN_PVB_DENSITY_KGM3,
                            .loss = GRADIN_PVB_LOSS,
                            .relaxation = &gradin_pvb};
    const node *relaxation = NULL;
    double thickness_mm = 0.0, shear_mpa = 0.0;
    READ(r, at, {"interlayer_mm", FIELD_NUMBER, true, 0.05, 20, &thickness_mm, 0},
         {"shear_mpa", FIELD_NUMBER, false, 1e-4, 1e4, &shear_mpa, 0},
         {"loss", FIELD_NUMBER, false, 1e-4, 3, &layer->loss, 0},
         {"density_kgm3", FIELD_NUMBER, false, 10, 5000, &layer->density_kgm3, 0},
         {"relaxation", FIELD_MAP, false, 0, 0, &relaxation, 0});
    layer->thickness_m = thickness_mm / 1000.0;
    layer->shear_pa = shear_mpa * 1e6;
    bool is_constant = map_get(at, "shear_mpa") != NULL;
    if (is_constant) layer->relaxation = NULL;
    if (is_constant && relaxation)
        complain_key(r, at, "relaxation", "stands beside shear_mpa; one of them is enough");
    else if (relaxation)
        layer->relaxation = read_relaxation(r, relaxation);
    if (!is_constant && map_get(at, "loss"))
        complain_key(r, at, "loss", "belongs to a constant modulus; give it under shear_mpa");
}

static void read_gap(reader *r, const node *at, gradin_layer *layer) {
    static const char *const gases[] = {"air", "argon", NULL};
    double thickness_mm = 0.0;
    int gas = 0;
    READ(r, at, {"gap_mm", FIELD_NUMBER, true, 1, 2000, &thickness_mm, 0},
         {"gas", FIELD_CHOICE, false, 0, 0, &gas, gases});
    *layer =
        (gradin_layer){.kind = GRADIN_LAYER_GAP,
                       .thickness_m = thickness_mm / 1000.0,
                       .density_kgm3 = gas ? GRADIN_ARGON_DENSITY_KGM3 : GRADIN_AIR_DENSITY_KGM3,
                       .speed_ms = gas ? GRADIN_ARGON_SPEED_MS : GRADIN_AIR_SPEED_MS};
}

static void read_porous(reader *r, const node *at, gradin_layer *layer) {
    double thickness_mm = 0.0;
    *layer = (gradin_layer){.kind = GRADIN_LAYER_POROUS};
    READ(r, at, {"porous_mm", FIELD_NUMBER, true, 0.5, 2000, &thickness_mm, 0},
         {"resistivity_pasm2", FIELD_NUMBER, true, 100, 1e6, &layer->resistivity_pasm2, 0});
    layer->thickness_m = thickness_mm / 1000.0;
}

static void read_sheet(reader *r, const node *at, gradin_layer *layer) {
    double mass_kgm2 = 0.0;
    *layer = (gradin_layer){
        .kind = GRADIN_LAYER_SHEET, .thickness_m = 0.001, .resistance_pasm = INFINITY};
    READ(r, at, {"sheet_kgm2", FIELD_NUMBER, true, 0.01, 100, &mass_kgm2, 0},
         {"resistance_pasm", FIELD_NUMBER, false, 1, 1e7, &layer->resistance_pasm, 0});
    layer->density_kgm3 = mass_kgm2 / layer->thickness_m;
}

static void read_layer(reader *r, const node *at, gradin_layer *layer) {
    static const struct {
        const char *key;
        void (*read)(reader *, const node *, gradin_layer *);
    } form[] = {{"glass_mm", read_glass},           {"plate_mm", read_plate},
                {"interlayer_mm", read_interlayer}, {"gap_mm", read_gap},
                {"porous_mm", read_porous},         {"sheet_kgm2", read_sheet}};
    for (size_t i = 0; i < sizeof form / sizeof form[0]; i++) {
        if (!map_get(at, form[i].key)) continue;
        form[i].read(r, at, layer);
        return;
    }
    complain(r, at,
             "needs one of glass_mm, plate_mm, interlayer_mm, gap_mm, porous_mm, "
             "sheet_kgm2");
}

void read_layers(reader *r, const node *list, int most, const gradin_layer **layer, int *n_layer) {
    if (list->n_child < 1 || list->n_child > most) {
        complain(r, list, "has %d layers; 1 to %d are allowed", list->n_child, most);
        return;
    }
    gradin_layer *made = alloc(&r->c, list->n_child, sizeof *made);
    if (!made) return;
    for (int i = 0; i < list->n_child; i++) read_layer(r, list->child[i], &made[i]);
    *layer = made;
    *n_layer = list->n_child;
}
