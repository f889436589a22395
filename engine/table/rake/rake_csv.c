/* A rake row by row, RFC 4180. A figure that the first row does not have leaves its cell empty.
 * Every row on lifts carries the caution, for a line may travel alone. */
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"

#include "table/shared/text.h"

static const char caution[] =
    "nobody under or on moving lifts; trained operators; the maker's procedure";

static void put_cell(table_text *out, table_quantity quantity, double value) {
    table_put(out, ",");
    table_put_number(out, quantity, value);
}

static void put_row(table_text *out, const gradin_rake *rake, const gradin_rake_row *row) {
    const gradin_rake_rank *rank = &rake->rank[row->rank];
    if (row->row_label)
        table_put_quoted(out, row->row_label);
    else
        table_print(out, "%d", row->row);
    put_cell(out, TABLE_METRE, row->d_m);
    put_cell(out, TABLE_METRE, row->t_m);
    put_cell(out, TABLE_METRE, row->floor_m + row->eye_height_m - rake->focus_z_m);
    put_cell(out, TABLE_MILLIMETRE, 1000.0 * row->riser_m);
    put_cell(out, TABLE_MILLIMETRE, 1000.0 * row->ideal_riser_m);
    put_cell(out, TABLE_MILLIMETRE, 1000.0 * row->c_before_m);
    put_cell(out, TABLE_MILLIMETRE, 1000.0 * row->c_m);
    put_cell(out, TABLE_MILLIMETRE, 1000.0 * row->c_seats_m);
    table_put(out, ",");
    if (row->least_seat >= 0) table_put_quoted(out, rake->model->seats.id[row->least_seat]);
    put_cell(out, TABLE_METRE, row->floor_before_m);
    put_cell(out, TABLE_METRE, row->floor_m);
    put_cell(out, TABLE_MILLIMETRE, 1000.0 * (row->floor_m - row->floor_before_m));
    table_put(out, ",");
    if (rank->n_section > 0)
        table_print(out, "%s,%s,%d", rake->model->section[rank->section[0]].name,
                    rake->model->section[rank->section[rank->n_section - 1]].name, row->tread + 1);
    else
        table_put(out, ",,");
    table_put(out, ",");
    if (rank->n_section > 0) table_put_quoted(out, caution);
    table_put(out, "\r\n");
}

gradin_status gradin_rake_csv(gradin_arena *arena, const gradin_rake *rake, gradin_csv_units units,
                              char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK || rake_complete(rake, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena, .is_in_feet = units == GRADIN_CSV_FEET};
    table_put_columns(&out,
                      "row,d_m,t_m,r_m,riser_mm,ideal_riser_mm,c_before_mm,c_mm,c_least_seat_mm,"
                      "least_seat,floor_before_m,floor_m,move_mm,first_section,last_section,tread,"
                      "caution\r\n");
    for (int k = 0; k < rake->n_row; k++) put_row(&out, rake, &rake->row[k]);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the rake's table");
    *text = out.bytes;
    *size = out.size;
    return GRADIN_OK;
}
