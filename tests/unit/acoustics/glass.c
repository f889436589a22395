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

gradin_layer glass_pvb(double thickness_mm) {
    return (gradin_layer){.kind = GRADIN_LAYER_INTERLAYER,
                          .thickness_m = thickness_mm / 1000.0,
                          .density_kgm3 = GRADIN_PVB_DENSITY_KGM3,
                          .shear_pa = GRADIN_PVB_SHEAR_PA,
                          .loss = GRADIN_PVB_LOSS};
}

gradin_layer glass_air(double thickness_mm) {
    return (gradin_layer){.kind = GRADIN_LAYER_GAP,
                          .thickness_m = thickness_mm / 1000.0,
                          .density_kgm3 = GRADIN_AIR_DENSITY_KGM3,
                          .speed_ms = GRADIN_AIR_SPEED_MS};
}

glazing_stack glass_stack(const gradin_layer *layer, int n_layer) {
    glazing_stack stack;
    gradin_buildup buildup = {.name = "glass", .layer = layer, .n_layer = n_layer};
    cr_assert_eq(gradin_glazing_stack(&buildup, &stack, NULL), GRADIN_OK);
    return stack;
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
