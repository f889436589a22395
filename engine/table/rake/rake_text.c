/* A rake for people: the verdict, one line per row, the bill, and the lines of the layout that set
 * it.
 */
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"

#include "table/shared/cautions.h"
#include "table/shared/text.h"

#include <stdio.h>
#include <string.h>

enum { NAME_COLUMNS = 40, ROW_COLUMNS = 4, LABEL_COLUMNS = 10 };

/* C-values, risers and steps. */
static void put_small(table_text *out, const gradin_rake *rake, double value_m) {
    table_put_length(out, value_m, small_unit_of(rake->model->units));
}

static void put_first(table_text *out, const gradin_rake *rake) {
    double raised_m = rake->row[0].floor_m - rake->row[0].floor_before_m;
    if (fabs(raised_m) < 1e-6) {
        table_put(out, "; the first row stays\n");
        return;
    }
    table_put(out, "; the first row is\nraised by ");
    put_small(out, rake, raised_m);
    table_put(out, ", to see over people of other blocks\n");
}

static void put_head(table_text *out, const gradin_rake *rake) {
    const gradin_rake_options *w = &rake->wanted;
    table_put(out, "Rake of block ");
    table_put_fitted(out, w->block, NAME_COLUMNS, false);
    table_put(out, " in ");
    table_put_fitted(out, rake->model->layout_name, NAME_COLUMNS, false);
    table_print(out, "\n%s, wanted C ", gradin_rake_form_name(w->form));
    put_small(out, rake, w->c_m);
    table_put(out, ", set in steps of ");
    put_small(out, rake, w->step_m);
    put_first(out, rake);
}

/* The seat with the least C: off the middle a seat looks at a nearer edge, and past other heads. */
static void put_governing(table_text *out, const gradin_rake *rake) {
    if (rake->least_seat < 0) {
        table_put(out, "No seat has anybody in front of its view\n");
        return;
    }
    table_put(out, "Seat ");
    table_put_fitted(out, rake->model->seats.id[rake->least_seat], NAME_COLUMNS, false);
    table_put(out, " governs, with ");
    put_small(out, rake, rake->least_seat_c_m);
    table_put(out, "\n");
}

static void put_verdict(table_text *out, const gradin_rake *rake) {
    table_put(out, rake->is_reached
                       ? "Reached at every seat: in the middle section the least C is "
                       : "NO SETTING REACHES IT AT EVERY SEAT. In the middle section the best one "
                         "gives a least C of ");
    put_small(out, rake, rake->least_c_m);
    table_put(out, ", in row ");
    if (rake->least_row_label)
        table_put_fitted(out, rake->least_row_label, LABEL_COLUMNS, false);
    else
        table_print(out, "%d", rake->least_row);
    table_put(out, "\n");
    put_governing(out, rake);
    if (!rake->is_reached) table_print(out, "What stands in the way: %s\n", rake->hindrance);
}

/* Columns that the rows' numbers or labels take. */
static int row_columns(const gradin_rake *rake) {
    int most = ROW_COLUMNS;
    for (int k = 0; k < rake->n_row; k++) {
        const char *label = rake->row[k].row_label;
        int columns = label ? table_columns(label) + 1 : 0;
        most = columns > most ? columns : most;
    }
    return most > LABEL_COLUMNS ? LABEL_COLUMNS : most;
}

static void put_row_name(table_text *out, const gradin_rake_row *row, int columns) {
    if (!row->row_label) {
        table_print(out, "%*d", columns, row->row);
        return;
    }
    int blank = columns - table_columns(row->row_label);
    table_print(out, "%*s", blank > 1 ? blank : 1, "");
    table_put_fitted(out, row->row_label, columns - 1, false);
}

/* " row     D m ...": a name, and "m", "mm" or nothing for its unit. */
static void put_row_head(table_text *out, const gradin_rake *rake, const int *columns) {
    const char *large = stated_unit_of(rake->model->units).name;
    const char *small = small_unit_of(rake->model->units).name;
    const char *const head[][2] = {{"D", large},       {"R", large},     {"N", small},
                                   {"ideal N", ""},    {"C before", ""}, {"C", small},
                                   {"worst seat", ""}, {"floor", large}};
    table_print(out, "\n%*s", row_columns(rake), "row");
    for (size_t i = 0; i < sizeof head / sizeof head[0]; i++) {
        char cell[32];
        snprintf(cell, sizeof cell, "%s%s%s", head[i][0], head[i][1][0] ? " " : "", head[i][1]);
        table_print(out, "%*s", columns[i], cell);
    }
    table_put(out, "\n");
}

static void put_rows(table_text *out, const gradin_rake *rake) {
    enum { N_VALUE = 5 };
    static const int columns[] = {9, 9, 8, 9, 10, 8, 12, 9};
    length_unit large = stated_unit_of(rake->model->units),
                small = small_unit_of(rake->model->units);
    put_row_head(out, rake, columns);
    for (int k = 0; k < rake->n_row; k++) {
        const gradin_rake_row *row = &rake->row[k];
        put_row_name(out, row, row_columns(rake));
        table_put_length_right(out, row->d_m, large, columns[0]);
        table_put_length_right(out, row->floor_m + row->eye_height_m - rake->focus_z_m, large,
                               columns[1]);
        const double value_m[N_VALUE] = {row->riser_m, row->ideal_riser_m, row->c_before_m,
                                         row->c_m, row->c_seats_m};
        for (int i = 0; i < N_VALUE; i++)
            table_put_length_right(out, value_m[i], small, columns[2 + i]);
        table_put_length_right(out, row->floor_m, large, columns[2 + N_VALUE]);
        table_put(out, "\n");
    }
    table_put(out, "N, C: riser and C in the section through the middle of the block; ideal N: by "
                   "the row formula alone; worst seat: least C of the row's seats with their real "
                   "neighbours, as in seats.csv\n");
}

static void put_bill(table_text *out, const gradin_rake *rake) {
    table_print(out, "\nLift sections that move: %d", rake->n_section_moved);
    if (rake->n_section_moved > 0) {
        table_put(out, "; travel in all ");
        table_put_length(out, rake->travel_m, stated_unit_of(rake->model->units));
        table_put(out, ", the longest ");
        table_put_length(out, rake->longest_m, stated_unit_of(rake->model->units));
        if (rake->move_s > 0.0) {
            table_put(out, ", the slowest move ");
            table_put_clock(out, rake->move_s, 0);
            table_put(out, " h");
        }
    }
    table_put(out, "\n");
    if (rake->n_other_seat > 0)
        table_print(out, "%d seats of other blocks stand on them and move too.\n",
                    rake->n_other_seat);
}

static void put_lines(table_text *out, const gradin_rake *rake, const char *lines) {
    bool is_on_lifts = rake->rank[0].n_section > 0;
    table_print(out, "\nLines for %s:\n",
                is_on_lifts ? "machines.lifts of the layout" : "the block");
    table_put(out, lines);
}

/* Folded by themselves: the lines of the layout before them are to be copied as they stand. */
static void put_cautions(table_text *out) {
    table_text rest = {.arena = out->arena};
    table_put(&rest,
              "\nA steep or uneven rake is a matter of steps, guards and egress: the local code "
              "decides.\n");
    for (int k = 1; k < TABLE_N_CAUTION; k++) table_print(&rest, "%s\n", table_caution[k]);
    table_fold(&rest);
    out->failed = out->failed || rest.failed;
    if (!rest.failed) table_put_bytes(out, rest.bytes, rest.size);
}

gradin_status gradin_rake_text(gradin_arena *arena, const gradin_rake *rake, const char *lines,
                               char **text, gradin_error *error) {
    if (NEEDS(error, arena, lines, text) != GRADIN_OK || rake_complete(rake, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    put_head(&out, rake);
    put_verdict(&out, rake);
    put_rows(&out, rake);
    if (rake->rank[0].n_section > 0) put_bill(&out, rake);
    table_fold(&out);
    put_lines(&out, rake, lines);
    put_cautions(&out);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the summary");
    *text = out.bytes;
    return GRADIN_OK;
}
