/* A choice for people: the answer, one line per layout, each layout, what moves it. */
#include "base/use.h"
#include "gradin/studies/choose_write.h"
#include "studies/shared/complete.h"
#include "table/changeover/moves.h"
#include "table/choose/choose.h"
#include "table/shared/cautions.h"

enum { LAYOUT_COLUMNS = 20, VERDICT_COLUMNS = 16 };

static void put_head(table_text *out, const gradin_choice *choice) {
    table_put_fitted(out, choice->show->name, TABLE_PAGE_COLUMNS, false);
    table_put(out, "\n");
    table_put_fitted(out, choice->candidate[0].model->venue_name, TABLE_PAGE_COLUMNS, false);
    table_put(out, "\n\n");
    table_text answer = {.arena = out->arena};
    table_choice_answer(&answer, choice);
    table_put(out, "  ");
    if (answer.bytes) table_put_wrapped(out, answer.bytes, 2, 2);
    out->failed |= answer.failed;
    table_put(out, "\n");
}

static void put_layout(table_text *out, const gradin_choice *choice, int place) {
    const gradin_candidate *c = &choice->candidate[choice->order[place]];
    table_print(out, "%2d  ", place + 1);
    table_put_fitted(out, c->model->layout_name, LAYOUT_COLUMNS, true);
    table_put(out, " ");
    table_put_fitted(out, table_choice_verdict(c->verdict), VERDICT_COLUMNS, true);
    table_put_right(out, TABLE_COUNT, choice->show->n_wished > 0 ? 100.0 * c->score : NAN, 6);
    table_put_right(out, TABLE_COUNT, 100.0 * c->meets_share, 9);
    table_put_right(out, TABLE_COUNT, 100.0 * c->first_share, 8);
    table_print(out, "%8.0f%8d\n", c->figure[GRADIN_ASK_SEATS].value, c->n_held);
}

static void put_layouts(table_text *out, const gradin_choice *choice) {
    table_print(out, "\n    %-*s %-*s%6s%9s%8s%8s%8s\n", LAYOUT_COLUMNS, "layout", VERDICT_COLUMNS,
                "must-haves", "score", "has all", "first", "to sell", "held");
    table_print(out, "    %-*s %-*s%6s%9s%8s%8s%8s\n", LAYOUT_COLUMNS, "", VERDICT_COLUMNS, "",
                "of 100", "% draws", "% draws", "seats", "back");
    for (int k = 0; k < choice->n_candidate; k++) put_layout(out, choice, k);
}

static void put_cautions(table_text *out, const gradin_choice *choice) {
    for (int i = 0; i < TABLE_N_CAUTION; i++) table_print(out, "%s\n", table_caution[i]);
    for (int i = 1; i < TABLE_N_MOVE_CAUTION && choice->show->n_partner > 0; i++)
        table_print(out, "%s\n", table_move_caution[i]);
}

gradin_status gradin_choice_text(gradin_arena *arena, const gradin_choice *choice, char **text,
                                 gradin_error *error) {
    if (NEEDS(error, arena, text) != GRADIN_OK || choice_complete(choice, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    put_head(&out, choice);
    put_layouts(&out, choice);
    for (int k = 0; k < choice->n_candidate; k++)
        table_choice_detail(&out, choice, choice->order[k]);
    table_choice_weights(&out, choice);
    table_choice_basis(&out, choice);
    put_cautions(&out, choice);
    table_fold(&out);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the choice");
    *text = out.bytes;
    return GRADIN_OK;
}
