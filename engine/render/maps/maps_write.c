/* Maps of an assessment, one by one and all into a folder. */
#include "base/use.h"
#include "render/draw/encode.h"
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
    quantity q = quantity_of(assessment, map, GRADIN_MAP_SCALE_FITTED);
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
    quantity q = quantity_of_band(assessment, band, GRADIN_MAP_SCALE_FITTED);
    return page_png(arena, &q, sheet, bytes, size, error);
}

/* What is done with each map. */
typedef struct visit {
    gradin_status (*each)(void *user, const quantity *q, const char *stem, gradin_error *error);
    void *user;
    gradin_map_scale scale;
} visit;

static gradin_status visit_bands(const gradin_assessment *assessment, const visit *v,
                                 gradin_error *error) {
    gradin_status status = GRADIN_OK;
    char stem[32];
    for (int k = 0; k < assessment->n_band && status == GRADIN_OK; k++) {
        quantity q = quantity_of_band(assessment, k, v->scale);
        status = v->each(v->user, &q, page_band_stem(&assessment->band[k], stem), error);
    }
    return status;
}

/* Of each focus area, in the order of the layout. */
static gradin_status visit_areas(const gradin_assessment *assessment, const visit *v,
                                 gradin_error *error) {
    gradin_status status = GRADIN_OK;
    char stem[32];
    for (int k = 0; k < assessment->n_area && status == GRADIN_OK; k++) {
        quantity q = quantity_of_area(assessment, k);
        snprintf(stem, sizeof stem, "visible_area_%d", k + 1);
        status = v->each(v->user, &q, stem, error);
    }
    return status;
}

static gradin_status visit_maps(const gradin_assessment *assessment, const visit *v,
                                gradin_error *error) {
    gradin_status status = GRADIN_OK;
    for (int map = 0; map < GRADIN_N_MAP && status == GRADIN_OK; map++) {
        if (!gradin_map_applies(assessment, (gradin_map)map)) continue;
        quantity q = quantity_of(assessment, (gradin_map)map, v->scale);
        status = v->each(v->user, &q, gradin_map_name((gradin_map)map), error);
    }
    if (status == GRADIN_OK) status = visit_areas(assessment, v, error);
    return status == GRADIN_OK ? visit_bands(assessment, v, error) : status;
}

typedef struct written {
    easel e;
    const char *dir;
    gradin_picture format;
    int n, sheet;
} written;

static gradin_status write_map(void *user, const quantity *q, const char *stem,
                               gradin_error *error) {
    written *w = user;
    quantity mine = *q;
    mine.format = w->format;
    return page_write(&w->e, &mine, w->sheet, w->dir, stem, &w->n, error);
}

gradin_status gradin_maps_write(const gradin_assessment *assessment, gradin_map_scale scale,
                                gradin_picture format, const char *dir, int *n_written,
                                gradin_error *error) {
    if (NEEDS(error, dir) != GRADIN_OK || assessment_complete(assessment, error) != GRADIN_OK ||
        picture_check(format, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    written w = {.dir = dir, .format = format};
    gradin_status status = easel_open(&w.e, error);
    for (; w.sheet < assessment->model->seats.n_sheet && status == GRADIN_OK; w.sheet++)
        status = visit_maps(assessment, &(visit){write_map, &w, scale}, error);
    easel_close(&w.e);
    if (n_written) *n_written = w.n;
    return status;
}

static gradin_status note_map(void *user, const quantity *q, const char *stem,
                              gradin_error *error) {
    (void)stem;
    return page_note_left_out(user, q, error);
}

gradin_status gradin_maps_left_out(gradin_arena *arena, const gradin_assessment *assessment,
                                   char **text, gradin_error *error) {
    if (NEEDS(error, arena, text) != GRADIN_OK ||
        assessment_complete(assessment, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    left_out l = {arena, ""};
    gradin_status status =
        visit_maps(assessment, &(visit){note_map, &l, GRADIN_MAP_SCALE_FITTED}, error);
    *text = l.text;
    return status;
}
