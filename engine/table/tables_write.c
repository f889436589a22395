/* Both tables into a folder. They are composed before the first is written. */
#include "gradin/table.h"

#include <string.h>

static gradin_status write_beside(gradin_arena *arena, const char *dir, const char *name,
                                  const char *text, size_t size, gradin_error *error) {
    char *path = gradin_arena_print(arena, "%s/%s", dir, name);
    if (!path) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    return gradin_write_file(path, text, size, error);
}

static gradin_status write_tables(gradin_arena *arena, const gradin_assessment *assessment,
                                  const char *dir, gradin_error *error) {
    char *csv, *json;
    size_t csv_size, json_size;
    gradin_status status = gradin_seats_csv(arena, assessment, &csv, &csv_size, error);
    if (status == GRADIN_OK)
        status = gradin_summary_json(arena, assessment, &json, &json_size, error);
    if (status == GRADIN_OK) status = write_beside(arena, dir, "seats.csv", csv, csv_size, error);
    if (status == GRADIN_OK)
        status = write_beside(arena, dir, "summary.json", json, json_size, error);
    return status;
}

gradin_status gradin_tables_write(const gradin_assessment *assessment, const char *dir,
                                  gradin_error *error) {
    if (!assessment || !dir)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "assessment and dir are needed");
    gradin_arena *arena = gradin_arena_create();
    if (!arena) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    gradin_status status = write_tables(arena, assessment, dir, error);
    gradin_arena_destroy(arena);
    return status;
}
