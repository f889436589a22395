/* Maps of an assessment, one by one and all into a folder. */
#include "base/use.h"
#include "render/maps/page.h"
#include "studies/shared/complete.h"

#include <stdio.h>

gradin_status gradin_map_png(gradin_arena *arena, const gradin_assessment *assessment,
                             gradin_map map, int sheet, unsigned char **bytes, size_t *size,
                             gradin_error *error) {
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK ||
        assessment_complete(assessment, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (!gradin_map_applies(assessment, map))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "the assessment has no figures for the map %s",
                                gradin_map_name(map));
    quantity q = quantity_of(assessment, map);
    return page_png(arena, &q, sheet, bytes, size, error);
}

gradin_status gradin_band_map_png(gradin_arena *arena, const gradin_assessment *assessment,
                                  int band, int sheet, unsigned char **bytes, size_t *size,
                                  gradin_error *error) {
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK ||
        assessment_complete(assessment, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (band < 0 || band >= assessment->n_band)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "the assessment has no levels by band %d", band + 1);
    quantity q = quantity_of_band(assessment, band);
    return page_png(arena, &q, sheet, bytes, size, error);
}

static gradin_status write_bands(const gradin_assessment *assessment, const char *dir, int *n,
                                 gradin_error *error) {
    gradin_status status = GRADIN_OK;
    char stem[32];
    for (int k = 0; k < assessment->n_band && status == GRADIN_OK; k++) {
        quantity q = quantity_of_band(assessment, k);
        status = page_write(&q, dir, page_band_stem(&assessment->band[k], stem), n, error);
    }
    return status;
}

/* Of each focus area, in the order of the layout. */
static gradin_status write_areas(const gradin_assessment *assessment, const char *dir, int *n,
                                 gradin_error *error) {
    gradin_status status = GRADIN_OK;
    char stem[32];
    for (int k = 0; k < assessment->n_area && status == GRADIN_OK; k++) {
        quantity q = quantity_of_area(assessment, k);
        snprintf(stem, sizeof stem, "visible_area_%d", k + 1);
        status = page_write(&q, dir, stem, n, error);
    }
    return status;
}

gradin_status gradin_maps_write(const gradin_assessment *assessment, const char *dir,
                                int *n_written, gradin_error *error) {
    if (NEEDS(error, dir) != GRADIN_OK || assessment_complete(assessment, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    int n = 0;
    gradin_status status = GRADIN_OK;
    for (int map = 0; map < GRADIN_N_MAP && status == GRADIN_OK; map++) {
        if (!gradin_map_applies(assessment, (gradin_map)map)) continue;
        quantity q = quantity_of(assessment, (gradin_map)map);
        status = page_write(&q, dir, gradin_map_name((gradin_map)map), &n, error);
    }
    if (status == GRADIN_OK) status = write_areas(assessment, dir, &n, error);
    if (status == GRADIN_OK) status = write_bands(assessment, dir, &n, error);
    if (n_written) *n_written = n;
    return status;
}
