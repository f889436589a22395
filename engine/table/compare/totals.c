/* What each layout offers, row by row, whoever writes it: places, shares of ratings, percentiles of
 * figures, seats by the limits of noise. */
#include "table/compare/words.h"

#include <stdio.h>

static const length_unit of_count = {"", 1.0, 0};
static const length_unit of_percent = {"%", 100.0, 1};

static void give_counts(const table_compare_rows *to, const gradin_comparison *c, const char *label,
                        int of(const gradin_seat_sums *sum)) {
    double value[GRADIN_MAX_COMPARED];
    for (int i = 0; i < c->n_layout; i++) value[i] = of(&c->layout[i].all);
    to->row(to->user, c, label, of_count, value);
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

static void give_ratings(const table_compare_rows *to, const gradin_comparison *c) {
    for (int k = 0; k < GRADIN_N_RATING; k++) {
        double value[GRADIN_MAX_COMPARED];
        char label[40];
        for (int i = 0; i < c->n_layout; i++) {
            const gradin_seat_sums *all = &c->layout[i].all;
            value[i] = all->n_seat > 0 ? (double)all->n_rating[k] / all->n_seat : NAN;
        }
        snprintf(label, sizeof label, "rated %s, %%", gradin_rating_name((gradin_rating)k));
        to->row(to->user, c, label, of_percent, value);
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

static void give_percentiles(const table_compare_rows *to, const gradin_comparison *c) {
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
        to->row(to->user, c, label, unit, value);
    }
}

static void give_noise(const table_compare_rows *to, const gradin_comparison *c) {
    bool is_held = false;
    for (int i = 0; i < c->n_layout; i++)
        is_held |=
            within_of(&c->layout[i].all) + near_of(&c->layout[i].all) + over_of(&c->layout[i].all) >
            0;
    if (!is_held) return;
    give_counts(to, c, "seats within the limits", within_of);
    give_counts(to, c, "  too near to tell", near_of);
    give_counts(to, c, "  over a limit", over_of);
}

void table_compare_totals(const gradin_comparison *c, const table_compare_rows *to) {
    give_counts(to, c, "seats", seats_of);
    give_counts(to, c, "  for wheelchairs", wheelchairs_of);
    give_counts(to, c, "  for companions", companions_of);
    give_ratings(to, c);
    give_percentiles(to, c);
    give_noise(to, c);
}

bool table_compare_has_changeovers(const gradin_comparison *c) {
    for (int i = 0; i < c->n_layout; i++)
        if (isfinite(c->layout[i].aim[GRADIN_AIM_CHANGEOVER])) return true;
    return false;
}
