/* All maps of an assessment into a folder, each file whole or not at all. */
#include "gradin/render.h"

static char *path_of(gradin_arena *arena, const char *dir, gradin_map map, int sheet, int n_sheet) {
    const char *name = gradin_map_name(map);
    if (n_sheet < 2) return gradin_arena_print(arena, "%s/%s.png", dir, name);
    return gradin_arena_print(arena, "%s/%s-sheet%d.png", dir, name, sheet + 1);
}

static gradin_status write_one(gradin_arena *arena, const gradin_assessment *assessment,
                               const char *dir, gradin_map map, int sheet, gradin_error *error) {
    unsigned char *bytes = NULL;
    size_t size = 0;
    char *path = path_of(arena, dir, map, sheet, assessment->model->seats.n_sheet);
    if (!path) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    gradin_status status = gradin_map_png(arena, assessment, map, sheet, &bytes, &size, error);
    return status == GRADIN_OK ? gradin_write_file(path, bytes, size, error) : status;
}

/* One arena a picture keeps the peak at one picture. */
static gradin_status write_sheet(const gradin_assessment *assessment, const char *dir,
                                 gradin_map map, int sheet, gradin_error *error) {
    gradin_arena *arena = gradin_arena_create();
    if (!arena) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    gradin_status status = write_one(arena, assessment, dir, map, sheet, error);
    gradin_arena_destroy(arena);
    return status;
}

gradin_status gradin_maps_write(const gradin_assessment *assessment, const char *dir,
                                int *n_written, gradin_error *error) {
    int n = 0;
    gradin_status status = GRADIN_OK;
    for (int map = 0; map < GRADIN_N_MAP && status == GRADIN_OK; map++) {
        if (!gradin_map_applies(assessment, (gradin_map)map)) continue;
        for (int k = 0; k < assessment->model->seats.n_sheet && status == GRADIN_OK; k++) {
            status = write_sheet(assessment, dir, (gradin_map)map, k, error);
            n += status == GRADIN_OK;
        }
    }
    if (n_written) *n_written = n;
    return status;
}
