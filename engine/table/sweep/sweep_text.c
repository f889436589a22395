/* The points of a study for people: what the best one is, what competes with it, what matters. */
#include "base/use.h"
#include "gradin/studies/sweep_write.h"
#include "studies/shared/complete.h"
#include "table/shared/cautions.h"
#include "table/sweep/sweep.h"

#include <string.h>

enum { NAME_COLUMNS = 24, VALUE_COLUMNS = 16, MOST_FRONT = 12, MOST_REASON = 5 };

static void put_figure(table_text *out, const gradin_study *s, int column, double value) {
    const char *unit = table_sweep_form(s, column)->unit;
    table_put_number(out, table_sweep_quantity(s, column), value);
    if (unit[0]) table_print(out, " %s", unit);
}

static void put_known(table_text *out, const gradin_study *s, int column, const gradin_known *k) {
    table_quantity quantity = table_sweep_quantity(s, column);
    if (isnan(k->value)) {
        table_put(out, "not known");
        return;
    }
    put_figure(out, s, column, k->value);
    if (k->low == k->value && k->high == k->value) return;
    table_put(out, " (");
    table_put_number(out, quantity, k->low);
    table_put(out, isinf(k->high) ? " or more, not bounded" : " to ");
    table_put_number(out, quantity, k->high);
    table_put(out, ")");
}

static int column_of(const gradin_study *s, gradin_study_figure figure) {
    int i = 0;
    while (i < s->n_figure - 1 && s->figure[i] != figure) i++;
    return i;
}

static void put_needs(table_text *out, const gradin_study *s) {
    table_put(out, s->n_bound > 0 ? "  Needed: " : "  Nothing is needed of a point.\n");
    for (int i = 0; i < s->n_bound; i++) {
        const gradin_study_bound *b = &s->bound[i];
        int column = column_of(s, b->figure);
        table_print(out, "%s%s", i > 0 ? "; " : "", table_sweep_form(s, column)->word);
        if (isfinite(b->least)) {
            table_put(out, " at least ");
            put_figure(out, s, column, b->least);
        }
        if (isfinite(b->most)) {
            table_put(out, " at most ");
            put_figure(out, s, column, b->most);
        }
    }
    if (s->n_bound > 0) table_put(out, ".\n");
}

static void put_search(table_text *out, const gradin_sweep_result *r) {
    const gradin_sought *sought = r->sought;
    table_print(out, "\n\n  A search of %d keys. ", r->study->n_varied);
    if (sought->is_all)
        table_print(out, "All %d combinations were tried", r->n_row);
    else if (sought->n_all < 1e7)
        table_print(out, "%d points were tried, of %.0f combinations", r->n_row, sought->n_all);
    else
        table_print(out, "%d points were tried, of %.0f million combinations", r->n_row,
                    sought->n_all / 1e6);
    table_print(out, "; %d cannot stand.\n", r->n_refused);
}

static void put_figures(table_text *out, const gradin_study *s, const gradin_known *figure) {
    for (int i = 0; i < s->n_figure; i++) {
        table_put(out, "    ");
        table_put_fitted(out, table_sweep_form(s, i)->word, NAME_COLUMNS, true);
        table_put(out, " ");
        put_known(out, s, i, &figure[i]);
        table_put(out, "\n");
    }
}

/* What the search gained. */
static void put_as_written(table_text *out, const gradin_sweep_result *r) {
    if (!r->sought || r->sought->as_written.refused || !r->sought->as_written.figure) return;
    table_put(out, "\nThe files as they are written:\n");
    put_figures(out, r->study, r->sought->as_written.figure);
}

/* Never the optimum: nobody has looked at what was not tried. */
static void put_reach(table_text *out, const gradin_sweep_result *r) {
    if (!r->sought) return;
    table_print(out, "It is the best of %d evaluated%s.\n", r->n_row,
                r->sought->is_all        ? ", which are all"
                : r->sought->is_polished ? ". No step of one key or of two together is better"
                                         : ". Steps of one or two keys from it were not all tried: "
                                           "more points may find a better one");
}

static void put_head(table_text *out, const gradin_sweep_result *r) {
    const gradin_study *s = r->study;
    table_put_fitted(out, s->name, TABLE_PAGE_COLUMNS, false);
    if (r->sought)
        put_search(out, r);
    else
        table_print(out, "\n\n  %d points of %d keys; %d cannot stand.\n", r->n_row, s->n_varied,
                    r->n_refused);
    put_needs(out, s);
    if (s->n_bound > 0)
        table_print(out, "  Kept surely by %d, too near to tell in %d, not kept by %d.\n",
                    r->n_verdict[GRADIN_VERDICT_WITHIN], r->n_verdict[GRADIN_VERDICT_NEAR],
                    r->n_verdict[GRADIN_VERDICT_OVER] - r->n_refused);
}

static void put_point(table_text *out, const gradin_sweep_result *r, int row) {
    const gradin_study *s = r->study;
    for (int k = 0; k < s->n_varied; k++) {
        table_put(out, "    ");
        table_put_fitted(out, s->varied[k].name, NAME_COLUMNS, true);
        table_print(out, " %s\n", table_sweep_value(r, row, k));
    }
    put_figures(out, s, r->row[row].figure);
}

static void put_aims(table_text *out, const gradin_study *s) {
    for (int i = 0; i < s->n_aim; i++)
        table_print(out, "%s%s %s", i > 0 ? ", then " : "", s->aim[i].wants_most ? "most" : "least",
                    table_sweep_form(s, column_of(s, s->aim[i].figure))->word);
}

static void put_nearest(table_text *out, const gradin_sweep_result *r) {
    if (r->nearest < 0) return;
    table_print(out, "\nNor do the figures as stated of any point. The nearest is point %d:\n",
                r->row[r->nearest].point);
    put_point(out, r, r->nearest);
}

static void put_best(table_text *out, const gradin_sweep_result *r) {
    const gradin_study *s = r->study;
    if (s->n_aim == 0) return;
    if (r->best_sure < 0) {
        table_put(out, r->sought && !r->sought->is_all
                           ? "\nNo point that was tried surely keeps what is needed.\n"
                           : "\nNo point surely keeps what is needed.\n");
    } else {
        table_print(out, "\nBest that surely keeps what is needed: point %d (",
                    r->row[r->best_sure].point);
        put_aims(out, s);
        table_put(out, ")\n");
        put_point(out, r, r->best_sure);
        put_reach(out, r);
    }
    put_nearest(out, r);
    if (r->best_stated < 0 || r->best_stated == r->best_sure) return;
    table_print(out,
                "\nBy the figures as stated it would be point %d, which is too near to tell:\n",
                r->row[r->best_stated].point);
    put_point(out, r, r->best_stated);
}

static void put_front_row(table_text *out, const gradin_sweep_result *r, int row) {
    const gradin_study *s = r->study;
    table_print(out, "%7d  ", r->row[row].point);
    for (int i = 0; i < s->n_aim; i++) {
        int column = column_of(s, s->aim[i].figure);
        table_put_right(out, table_sweep_quantity(s, column), r->row[row].figure[column].value,
                        VALUE_COLUMNS);
    }
    table_print(out, "  %-16s ", table_sweep_keeps(r->verdict[row]));
    for (int k = 0; k < s->n_varied; k++)
        table_print(out, "%s%s", k > 0 ? " | " : "", table_sweep_value(r, row, k));
    table_put(out, "\n");
}

static void put_front(table_text *out, const gradin_sweep_result *r) {
    const gradin_study *s = r->study;
    if (s->n_aim < 2 || r->n_front == 0) return;
    table_print(out, "\nPoints that no other beats in every aim: %d%s\n  point  ", r->n_front,
                r->n_front > MOST_FRONT ? "; the first of them" : "");
    for (int i = 0; i < s->n_aim; i++)
        table_print(out, "%*s", VALUE_COLUMNS,
                    table_sweep_form(s, column_of(s, s->aim[i].figure))->word);
    table_put(out, "  needs kept       values\n");
    for (int i = 0; i < r->n_front && i < MOST_FRONT; i++) put_front_row(out, r, r->front[i]);
}

/* What a key moves each figure by: the means at its values, largest less least. */
static void put_swings(table_text *out, const gradin_sweep_result *r) {
    const gradin_study *s = r->study;
    table_put(out, "\nWhat each key moves the mean of a figure by, at most:\n");
    for (int i = 0; i < s->n_figure; i++) {
        table_put(out, "    ");
        table_put_fitted(out, table_sweep_form(s, i)->word, NAME_COLUMNS, true);
        for (int k = 0; k < s->n_varied; k++) {
            table_print(out, "%s%s ", k > 0 ? ", " : " ", s->varied[k].name);
            if (isnan(r->swing[k * s->n_figure + i]))
                table_put(out, "-");
            else
                table_put_number(out, table_sweep_quantity(s, i), r->swing[k * s->n_figure + i]);
        }
        table_put(out, "\n");
    }
}

static bool is_told(const gradin_sweep_result *r, int row) {
    for (int i = 0; i < row; i++)
        if (r->row[i].refused && strcmp(r->row[i].refused, r->row[row].refused) == 0) return true;
    return false;
}

static void put_refused(table_text *out, const gradin_sweep_result *r) {
    int n = 0;
    if (r->n_refused == 0) return;
    table_put(out, "\nWhy points cannot stand:\n");
    for (int i = 0; i < r->n_row && n < MOST_REASON; i++) {
        if (!r->row[i].refused || is_told(r, i)) continue;
        table_print(out, "  point %d: %s\n", r->row[i].point, r->row[i].refused);
        n++;
    }
}

static void put_basis(table_text *out) {
    table_put(out,
              "\nFigures in brackets are bounds: of ratings what samples leave open, of levels and "
              "events their systematic part at the confidence of the brief. Errors that all points "
              "share are in them, so a difference between two points is surer than either. The "
              "best is the best of these points alone. Points that cannot stand are left out of "
              "all means.\n");
    for (int i = 0; i < TABLE_N_CAUTION; i++) table_print(out, "%s\n", table_caution[i]);
}

gradin_status gradin_sweep_text(gradin_arena *arena, const gradin_sweep_result *result, char **text,
                                gradin_error *error) {
    if (NEEDS(error, arena, text) != GRADIN_OK || sweep_complete(result, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    put_head(&out, result);
    put_best(&out, result);
    put_as_written(&out, result);
    put_front(&out, result);
    put_swings(&out, result);
    put_refused(&out, result);
    put_basis(&out);
    table_fold(&out);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the points");
    *text = out.bytes;
    return GRADIN_OK;
}
