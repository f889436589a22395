#include "glass.h"

#include <criterion/criterion.h>
#include <string.h>

gradin_layer glass_pane(double thickness_mm) {
    return (gradin_layer){.kind = GRADIN_LAYER_PLATE,
                          .thickness_m = thickness_mm / 1000.0,
                          .density_kgm3 = GRADIN_GLASS_DENSITY_KGM3,
                          .young_pa = GRADIN_GLASS_YOUNG_PA,
                          .poisson = GRADIN_GLASS_POISSON,
                          .loss = GRADIN_GLASS_LOSS};
}

gradin_layer glass_limp(double mass_kgm2) {
    return (gradin_layer){
        .kind = GRADIN_LAYER_PLATE, .thickness_m = 0.01, .density_kgm3 = mass_kgm2 / 0.01};
}

gradin_layer glass_constant(double thickness_mm) {
    return (gradin_layer){.kind = GRADIN_LAYER_INTERLAYER,
                          .thickness_m = thickness_mm / 1000.0,
                          .density_kgm3 = GRADIN_PVB_DENSITY_KGM3,
                          .shear_pa = GLASS_SHEAR_PA,
                          .loss = GLASS_SHEAR_LOSS};
}

gradin_layer glass_pvb(double thickness_mm) {
    gradin_layer layer = glass_constant(thickness_mm);
    layer.relaxation = &gradin_pvb;
    return layer;
}

gradin_layer glass_air(double thickness_mm) {
    return (gradin_layer){.kind = GRADIN_LAYER_GAP,
                          .thickness_m = thickness_mm / 1000.0,
                          .density_kgm3 = GRADIN_AIR_DENSITY_KGM3,
                          .speed_ms = GRADIN_AIR_SPEED_MS};
}

glazing_stack glass_stack(const gradin_layer *layer, int n_layer) {
    glazing_stack stack;
    gradin_buildup buildup = {.name = "glass",
                              .layer = layer,
                              .n_layer = n_layer,
                              .temperature_c = GRADIN_GLAZING_TEMPERATURE_C};
    cr_assert_eq(gradin_glazing_stack(&buildup, &stack, NULL), GRADIN_OK);
    return stack;
}

glazing_stack glass_tuned(const gradin_layer *layer, int n_layer, double f_hz) {
    glazing_stack stack = glass_stack(layer, n_layer), tuned;
    gradin_glazing_tune(&stack, &gradin_glazing_method, f_hz, &tuned);
    return tuned;
}

double complex glass_bend(const gradin_layer *layer, int n_layer, double kx_radm) {
    const double f_hz = 1e-3;
    glazing_stack tuned = glass_tuned(layer, n_layer, f_hz);
    glazing_panel panel = tuned.part[0].panel;
    double complex stiffness = gradin_glazing_stiffness(&panel, kx_radm, 2.0 * GRADIN_PI * f_hz);
    double kx2 = kx_radm * kx_radm; /* kx2 B S/(B + S) = stiffness */
    return 1.0 / (kx2 / stiffness - 1.0 / panel.shear_nm) / kx2;
}

int glass_csv_row(FILE *file, double *cell, char word[32]) {
    char line[512];
    if (!fgets(line, sizeof line, file)) return 0;
    line[strcspn(line, "\r\n")] = '\0';
    snprintf(word, 32, "%.*s", (int)strcspn(line, ","), line);
    int n = 0;
    for (char *text = line; text && n < GLASS_MAX_CELL; n++) {
        char *comma = strchr(text, ',');
        if (comma) *comma++ = '\0';
        if (!gradin_parse_number(text, &cell[n])) cell[n] = NAN;
        text = comma;
    }
    return n;
}

FILE *glass_csv_open(const char *name) {
    char path[512], header[512];
    snprintf(path, sizeof path, "%s/reference/%s", GRADIN_SOURCE_DIR, name);
    FILE *file = fopen(path, "r");
    cr_assert_not_null(file, "%s", path);
    cr_assert_not_null(fgets(header, sizeof header, file), "%s", path);
    return file;
}

void glass_csv_close(FILE *file) {
    fclose(file);
}
