/* Layouts compared, for a terminal: the verdict first, then what each offers, then pair by pair. */
#include "base/use.h"
#include "studies/shared/complete.h"
#include "table/assess/summary_limits.h"
#include "table/compare/words.h"
#include "table/shared/cautions.h"

#include "gradin/studies/compare_write.h"

#include <stdio.h>

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
static void put_row(table_text *out, const gradin_comparison *c, const char *label,
                    length_unit unit, const double *value) {
    put_label(out, label);
    for (int i = 0; i < c->n_layout; i++) table_put_length_right(out, value[i], unit, COLUMN);
    if (c->n_layout == 2) table_put_length_right(out, value[1] - value[0], unit, COLUMN);
    table_put(out, "\n");
}

static const length_unit of_count = {"", 1.0, 0};
static const length_unit of_percent = {"%", 100.0, 1};

static void put_counts(table_text *out, const gradin_comparison *c, const char *label,
                       int of(const gradin_seat_sums *sum)) {
    double value[GRADIN_MAX_COMPARED];
    for (int i = 0; i < c->n_layout; i++) value[i] = of(&c->layout[i].all);
    put_row(out, c, label, of_count, value);
}

static int seats_of(const gradin_seat_sums *sum) {
    return sum->n_seat;
}
static int wheelchairs_of(const gradin_seat_sums *sum) {
    return sum->n_wheelchair;
}
static int companions_of(const gradin_seat_sums *sum) {
    return sum->n_companion;
}
static int within_of(const gradin_seat_sums *sum) {
    return sum->n_verdict[GRADIN_VERDICT_WITHIN];
}
static int near_of(const gradin_seat_sums *sum) {
    return sum->n_verdict[GRADIN_VERDICT_NEAR];
}
static int over_of(const gradin_seat_sums *sum) {
    return sum->n_verdict[GRADIN_VERDICT_OVER];
}

static void put_ratings(table_text *out, const gradin_comparison *c) {
    for (int k = 0; k < GRADIN_N_RATING; k++) {
        double value[GRADIN_MAX_COMPARED];
        char label[40];
        for (int i = 0; i < c->n_layout; i++) {
            const gradin_seat_sums *all = &c->layout[i].all;
            value[i] = all->n_seat > 0 ? (double)all->n_rating[k] / all->n_seat : NAN;
        }
        snprintf(label, sizeof label, "rated %s, %%", gradin_rating_name((gradin_rating)k));
        put_row(out, c, label, of_percent, value);
    }
}

static bool has_any(const gradin_comparison *c, gradin_figure figure) {
    for (int i = 0; i < c->n_layout; i++)
        if (isfinite(c->layout[i].all.figure[figure].median)) return true;
    return false;
}

typedef struct percentile_row {
    gradin_figure figure;
    const char *label;
    size_t member;
} percentile_row;

static void put_percentiles(table_text *out, const gradin_comparison *c) {
    static const percentile_row row[] = {
        {GRADIN_FIGURE_VISIBLE, "focus seen, 10th pct", offsetof(gradin_spread, p10)},
        {GRADIN_FIGURE_VISIBLE, "focus seen, median", offsetof(gradin_spread, median)},
        {GRADIN_FIGURE_CLEAR_VIEW, "clear view, 10th pct", offsetof(gradin_spread, p10)},
        {GRADIN_FIGURE_CLEAR_VIEW, "clear view, median", offsetof(gradin_spread, median)},
        {GRADIN_FIGURE_C_VALUE, "C-value, 10th pct", offsetof(gradin_spread, p10)},
        {GRADIN_FIGURE_C_VALUE, "C-value, median", offsetof(gradin_spread, median)},
        {GRADIN_FIGURE_DISTANCE, "distance, median", offsetof(gradin_spread, median)},
        {GRADIN_FIGURE_DISTANCE, "distance, 90th pct", offsetof(gradin_spread, p90)},
        {GRADIN_FIGURE_LAMAX, "overflight, median", offsetof(gradin_spread, median)},
        {GRADIN_FIGURE_LAMAX, "overflight, 90th pct", offsetof(gradin_spread, p90)}};
    const char *units = c->layout[0].assessment->model->units;
    for (size_t r = 0; r < sizeof row / sizeof row[0]; r++) {
        double value[GRADIN_MAX_COMPARED];
        char label[64];
        if (!has_any(c, row[r].figure)) continue;
        for (int i = 0; i < c->n_layout; i++)
            value[i] = *(const double *)((const char *)&c->layout[i].all.figure[row[r].figure] +
                                         row[r].member);
        length_unit unit = table_figure_unit(row[r].figure, units);
        snprintf(label, sizeof label, "%s, %s", row[r].label, unit.name);
        put_row(out, c, label, unit, value);
    }
}

static void put_noise(table_text *out, const gradin_comparison *c) {
    bool is_held = false;
    for (int i = 0; i < c->n_layout; i++)
        is_held |=
            within_of(&c->layout[i].all) + near_of(&c->layout[i].all) + over_of(&c->layout[i].all) >
            0;
    if (!is_held) return;
    put_counts(out, c, "seats within the limits", within_of);
    put_counts(out, c, "  too near to tell", near_of);
    put_counts(out, c, "  over a limit", over_of);
}

static void put_hours(table_text *out, const gradin_comparison *c) {
    bool is_any = false;
    for (int i = 0; i < c->n_layout; i++)
        is_any |= isfinite(c->layout[i].aim[GRADIN_AIM_CHANGEOVER]);
    if (!is_any) return;
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
    put_counts(out, c, "seats", seats_of);
    put_counts(out, c, "  for wheelchairs", wheelchairs_of);
    put_counts(out, c, "  for companions", companions_of);
    put_ratings(out, c);
    put_percentiles(out, c);
    put_noise(out, c);
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
