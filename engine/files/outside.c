/* Points outside a hall: a CSV with the fixed first line "name,x,y,z". Lengths are in the units of
 * the layout that they are looked at with; z is the height of the eye above the plan origin's
 * level. */
#include "base/lengths.h"
#include "base/steering.h"
#include "base/use.h"
#include "files/parse/rows.h"
#include "gradin/files.h"

#include <string.h>

enum { MAX_OUTSIDE_BYTES = 1 << 16, MAX_NAME_BYTES = 60 };
static const double FARTHEST_M = 5000.0;

static const char outside_header[] = "name,x,y,z";

static bool is_name(const char *text) {
    return text[0] && strlen(text) <= MAX_NAME_BYTES && !strchr(text, '"') && is_plain_text(text);
}

static bool refuse_row(reader *r, const row_file *rows, const char *text) {
    rows_complain(rows, r->c.error, "%s", text);
    r->c.n_error++;
    return false;
}

static bool take_row(reader *r, const row_file *rows, gradin_outside_point *point) {
    double value[3];
    if (!rows->is_whole) return refuse_row(r, rows, "needs name,x,y,z: four cells, no quotes");
    if (!is_name(rows->cell[0]))
        return refuse_row(r, rows, "needs a name of 1 to 60 bytes without quotes");
    for (int i = 0; i < 3; i++)
        if (!gradin_parse_number(rows->cell[i + 1], &value[i]) ||
            fabs(value[i] * r->unit_m) > FARTHEST_M)
            return refuse_row(r, rows, "needs x, y, z as plain numbers, each within 5000 m of 0");
    gradin_place *at = alloc(&r->c, 1, sizeof *at);
    if (!at) return false;
    *at = (gradin_place){.file = rows->path, .line = rows->line, .column = 1};
    *point = (gradin_outside_point){
        rows->cell[0], gradin_scale((gradin_vec3){value[0], value[1], value[2]}, r->unit_m), at};
    return true;
}

static bool take_rows(reader *r, row_file *rows, gradin_outside *outside) {
    gradin_outside_point *point = alloc(&r->c, GRADIN_MAX_OUTSIDE, sizeof *point);
    if (!point) return false;
    outside->point = point;
    while (rows_next(rows)) {
        if (outside->n_point == GRADIN_MAX_OUTSIDE)
            return refuse_row(r, rows, "is one too many; at most 64 points are allowed");
        if (take_row(r, rows, &point[outside->n_point])) outside->n_point++;
    }
    if (outside->n_point > 0 || r->c.n_error > 0) return r->c.n_error == 0;
    return refuse_row(r, rows, "no point follows; at least one is needed");
}

gradin_status gradin_outside_read(gradin_arena *arena, const char *csv_path, const char *units,
                                  gradin_outside *outside, gradin_error *error) {
    if (NEEDS(error, arena, csv_path, units, outside) != GRADIN_OK) return GRADIN_BAD_USE;
    *outside = (gradin_outside){0};
    reader r = {.c = {.arena = arena, .error = error},
                .unit_m = unit_length_m(units),
                .digest = outside->digest};
    row_file rows;
    r.c.file = note_failure(&r.c, gradin_arena_copy_text(arena, csv_path));
    if (r.c.file && rows_open(&r, NULL, r.c.file, MAX_OUTSIDE_BYTES, outside_header, &rows))
        take_rows(&r, &rows, outside);
    return complaints_status(&r.c);
}
