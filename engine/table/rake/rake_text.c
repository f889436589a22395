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

enum { NAME_COLUMNS = 40 };

static void put_mm(table_text *out, double value_m) {
    table_put_number(out, TABLE_MILLIMETRE, 1000.0 * value_m);
    table_put(out, " mm");
}

static void put_head(table_text *out, const gradin_rake *rake) {
    const gradin_rake_options *w = &rake->wanted;
    table_put(out, "Rake of block ");
    table_put_fitted(out, w->block, NAME_COLUMNS, false);
    table_put(out, " in ");
    table_put_fitted(out, rake->model->layout_name, NAME_COLUMNS, false);
    table_print(out, "\n%s, wanted C ", gradin_rake_form_name(w->form));
    put_mm(out, w->c_m);
    table_put(out, ", set in steps of ");
    put_mm(out, w->step_m);
    table_put(out, "; the first row stays\n");
}

/* Off the middle a seat looks at a nearer edge, and past other heads. */
static void put_worst_seat(table_text *out, const gradin_rake *rake) {
    int worst = -1;
    for (int k = 0; k < rake->n_row; k++)
        if (rake->row[k].c_seats_m < rake->wanted.c_m - 0.0005 &&
            (worst < 0 || rake->row[k].c_seats_m < rake->row[worst].c_seats_m))
            worst = k;
    if (worst < 0) return;
    table_put(out, "NOT AT EVERY SEAT: off the middle the worst has ");
    put_mm(out, rake->row[worst].c_seats_m);
    table_print(out, ", in row %d\n", rake->row[worst].row);
}

static void put_verdict(table_text *out, const gradin_rake *rake) {
    if (rake->is_reached) {
        table_print(out, "Reached in the middle section: the least C is ");
        put_mm(out, rake->least_c_m);
        table_print(out, ", in row %d\n", rake->least_row);
        put_worst_seat(out, rake);
        return;
    }
    table_put(out, "NO SETTING REACHES IT. The best one gives a least C of ");
    put_mm(out, rake->least_c_m);
    table_print(out, ", in row %d.\nWhat stands in the way: %s\n", rake->least_row,
                rake->hindrance);
}

static void put_rows(table_text *out, const gradin_rake *rake) {
    static const char *const head[] = {"D m",      "R m",  "N mm",       "ideal N",
                                       "C before", "C mm", "worst seat", "floor m"};
    enum { N_VALUE = 5 };
    static const int columns[] = {9, 9, 8, 9, 10, 8, 12, 9};
    table_put(out, "\n row");
    for (size_t i = 0; i < sizeof head / sizeof head[0]; i++)
        table_print(out, "%*s", columns[i], head[i]);
    table_put(out, "\n");
    for (int k = 0; k < rake->n_row; k++) {
        const gradin_rake_row *row = &rake->row[k];
        table_print(out, "%4d", row->row);
        table_put_right(out, TABLE_METRE, row->d_m, columns[0]);
        table_put_right(out, TABLE_METRE, row->floor_m + row->eye_height_m - rake->focus_z_m,
                        columns[1]);
        const double value_m[N_VALUE] = {row->riser_m, row->ideal_riser_m, row->c_before_m,
                                         row->c_m, row->c_seats_m};
        for (int i = 0; i < N_VALUE; i++)
            table_put_right(out, TABLE_MILLIMETRE, 1000.0 * value_m[i], columns[2 + i]);
        table_put_right(out, TABLE_METRE, row->floor_m, columns[2 + N_VALUE]);
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
        table_put_number(out, TABLE_METRE, rake->travel_m);
        table_put(out, " m, the longest ");
        table_put_number(out, TABLE_METRE, rake->longest_m);
        table_put(out, " m");
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

gradin_status gradin_rake_text(gradin_arena *arena, const gradin_rake *rake, const char *lines,
                               char **text, gradin_error *error) {
    if (NEEDS(error, arena, lines, text) != GRADIN_OK || rake_complete(rake, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    put_head(&out, rake);
    put_verdict(&out, rake);
    put_rows(&out, rake);
    if (rake->rank[0].n_section > 0) put_bill(&out, rake);
    put_lines(&out, rake, lines);
    table_put(&out,
              "\nA steep or uneven rake is a matter of steps, guards and egress: the local code "
              "decides.\n");
    for (int k = 1; k < TABLE_N_CAUTION; k++) table_print(&out, "%s\n", table_caution[k]);
    table_fold(&out);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the summary");
    *text = out.bytes;
    return GRADIN_OK;
}
