/* Rails and overhangs for people, with the cautions that belong to them. */
#include "base/use.h"
#include "gradin/table.h"
#include "model/complete.h"

#include "table/rails/rails.h"
#include "table/shared/cautions.h"

enum { NAME_COLUMNS = 20 };

static void put_rail(table_text *out, const gradin_model *model, const gradin_rail_limits *limits,
                     int rail) {
    rails_sum sum = rails_sum_of(model, limits, rail);
    if (sum.n_seat == 0) return;
    double allowed_m = rails_allowed_m(model, sum.whole_m);
    table_put(out, "  ");
    table_put_fitted(out, model->rail[rail].name, NAME_COLUMNS, true);
    table_put_length_right(out, model->rail[rail].height_m, stated_unit_of(model->units), 7);
    table_print(out, "%6d%8d", sum.n_seat, sum.n_hidden);
    table_put_right(out, TABLE_PERCENT, 100.0 * sum.hides_most, 7);
    table_put(out, "  ");
    if (isnan(allowed_m)) {
        table_put(out, "none at or above the minimum");
    } else {
        table_put_length(out, rails_rounded_m(allowed_m), stated_unit_of(model->units));
    }
    table_put(out, "\n");
}

static bool has_seat(const gradin_model *model, const gradin_rail_limits *limits) {
    for (int i = 0; i < model->n_rail; i++)
        if (rails_sum_of(model, limits, i).n_seat > 0) return true;
    return false;
}

static void put_rails(table_text *out, const gradin_model *model,
                      const gradin_rail_limits *limits) {
    table_put(out, "Lowest rail that the venue's own local rules allow: ");
    table_put_length(out, model->rail_min_m, stated_unit_of(model->units));
    table_put(out, ". No lower height is given here.\n");
    if (!has_seat(model, limits)) {
        table_put(out, model->n_rail > 0 ? "No seat looks over a rail.\n"
                                         : "There is no rail in this layout.\n");
        return;
    }
    table_put(out, "\n  ");
    table_put_fitted(out, "Rail", NAME_COLUMNS, true);
    table_print(out, "%4s %-2s seats   hides   most  hides nothing up to\n", "top",
                stated_unit_of(model->units).name);
    for (int i = 0; i < model->n_rail; i++) put_rail(out, model, limits, i);
    table_put(out, "Each seat counts at every rail that hides something from it, the others being "
                   "as they are, and else at the one that leaves it least to spare. Hides: from "
                   "how many; most: "
                   "how much of the focus from the worst of them, in %. A rail counts as filled "
                   "up to its top.\n");
}

static void put_row(table_text *out, const gradin_model *model, const gradin_overhang_row *row,
                    gradin_top top) {
    table_put(out, "  ");
    table_put_fitted(out, model->block_name[row->block], 24, true);
    if (row->row_label) {
        table_put(out, " row ");
        table_put_fitted(out, row->row_label, 24, false);
    } else
        table_print(out, " row %3d", row->row);
    table_print(out, ": %d of %d seats, seen to ", row->n_lost[top], row->n_seat);
    table_put_length(out, row->seen_m[top], stated_unit_of(model->units));
    table_put(out, ", under ");
    table_put_fitted(out, model->occluder_name[model->scene.occluder[row->occluder[top]].name], 24,
                     false);
    table_put(out, "\n");
}

static void put_top(table_text *out, const gradin_model *model, const gradin_overhangs *o,
                    gradin_top top) {
    static const char *const what[GRADIN_N_TOP] = {"the top of the arch's opening",
                                                   "the top of a set piece"};
    int n = 0;
    if (!o->has[top]) {
        table_print(out, "There is no %s in this layout.\n",
                    top == GRADIN_TOP_ARCH ? "arch" : "set piece");
        return;
    }
    for (int i = 0; i < o->n_row; i++) n += o->row[i].n_lost[top] > 0;
    table_print(out, "Rows that lose %s under an overhang: %d\n", what[top], n);
    for (int i = 0; i < o->n_row; i++)
        if (o->row[i].n_lost[top] > 0) put_row(out, model, &o->row[i], top);
}

static const char caution[] =
    "A lower rail is no sightline fix without the authority's approval. Heights count from "
    "the surface on which a person may stand; ends of aisles are higher; loads, infill and "
    "climbing are outside this tool; every edge of a raised lift or flown tower is an edge "
    "in every layout.\n";

gradin_status gradin_rails_text(gradin_arena *arena, const gradin_model *model,
                                const gradin_rail_limits *limits, const gradin_overhangs *overhangs,
                                char **text, gradin_error *error) {
    if (NEEDS(error, arena, limits, overhangs, text) != GRADIN_OK ||
        model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    table_put(&out, "Rails and overhangs of ");
    table_put_fitted(&out, model->layout_name, 60, false);
    table_put(&out, "\n");
    put_rails(&out, model, limits);
    table_put(&out, "\n");
    put_top(&out, model, overhangs, GRADIN_TOP_ARCH);
    put_top(&out, model, overhangs, GRADIN_TOP_SET);
    table_put(&out, "\n");
    table_put(&out, caution);
    for (int k = 1; k < TABLE_N_CAUTION; k++) table_print(&out, "%s\n", table_caution[k]);
    table_fold(&out);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the summary");
    *text = out.bytes;
    return GRADIN_OK;
}
