/* Glazing build-ups: layers, or a measured sound reduction index from a CSV file. */
#include "layout/venue.h"

#include <string.h>

enum { MAX_LAYER = 16, MAX_CSV_BYTES = 1 << 20 };

static const int nominal_hz[GRADIN_N_BAND] = {50,   63,   80,   100,  125,  160,  200,
                                              250,  315,  400,  500,  630,  800,  1000,
                                              1250, 1600, 2000, 2500, 3150, 4000, 5000};

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

/* ---- measured
 * ------------------------------------------------------------------------------------ */

static void complain_line(reader *r, const char *file, int line, const char *text) {
    gradin_error_add(r->error, GRADIN_BAD_INPUT,
                     &(gradin_place){.file = file, .line = line, .column = 1}, "%s", text);
    r->n_error++;
}

static int band_of(double hz) {
    for (int b = 0; b < GRADIN_N_BAND; b++)
        if (hz == nominal_hz[b]) return b;
    return -1;
}

/* One line "band_hz,r_db". */
static void take_line(reader *r, const char *file, int number, char *line, double *r_db) {
    double hz, value;
    char *comma = strchr(line, ',');
    if (comma) *comma = '\0';
    if (!comma || !gradin_parse_number(line, &hz) || !gradin_parse_number(comma + 1, &value)) {
        complain_line(r, file, number, "needs two numbers: band_hz,r_db");
        return;
    }
    int band = band_of(hz);
    if (band < 0)
        complain_line(r, file, number, "band is no nominal one-third octave from 50 to 5000 Hz");
    else if (!isnan(r_db[band]))
        complain_line(r, file, number, "band stands twice");
    else if (value < -5.0 || value > 120.0)
        complain_line(r, file, number, "r_db must lie between -5 and 120 dB");
    else
        r_db[band] = value;
}

static void take_csv(reader *r, const char *file, char *bytes, double *r_db) {
    int number = 0;
    for (char *line = bytes, *next; line; line = next) {
        next = strchr(line, '\n');
        if (next) *next++ = '\0';
        line[strcspn(line, "\r")] = '\0';
        number++;
        if (number == 1 && strcmp(line, "band_hz,r_db") != 0)
            complain_line(r, file, 1, "the first line must be band_hz,r_db");
        if (number > 1 && line[0] != '\0') take_line(r, file, number, line, r_db);
    }
}

static void read_measured(reader *r, const node *at, const char *venue_file,
                          gradin_buildup *buildup) {
    char *path = gradin_path_beside(r->arena, venue_file, at->text), *bytes;
    size_t size;
    if (!kept(r, path)) return;
    gradin_error reason = {0};
    gradin_status status = gradin_read_file(r->arena, path, MAX_CSV_BYTES, &bytes, &size, &reason);
    if (status != GRADIN_OK) {
        if (status == GRADIN_NO_MEMORY)
            kept(r, NULL);
        else
            complain(r, at, "%s %s", path, reason.diagnostic[0].text);
        return;
    }
    reader_digest(r, bytes, size);
    for (int b = 0; b < GRADIN_N_BAND; b++) buildup->measured_r_db[b] = NAN;
    int before = r->n_error;
    take_csv(r, path, bytes, buildup->measured_r_db);
    for (int b = 0; b < GRADIN_N_BAND && r->n_error == before; b++)
        if (isnan(buildup->measured_r_db[b]))
            complain(r, at, "%s lacks the band %d Hz; all 21 from 50 to 5000 Hz are needed", path,
                     nominal_hz[b]);
    buildup->is_measured = true;
}

/* --------------------------------------------------------------------------------------------------
 */

static void read_buildup(reader *r, const node *at, const char *file, gradin_buildup *buildup) {
    const node *layers = NULL, *measured = NULL;
    if (!READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &buildup->name, 0},
              {"layers", FIELD_LIST, false, 0, 0, &layers, 0},
              {"measured", FIELD_ANY, false, 0, 0, &measured, 0},
              {"report", FIELD_TEXT, false, 0, 0, &buildup->report, 0}))
        return;
    if (!layers == !measured || (measured && measured->kind != NODE_TEXT))
        complain(r, at, "needs either layers or the name of a file under measured");
    else if (layers)
        read_layers(r, layers, buildup);
    else
        read_measured(r, measured, file, buildup);
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
