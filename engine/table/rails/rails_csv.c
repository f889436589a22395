/* Rails with one line per seat and rail that hides something from it, overhangs with one line per
 * row; RFC 4180. A rail height below the venue's own minimum is never written: the note says so
 * instead. */
#include "base/use.h"
#include "gradin/table.h"
#include "model/complete.h"

#include "table/rails/rails.h"

/* Rounded down in the table's own unit: what is safe to state. */
static void put_down(table_text *out, double value_m) {
    double unit_m = out->is_in_feet ? GRADIN_FOOT_M : 1.0;
    table_put(out, ",");
    table_put_number(out, TABLE_METRE, unit_m * rails_rounded_m(value_m / unit_m));
}

static void put_line(table_text *out, const gradin_model *model, const gradin_rail_line *line) {
    table_put_quoted(out, model->seats.id[line->seat]);
    table_put(out, ",");
    table_put_quoted(out, model->rail[line->rail].name);
    table_put(out, ",");
    table_put_number(out, TABLE_METRE, model->rail[line->rail].height_m);
    table_put(out, ",");
    table_put_number(out, TABLE_PERCENT, 100.0 * line->hides);
    table_put(out, ",");
    table_put_number(out, TABLE_PERCENT, 100.0 * line->gives_back);
    put_down(out, rails_allowed_m(model, line->whole_m));
    table_print(out, ",%s\r\n", rails_line_note(model, line->whole_m));
}

gradin_status gradin_rails_csv(gradin_arena *arena, const gradin_model *model,
                               const gradin_rail_limits *limits, gradin_csv_units units,
                               char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, limits, text, size) != GRADIN_OK ||
        model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena, .is_in_feet = units == GRADIN_CSV_FEET};
    table_put_columns(&out, "seat,rail,height_m,hides_pct,gives_back_pct,whole_up_to_m,note\r\n");
    for (int k = 0; k < limits->n_line; k++) put_line(&out, model, &limits->line[k]);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the rails' table");
    *text = out.bytes;
    *size = out.size;
    return GRADIN_OK;
}

static void put_top(table_text *out, const gradin_model *model, const gradin_overhang_row *row,
                    gradin_top top) {
    int by = row->occluder[top];
    if (isnan(row->seen_m[top])) {
        table_put(out, ",,,");
        return;
    }
    table_print(out, ",%d,", row->n_lost[top]);
    table_put_number(out, TABLE_METRE, row->seen_m[top]);
    table_put(out, ",");
    if (by >= 0) table_put_quoted(out, model->occluder_name[model->scene.occluder[by].name]);
}

gradin_status gradin_overhangs_csv(gradin_arena *arena, const gradin_model *model,
                                   const gradin_overhangs *overhangs, gradin_csv_units units,
                                   char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, overhangs, text, size) != GRADIN_OK ||
        model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena, .is_in_feet = units == GRADIN_CSV_FEET};
    table_put_columns(&out, "block,row,seats,lose_arch_top,arch_seen_to_m,arch_under,lose_set_top,"
                            "set_seen_to_m,set_under\r\n");
    for (int i = 0; i < overhangs->n_row; i++) {
        const gradin_overhang_row *row = &overhangs->row[i];
        table_put_quoted(&out, model->block_name[row->block]);
        table_put(&out, ",");
        if (row->row_label)
            table_put_quoted(&out, row->row_label);
        else
            table_print(&out, "%d", row->row);
        table_print(&out, ",%d", row->n_seat);
        put_top(&out, model, row, GRADIN_TOP_ARCH);
        put_top(&out, model, row, GRADIN_TOP_SET);
        table_put(&out, "\r\n");
    }
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the overhangs");
    *text = out.bytes;
    *size = out.size;
    return GRADIN_OK;
}
