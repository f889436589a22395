/* Glazing build-ups: layers, a measured sound reduction index from a CSV file, or both. */
#include "layout/venue.h"

#include <string.h>

enum { MAX_LAYER = 16 };

/* ---- layers
 * -------------------------------------------------------------------------------------- */

static gradin_layer plate_layer(void) {
    return (gradin_layer){.kind = GRADIN_LAYER_PLATE,
                          .density_kgm3 = GRADIN_GLASS_DENSITY_KGM3,
                          .young_pa = GRADIN_GLASS_YOUNG_PA,
                          .poisson = GRADIN_GLASS_POISSON,
                          .loss = GRADIN_GLASS_LOSS};
}

static bool read_plate(reader *r, const node *at, gradin_layer *layer) {
    double thickness_mm = 0.0, young_gpa = 0.0;
    bool good = READ(r, at, {"plate_mm", FIELD_NUMBER, true, 0.1, 500, &thickness_mm, 0},
                     {"density_kgm3", FIELD_NUMBER, true, 10, 20000, &layer->density_kgm3, 0},
                     {"young_gpa", FIELD_NUMBER, true, 1e-4, 1000, &young_gpa, 0},
                     {"poisson", FIELD_NUMBER, true, 0, 0.49, &layer->poisson, 0},
                     {"loss", FIELD_NUMBER, true, 1e-5, 2, &layer->loss, 0});
    layer->thickness_m = thickness_mm / 1000.0;
    layer->young_pa = young_gpa * 1e9;
    return good;
}

static bool read_glass(reader *r, const node *at, gradin_layer *layer) {
    double thickness_mm = 0.0;
    bool good = READ(r, at, {"glass_mm", FIELD_NUMBER, true, 0.5, 100, &thickness_mm, 0},
                     {"loss", FIELD_NUMBER, false, 1e-5, 2, &layer->loss, 0});
    layer->thickness_m = thickness_mm / 1000.0;
    return good;
}

static bool read_interlayer(reader *r, const node *at, gradin_layer *layer) {
    *layer = (gradin_layer){.kind = GRADIN_LAYER_INTERLAYER,
                            .density_kgm3 = GRADIN_PVB_DENSITY_KGM3,
                            .shear_pa = GRADIN_PVB_SHEAR_PA,
                            .loss = GRADIN_PVB_LOSS};
    double thickness_mm = 0.0, shear_mpa = GRADIN_PVB_SHEAR_PA / 1e6;
    bool good = READ(r, at, {"interlayer_mm", FIELD_NUMBER, true, 0.05, 20, &thickness_mm, 0},
                     {"shear_mpa", FIELD_NUMBER, false, 1e-4, 1e4, &shear_mpa, 0},
                     {"loss", FIELD_NUMBER, false, 1e-4, 3, &layer->loss, 0},
                     {"density_kgm3", FIELD_NUMBER, false, 10, 5000, &layer->density_kgm3, 0});
    layer->thickness_m = thickness_mm / 1000.0;
    layer->shear_pa = shear_mpa * 1e6;
    return good;
}

static bool read_gap(reader *r, const node *at, gradin_layer *layer) {
    static const char *const gases[] = {"air", "argon", NULL};
    double thickness_mm = 0.0;
    int gas = 0;
    bool good = READ(r, at, {"gap_mm", FIELD_NUMBER, true, 1, 2000, &thickness_mm, 0},
                     {"gas", FIELD_CHOICE, false, 0, 0, &gas, gases});
    *layer =
        (gradin_layer){.kind = GRADIN_LAYER_GAP,
                       .thickness_m = thickness_mm / 1000.0,
                       .density_kgm3 = gas ? GRADIN_ARGON_DENSITY_KGM3 : GRADIN_AIR_DENSITY_KGM3,
                       .speed_ms = gas ? GRADIN_ARGON_SPEED_MS : GRADIN_AIR_SPEED_MS};
    return good;
}

static bool read_layer(reader *r, const node *at, gradin_layer *layer) {
    *layer = plate_layer();
    if (map_get(at, "glass_mm")) return read_glass(r, at, layer);
    if (map_get(at, "plate_mm")) return read_plate(r, at, layer);
    if (map_get(at, "interlayer_mm")) return read_interlayer(r, at, layer);
    if (map_get(at, "gap_mm")) return read_gap(r, at, layer);
    complain(r, at, "needs one of glass_mm, plate_mm, interlayer_mm, gap_mm");
    return false;
}

static bool is_order_possible(const gradin_layer *layer, int n) {
    for (int i = 0; i < n; i++) {
        bool is_plate = layer[i].kind == GRADIN_LAYER_PLATE;
        if (!is_plate && (i == 0 || i == n - 1)) return false;
        if (is_plate == (i % 2 == 1)) return false;
    }
    return true;
}

static void read_layers(reader *r, const node *list, gradin_buildup *buildup) {
    if (list->n_child < 1 || list->n_child > MAX_LAYER) {
        complain(r, list, "has %d layers; 1 to %d are allowed", list->n_child, MAX_LAYER);
        return;
    }
    gradin_layer *layer = take(r, list->n_child, sizeof *layer);
    if (!layer) return;
    int before = r->n_error;
    for (int i = 0; i < list->n_child; i++) read_layer(r, list->child[i], &layer[i]);
    if (r->n_error == before && !is_order_possible(layer, list->n_child))
        complain(r, list,
                 "must begin and end with a plate and have one gap or interlayer between "
                 "two plates");
    buildup->layer = layer;
    buildup->n_layer = list->n_child;
}

/* --------------------------------------------------------------------------------------------------
 */

static void read_buildup(reader *r, const node *at, const char *file, gradin_buildup *buildup) {
    const node *layers = NULL, *measured = NULL;
    buildup->sample_m2 = NAN;
    if (!READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &buildup->name, 0},
              {"layers", FIELD_LIST, false, 0, 0, &layers, 0},
              {"measured", FIELD_ANY, false, 0, 0, &measured, 0},
              {"report", FIELD_TEXT, false, 0, 0, &buildup->report, 0},
              {"sample_m2", FIELD_NUMBER, false, 0.01, 100, &buildup->sample_m2, 0}))
        return;
    if ((!layers && !measured) || (measured && measured->kind != NODE_TEXT)) {
        complain(r, at, "needs layers, the name of a file under measured, or both");
        return;
    }
    if (!measured && !isnan(buildup->sample_m2))
        complain_key(r, at, "sample_m2", "belongs to a measurement; give the file under measured");
    if (layers) read_layers(r, layers, buildup);
    if (measured) read_measured(r, measured, file, buildup);
}

bool read_buildups(reader *r, const node *list, const char *file, const gradin_buildup **buildup,
                   int *n_buildup) {
    int before = r->n_error;
    gradin_buildup *made = take(r, list->n_child, sizeof *made);
    if (!made) return false;
    for (int i = 0; i < list->n_child; i++) read_buildup(r, list->child[i], file, &made[i]);
    if (r->n_error == before) check_names(r, list, made, list->n_child, sizeof *made);
    *buildup = made;
    *n_buildup = list->n_child;
    return r->n_error == before;
}

/* ---- build-ups alone
 * ------------------------------------------------------------------------------ */

static bool pick(reader *r, const venue *v, const char *const *name, int n_name,
                 gradin_buildups *found) {
    gradin_buildup *made = take(r, n_name, sizeof *made);
    if (!made) return false;
    for (int i = 0; i < n_name; i++) {
        const node at = {.kind = NODE_TEXT, .file = v->file, .path = "", .text = name[i]};
        int k = look_up(r, &at, "build-up", v->buildup, v->n_buildup, sizeof *v->buildup);
        if (k >= 0 && index_of(made, i, sizeof *made, name[i]) >= 0)
            complain(r, &at, "build-up '%s' is named twice", name[i]);
        if (k >= 0) made[i] = v->buildup[k];
    }
    found->buildup = made;
    found->n_buildup = n_name;
    return r->n_error == 0;
}

gradin_status gradin_buildups_read(gradin_arena *arena, const char *venue_path,
                                   const char *const *name, int n_name, gradin_buildups *found,
                                   gradin_error *error) {
    if (!arena || !venue_path || !found) return GRADIN_BAD_USE;
    venue v = {0};
    *found = (gradin_buildups){0};
    reader r = {.arena = arena, .error = error, .unit_m = 1.0, .digest = found->digest};
    const char *file = kept(&r, gradin_arena_copy_text(arena, venue_path));
    if (!file || !venue_read(&r, file, &v)) return reader_status(&r);
    found->source = v.name;
    found->buildup = v.buildup;
    found->n_buildup = v.n_buildup;
    if (n_name > 0 && !pick(&r, &v, name, n_name, found)) return reader_status(&r);
    found->note = r.note;
    found->n_note = r.n_note;
    return reader_status(&r);
}

gradin_status gradin_curve_read(gradin_arena *arena, const char *csv_path, gradin_buildups *found,
                                gradin_error *error) {
    if (!arena || !csv_path || !found) return GRADIN_BAD_USE;
    *found = (gradin_buildups){.n_buildup = 1};
    reader r = {.arena = arena, .error = error, .unit_m = 1.0, .digest = found->digest};
    gradin_buildup *made = take(&r, 1, sizeof *made);
    r.file = kept(&r, gradin_arena_copy_text(arena, csv_path));
    if (!made || !r.file || !read_band_values(&r, NULL, r.file, made)) return reader_status(&r);
    const char *slash = strrchr(r.file, '/');
    made->name = found->source = slash ? slash + 1 : r.file;
    made->sample_m2 = NAN;
    found->buildup = made;
    return reader_status(&r);
}
