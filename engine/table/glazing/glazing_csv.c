/* Build-ups as CSV (RFC 4180): one line per third octave, one column per curve, an empty cell where
 * a curve has no value; octaves stand in their middle thirds. */
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"
#include "table/shared/names.h"
#include "table/shared/text.h"

static const gradin_glazed_curve *curve_of(const gradin_glazed *g, int which) {
    return which ? &g->measured : &g->predicted;
}

static double value_of(const gradin_glazed_curve *curve, int band) {
    return curve->is_octave && band % 3 != 1 ? NAN : curve->r_db[band];
}

static void put_head(gradin_arena *arena, table_text *out, const gradin_glazing_sheet *sheet) {
    table_put(out, "band_hz");
    for (int i = 0; i < sheet->n_glazed; i++)
        for (int which = 0; which < 2; which++) {
            if (!curve_of(&sheet->glazed[i], which)->is_given) continue;
            const char *name =
                gradin_arena_print(arena, "%s %s_r_db", sheet->glazed[i].buildup->name,
                                   which ? "measured" : "predicted");
            out->failed |= !name;
            table_put(out, ",");
            if (name) table_put_quoted(out, name);
        }
    table_put(out, "\r\n");
}

static void put_line(table_text *out, const gradin_glazing_sheet *sheet, int band) {
    table_print(out, "%d", gradin_band_nominal_hz(band));
    for (int i = 0; i < sheet->n_glazed; i++)
        for (int which = 0; which < 2; which++) {
            const gradin_glazed_curve *curve = curve_of(&sheet->glazed[i], which);
            if (!curve->is_given) continue;
            table_put(out, ",");
            table_put_number(out, TABLE_DECIBEL, value_of(curve, band));
        }
    table_put(out, "\r\n");
}

gradin_status gradin_glazing_csv(gradin_arena *arena, const gradin_glazing_sheet *sheet,
                                 char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK || sheet_complete(sheet, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    put_head(arena, &out, sheet);
    for (int band = 0; band < GRADIN_N_BAND; band++) put_line(&out, sheet, band);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the table");
    *text = out.bytes;
    *size = out.size;
    return GRADIN_OK;
}

static gradin_status write_both(gradin_arena *arena, const gradin_glazing_sheet *sheet,
                                const char *dir, gradin_error *error) {
    char *csv = NULL, *json = NULL;
    size_t csv_size = 0, json_size = 0;
    gradin_status status = gradin_glazing_csv(arena, sheet, &csv, &csv_size, error);
    if (status == GRADIN_OK) status = gradin_glazing_json(arena, sheet, &json, &json_size, error);
    if (status == GRADIN_OK)
        status = table_write_file(arena, dir, "glazing.csv", csv, csv_size, error);
    if (status == GRADIN_OK)
        status = table_write_file(arena, dir, "glazing.json", json, json_size, error);
    return status;
}

gradin_status gradin_glazing_tables_write(const gradin_glazing_sheet *sheet, const char *dir,
                                          gradin_error *error) {
    if (NEEDS(error, dir) != GRADIN_OK || sheet_complete(sheet, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_arena *arena = gradin_arena_create();
    if (!arena) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the tables");
    gradin_status status = write_both(arena, sheet, dir, error);
    gradin_arena_destroy(arena);
    return status;
}
