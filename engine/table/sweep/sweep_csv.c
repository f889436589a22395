/* The points of a study as RFC 4180: a line per point; and a line per value of a key with the means
 * of all figures over the points that have it. A bound that nobody knows is empty. */
#include "base/use.h"
#include "gradin/studies/sweep_write.h"
#include "studies/shared/complete.h"
#include "table/sweep/sweep.h"

static const char caution[] =
    "plans only: local codes and licensed practice decide; predicted levels are no measurement";

static void put_head(table_text *out, const gradin_sweep_result *r, const bool *has_bounds) {
    table_put(out, "point,");
    for (int k = 0; k < r->study->n_varied; k++) {
        table_put_quoted(out, r->study->varied[k].name);
        table_put(out, ",");
    }
    for (int i = 0; i < r->study->n_figure; i++) {
        const char *word = table_sweep_form(r->study, i)->word;
        table_print(out, "%s,", word);
        if (has_bounds[i]) table_print(out, "%s_low,%s_high,", word, word);
    }
    table_put(out, "keeps_needs,refused,caution\r\n");
}

static void put_figures(table_text *out, const gradin_study *s, const gradin_sweep_row *row,
                        const bool *has_bounds) {
    for (int i = 0; i < s->n_figure; i++) {
        const gradin_known none = {NAN, NAN, NAN}, *k = row->refused ? &none : &row->figure[i];
        table_quantity quantity = table_sweep_quantity(s, i);
        table_put_number(out, quantity, k->value);
        table_put(out, ",");
        if (!has_bounds[i]) continue;
        table_put_number(out, quantity, k->low);
        table_put(out, ",");
        table_put_number(out, quantity, k->high);
        table_put(out, ",");
    }
}

static void put_row(table_text *out, const gradin_sweep_result *r, int i, const bool *has_bounds) {
    const gradin_sweep_row *row = &r->row[i];
    table_print(out, "%d,", row->point);
    for (int k = 0; k < r->study->n_varied; k++) {
        table_put_quoted(out, table_sweep_value(r, i, k));
        table_put(out, ",");
    }
    put_figures(out, r->study, row, has_bounds);
    table_print(out, "%s,", row->refused ? "" : table_sweep_keeps(r->verdict[i]));
    if (row->refused) table_put_quoted(out, row->refused);
    table_print(out, ",%s\r\n", caution);
}

static gradin_status finish(const table_text *out, char **text, size_t *size, gradin_error *error) {
    if (out->failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the points");
    *text = out->bytes;
    *size = out->size;
    return GRADIN_OK;
}

gradin_status gradin_sweep_csv(gradin_arena *arena, const gradin_sweep_result *result, char **text,
                               size_t *size, gradin_error *error) {
    bool has_bounds[GRADIN_N_STUDY_FIGURE];
    if (NEEDS(error, arena, text, size) != GRADIN_OK || sweep_complete(result, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    for (int i = 0; i < result->study->n_figure; i++)
        has_bounds[i] = table_sweep_has_bounds(result, i);
    put_head(&out, result, has_bounds);
    for (int i = 0; i < result->n_row; i++) put_row(&out, result, i, has_bounds);
    return finish(&out, text, size, error);
}

gradin_status gradin_sweep_effects_csv(gradin_arena *arena, const gradin_sweep_result *result,
                                       char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK || sweep_complete(result, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    const gradin_study *s = result->study;
    table_put(&out, "key,value,points");
    for (int i = 0; i < s->n_figure; i++) table_print(&out, ",%s", table_sweep_form(s, i)->word);
    table_put(&out, "\r\n");
    for (int e = 0; e < result->n_effect; e++) {
        table_put_quoted(&out, s->varied[result->effect[e].key].name);
        table_put(&out, ",");
        table_put_quoted(&out, result->effect[e].value);
        table_print(&out, ",%d", result->effect[e].n_point);
        for (int i = 0; i < s->n_figure; i++) {
            table_put(&out, ",");
            table_put_number(&out, table_sweep_quantity(s, i), result->effect[e].mean[i]);
        }
        table_put(&out, "\r\n");
    }
    return finish(&out, text, size, error);
}
