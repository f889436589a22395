/* The tables into a folder. All texts exist before the first file does. */
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"
#include "table/shared/text.h"

gradin_status table_write_file(gradin_arena *arena, const char *dir, const char *name,
                               const char *text, size_t size, gradin_error *error) {
    const char *path = gradin_arena_print(arena, "%s/%s", dir, name);
    if (!path) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a file name");
    return gradin_write_file(path, text, size, error);
}

static gradin_status write_all(gradin_arena *arena, const gradin_assessment *assessment,
                               gradin_csv_units units, const char *dir, gradin_error *error) {
    char *csv = NULL, *few = NULL, *json = NULL;
    size_t csv_size = 0, few_size = 0, json_size = 0;
    gradin_status status = gradin_seats_csv(arena, assessment, units, &csv, &csv_size, error);
    if (status == GRADIN_OK)
        status = gradin_seats_short_csv(arena, assessment, units, &few, &few_size, error);
    if (status == GRADIN_OK)
        status = gradin_summary_json(arena, assessment, &json, &json_size, error);
    if (status == GRADIN_OK)
        status = table_write_file(arena, dir, "seats.csv", csv, csv_size, error);
    if (status == GRADIN_OK)
        status = table_write_file(arena, dir, "seats_short.csv", few, few_size, error);
    if (status == GRADIN_OK)
        status = table_write_file(arena, dir, "summary.json", json, json_size, error);
    return status;
}

gradin_status gradin_tables_write(const gradin_assessment *assessment, gradin_csv_units units,
                                  const char *dir, gradin_error *error) {
    if (NEEDS(error, dir) != GRADIN_OK ||
        assessment_tables_complete(assessment, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_arena *arena = gradin_arena_create();
    if (!arena) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the tables");
    gradin_status status = write_all(arena, assessment, units, dir, error);
    gradin_arena_destroy(arena);
    return status;
}
