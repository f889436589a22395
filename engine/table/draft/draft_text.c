/* What a draft did and what limited it, a page wide. */
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"
#include "table/shared/cautions.h"
#include "table/shared/text.h"

static void put_places(table_text *out, const gradin_draft *draft) {
    const gradin_seats *s = &draft->model->seats;
    table_print(out,
                "  %d places, of which %d wheelchair places and %d companion seats (%d needed)\n",
                s->n_seat, s->n_wheelchair, s->n_companion, draft->n_wheelchair_needed);
    if (s->n_seat < draft->n_wanted)
        table_print(out, "  %d are wanted: %d are missing\n", draft->n_wanted,
                    draft->n_wanted - s->n_seat);
    for (int i = 0; i < draft->n_line; i++) {
        table_put(out, "  ");
        table_put_fitted(out, draft->line[i].name, 14, true);
        table_print(out, "%5d  ", draft->line[i].n_seat);
        table_put_wrapped(out, draft->line[i].what, 23, 25);
        table_put(out, "\n");
    }
}

static void put_sight(table_text *out, const gradin_draft *draft) {
    table_put(out, "\n");
    if (isfinite(draft->least_c_m)) {
        length_unit small = small_unit_of(draft->model->units);
        double step = pow(10.0, small.decimals), least = draft->least_c_m * small.per_m;
        table_put(out, "  C in the section of each bank at least ");
        table_put_length(out, floor(step * least + 1e-6) / step / small.per_m, small);
        table_put(out, "; ");
        table_put_length(out, draft->wanted_c_m, small);
        table_put(out, " are wanted\n");
    }
    table_put(out, "  Seats by rating:");
    for (int r = 0; r < GRADIN_N_RATING; r++)
        table_print(out, "%s %s %d", r > 0 ? "," : "", gradin_rating_name((gradin_rating)r),
                    draft->n_rating[r]);
    table_print(out, "\n  %d rails at open edges; rough checks by the rules of the venue met\n",
                draft->model->n_rail);
}

static void put_limits(table_text *out, const gradin_draft *draft) {
    table_print(out, "\nLimited by (%d choices weighed; drafted whole: %d good", draft->n_tried,
                draft->n_passed);
    if (draft->n_worse > 0) table_print(out, ", %d no better", draft->n_worse);
    table_print(out, ", %d given up)\n", draft->n_refused);
    for (int i = 0; i < draft->n_limit; i++) {
        table_put(out, "  ");
        table_put_wrapped(out, draft->limit[i], 2, 4);
        table_put(out, "\n");
    }
}

gradin_status gradin_draft_text(gradin_arena *arena, const gradin_draft *draft, char **text,
                                gradin_error *error) {
    if (NEEDS(error, arena, text) != GRADIN_OK || draft_complete(draft, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    table_put(&out, "Draft of ");
    table_put_fitted(&out, draft->model->layout_name, 40, false);
    table_put(&out, " in ");
    table_put_fitted(&out, draft->model->venue_name, 40, false);
    table_put(&out, "\n\n");
    put_places(&out, draft);
    put_sight(&out, draft);
    put_limits(&out, draft);
    table_put(&out, "\nA draft is a start to edit; it approves nothing.\n");
    for (int i = 1; i < TABLE_N_CAUTION; i++) table_print(&out, "%s\n", table_caution[i]);
    table_fold(&out);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the report");
    *text = out.bytes;
    return GRADIN_OK;
}
