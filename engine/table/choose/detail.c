/* One layout of a choice: each must-have beside its need, seats held back, takings. */
#include "gradin/sightline.h"
#include "table/choose/choose.h"

enum { NAME_COLUMNS = 22, FIGURE_COLUMNS = 25, NEED_COLUMNS = 12 };

static void put_cell(table_text *out, const table_text *cell, int columns) {
    table_put_fitted(out, cell->bytes ? cell->bytes : "", columns, true);
    out->failed |= cell->failed;
}

static bool is_open(const gradin_asked *f) {
    return f->low < f->high;
}

/* "0.85 (0.40 to 1.02)" */
static void put_figure(table_text *out, const gradin_must *m, const char *units) {
    table_text cell = {.arena = out->arena};
    table_put_asked(&cell, m->ask, m->figure.value, units);
    if (is_open(&m->figure)) {
        table_put(&cell, " (");
        table_put_bare(&cell, m->ask, m->figure.low, units);
        table_put(&cell, " to ");
        table_put_bare(&cell, m->ask, m->figure.high, units);
        table_put(&cell, ")");
    }
    put_cell(out, &cell, FIGURE_COLUMNS);
}

static void put_need(table_text *out, const gradin_must *m, const char *units) {
    table_text cell = {.arena = out->arena};
    if (m->ask != GRADIN_ASK_FORM) table_put(&cell, gradin_ask_wants_more(m->ask) ? ">= " : "<= ");
    table_put_asked(&cell, m->ask, m->need, units);
    put_cell(out, &cell, NEED_COLUMNS);
}

static void put_must(table_text *out, const gradin_choice *choice, const gradin_candidate *c,
                     const gradin_must *m) {
    table_text name = {.arena = out->arena};
    table_put_ask(&name, choice, m->ask, m->partner);
    table_put(out, "  ");
    put_cell(out, &name, NAME_COLUMNS);
    table_put(out, " ");
    put_figure(out, m, c->model->units);
    table_put(out, " ");
    put_need(out, m, c->model->units);
    table_print(out, " %s\n", table_must_word(m->verdict));
}

static void put_held(table_text *out, const gradin_choice *choice, const gradin_candidate *c) {
    const char *glue = "";
    if (c->n_held == 0) return;
    table_print(out, "  Hold back %d seat%s rated worse than %s: ", c->n_held,
                c->n_held == 1 ? "" : "s", gradin_rating_name(choice->show->sold_to));
    for (int k = GRADIN_REASON_VISIBLE; k < (int)GRADIN_N_REASON; k++) {
        if (c->n_held_reason[k] == 0) continue;
        table_print(out, "%s%d by %s", glue, c->n_held_reason[k],
                    gradin_reason_name((gradin_reason)k));
        glue = ", ";
    }
    if (c->n_held_wheelchair > 0)
        table_print(out, "; %d of them wheelchair places, for which the local code asks",
                    c->n_held_wheelchair);
    table_put(out, ".\n");
}

static void put_takings(table_text *out, const gradin_choice *choice, const gradin_candidate *c) {
    const gradin_show *show = choice->show;
    if (show->n_price == 0) return;
    table_put(out, "  Takings of a full house ");
    table_put_number(out, TABLE_COUNT, c->figure[GRADIN_ASK_TAKINGS].value);
    for (int k = 0; k < show->n_price; k++) {
        table_print(out, "%s %s %d seats for ", k == 0 ? ":" : ",", show->price[k].name,
                    c->sale[k].n_seat);
        table_put_number(out, TABLE_COUNT, c->sale[k].takings);
    }
    if (c->sale[show->n_price].n_seat > 0)
        table_print(out, "; %d seats have no price", c->sale[show->n_price].n_seat);
    table_put(out, ".\n");
}

void table_choice_detail(table_text *out, const gradin_choice *choice, int candidate) {
    const gradin_candidate *c = &choice->candidate[candidate];
    table_text change = {.arena = out->arena};
    table_print(out, "\n%d. %s (%s): %s\n", table_choice_rank(choice, candidate),
                c->model->layout_name, gradin_form_name(c->model->form),
                table_choice_verdict(c->verdict));
    for (int k = 0; k < c->n_must; k++) put_must(out, choice, c, &c->must[k]);
    put_held(out, choice, c);
    put_takings(out, choice, c);
    if (c->lacks_shades) table_put(out, "  It has no shades; it is heard as it is.\n");
    table_choice_lets_in(&change, choice, candidate);
    out->failed |= change.failed;
    if (!change.bytes) return;
    table_put(out, "  ");
    table_put(out, c->verdict == GRADIN_VERDICT_NEAR ? "Would settle it: " : "Would let it in: ");
    table_put(out, change.bytes);
    table_put(out, "\n");
}
