/* Layouts compared, for a terminal: the verdict first, then what each offers, then pair by pair. */
#include "base/use.h"
#include "studies/shared/complete.h"
#include "table/assess/summary_limits.h"
#include "table/compare/words.h"
#include "table/shared/cautions.h"

#include "gradin/studies/compare_write.h"

enum { LABEL = 27, COLUMN = 8 };

static void put_label(table_text *out, const char *label) {
    table_put_fitted(out, label, LABEL, true);
}

static void put_heads(table_text *out, const gradin_comparison *c) {
    put_label(out, "");
    for (int i = 0; i < c->n_layout; i++)
        table_print(out, "%*s%c", COLUMN - 1, "", table_compare_letter(i));
    table_put(out, c->n_layout == 2 ? "   B - A\n" : "\n");
}

/* The difference only of two layouts, and only in numbers that both have. */
static void put_row(void *user, const gradin_comparison *c, const char *label, length_unit unit,
                    const double *value) {
    table_text *out = user;
    put_label(out, label);
    for (int i = 0; i < c->n_layout; i++) table_put_length_right(out, value[i], unit, COLUMN);
    if (c->n_layout == 2) table_put_length_right(out, value[1] - value[0], unit, COLUMN);
    table_put(out, "\n");
}

static void put_hours(table_text *out, const gradin_comparison *c) {
    if (!table_compare_has_changeovers(c)) return;
    put_label(out, c->n_layout == 2 ? "into it from the other, h" : "into it, mean, h");
    for (int i = 0; i < c->n_layout; i++) {
        double total_s = c->layout[i].aim[GRADIN_AIM_CHANGEOVER];
        if (isfinite(total_s))
            table_put_clock(out, (int)ceil(total_s), COLUMN);
        else
            table_print(out, "%*s", COLUMN, "-");
    }
    table_put(out, "\n");
}

static void put_front(table_text *out, const gradin_comparison *c) {
    put_label(out, "beaten by another");
    for (int i = 0; i < c->n_layout; i++)
        table_print(out, "%*s", COLUMN, c->layout[i].is_on_front ? "no" : "yes");
    table_put(out, "\n");
}

static void put_totals(table_text *out, const gradin_comparison *c) {
    put_heads(out, c);
    table_compare_totals(c, &(table_compare_rows){put_row, out});
    put_hours(out, c);
    put_front(out, c);
}

static void put_head(table_text *out, const gradin_comparison *c) {
    for (int i = 0; i < c->n_layout; i++) {
        const gradin_model *m = c->layout[i].assessment->model;
        table_print(out, "%c  %s, in %s\n", table_compare_letter(i), m->layout_name, m->venue_name);
        table_print(out, "   input digest %s\n", m->digest);
    }
    table_put(out, "\n");
    for (int p = 0; p + 1 < c->n_layout; p++) {
        table_compare_verdict(out, c, p);
        table_put(out, c->n_layout > 2 ? "\n\n" : "\n");
    }
    if (c->n_layout > 2) {
        table_compare_front(out, c);
        table_put(out, "\n");
    }
    table_put(out, "\n");
}

static void put_ways(table_text *out, const gradin_comparison *c) {
    int n = c->n_layout;
    table_put(out, "\nChangeover             h:mm  person-hours\n");
    for (int k = 0; k < n * n; k++) {
        const gradin_compared_changeover *way = &c->changeover[k];
        if (k / n == k % n) continue;
        table_print(out, "  %c to %c", table_compare_letter(k / n), table_compare_letter(k % n));
        if (way->is_planned) {
            table_put_clock(out, way->plan.total_s, 19);
            table_put_right(out, TABLE_PERCENT, way->plan.person_hours, 14);
        } else {
            table_print(out, "  none: %s", way->why_not);
        }
        table_put(out, "\n");
    }
}

static void put_limits(table_text *out, const gradin_comparison *c) {
    for (int i = 0; i < c->n_layout; i++) {
        bool is_other = i == 0;
        for (int k = 0; i > 0 && k < GRADIN_N_REASON; k++)
            is_other |= c->pair[i - 1].is_limit_other[k];
        table_print(out, "\n%c: ", table_compare_letter(i));
        if (is_other)
            table_summary_limits_text(out, c->layout[i].assessment);
        else
            table_put(out, "the limits of A\n");
    }
}

static void put_all(table_text *out, const gradin_comparison *c) {
    put_head(out, c);
    put_totals(out, c);
    for (int p = 0; p + 1 < c->n_layout; p++) table_compare_pair_text(out, c, p);
    put_ways(out, c);
    put_limits(out, c);
    table_put(out, "\n");
    for (int k = 0; k < TABLE_N_CAUTION; k++) table_print(out, "%s\n", table_caution[k]);
    table_fold(out);
}

gradin_status gradin_compare_text(gradin_arena *arena, const gradin_comparison *comparison,
                                  char **text, gradin_error *error) {
    if (NEEDS(error, arena, text) != GRADIN_OK ||
        comparison_complete(comparison, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    put_all(&out, comparison);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the comparison");
    *text = out.bytes;
    return GRADIN_OK;
}

gradin_status gradin_compare_verdict_text(gradin_arena *arena, const gradin_comparison *comparison,
                                          int pair, char **text, gradin_error *error) {
    if (NEEDS(error, arena, text) != GRADIN_OK ||
        comparison_complete(comparison, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (pair < 0 || pair + 1 >= comparison->n_layout)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "the comparison has no pair %d", pair);
    table_text out = {.arena = arena};
    table_compare_verdict(&out, comparison, pair);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the comparison");
    *text = out.bytes;
    return GRADIN_OK;
}
