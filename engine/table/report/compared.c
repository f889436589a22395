/* Layouts compared, in the report: the verdict in sentences, what each offers, and per pair the
 * blocks, the figures and the seats that change most, as tables. The figures are those of the text
 * that a terminal gets. */
#include "table/assess/summary_limits.h"
#include "table/compare/words.h"
#include "table/report/html.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const char none[] = "\xe2\x80\x93";

/* A line of the text is a line here; blanks before it are for a terminal. */
static void put_paragraph(table_text *out, const table_text *plain) {
    const char *line = plain->bytes ? plain->bytes : "";
    out->failed |= plain->failed;
    if (*line == '\0') return;
    table_put(out, "<p>");
    while (*line != '\0') {
        line += strspn(line, " ");
        size_t length = strcspn(line, "\n");
        html_put_bytes(out, line, length);
        line += length;
        line += strspn(line, "\n");
        if (*line != '\0') table_put(out, "<br>\n");
    }
    table_put(out, "</p>\n");
}

static void open_table(table_text *out, const char *caption) {
    table_put(out, "<div class=\"wide\"><table><caption>");
    html_put(out, caption);
    table_put(out, "</caption><thead><tr>");
}

static void put_head(table_text *out, const char *head, bool is_number) {
    table_put(out, is_number ? "<th scope=\"col\" class=\"n\">" : "<th scope=\"col\">");
    html_put(out, head);
    table_put(out, "</th>");
}

static void begin_rows(table_text *out) {
    table_put(out, "</tr></thead>\n<tbody>\n");
}

static void close_table(table_text *out) {
    table_put(out, "</tbody></table></div>\n");
}

static void put_count(table_text *out, int n) {
    table_print(out, "<td class=\"n\">%d</td>", n);
}

static void put_length(table_text *out, double value, length_unit unit) {
    table_put(out, "<td class=\"n\">");
    if (isfinite(value))
        table_put_length_number(out, value, unit);
    else
        table_put(out, none);
    table_put(out, "</td>");
}

static void put_name(table_text *out, const char *name) {
    table_put(out, "<tr><th scope=\"row\">");
    html_put(out, name);
    table_put(out, "</th>");
}

/* "A, Thrust" as a head of a column. */
static void put_layout_head(table_text *out, const gradin_comparison *c, int layout) {
    table_print(out, "<th scope=\"col\" class=\"n\">%c, ", table_compare_letter(layout));
    html_put(out, table_compare_name(c, layout));
    table_put(out, "</th>");
}

static void put_verdicts(table_text *out, const gradin_comparison *c) {
    for (int p = 0; p + 1 < c->n_layout; p++) {
        table_text plain = {.arena = out->arena};
        table_compare_verdict(&plain, c, p);
        put_paragraph(out, &plain);
    }
    table_text plain = {.arena = out->arena};
    if (c->n_layout > 2) table_compare_front(&plain, c);
    put_paragraph(out, &plain);
}

static void put_total(void *user, const gradin_comparison *c, const char *label, length_unit unit,
                      const double *value) {
    table_text *out = user;
    put_name(out, label + strspn(label, " "));
    for (int i = 0; i < c->n_layout; i++) put_length(out, value[i], unit);
    if (c->n_layout == 2) put_length(out, value[1] - value[0], unit);
    table_put(out, "</tr>\n");
}

static void put_clock(table_text *out, double seconds) {
    table_put(out, "<td class=\"n\">");
    if (isfinite(seconds))
        table_put_clock(out, (int)ceil(seconds), 0);
    else
        table_put(out, none);
    table_put(out, "</td>");
}

static void put_last_totals(table_text *out, const gradin_comparison *c) {
    const char *ending = c->n_layout == 2 ? "<td></td></tr>\n" : "</tr>\n";
    if (table_compare_has_changeovers(c)) {
        put_name(out, c->n_layout == 2 ? "changeover into it from the other, h:mm"
                                       : "changeover into it, mean, h:mm");
        for (int i = 0; i < c->n_layout; i++)
            put_clock(out, c->layout[i].aim[GRADIN_AIM_CHANGEOVER]);
        table_put(out, ending);
    }
    put_name(out, "beaten by another");
    for (int i = 0; i < c->n_layout; i++)
        table_print(out, "<td class=\"n\">%s</td>", c->layout[i].is_on_front ? "no" : "yes");
    table_put(out, ending);
}

static void put_totals(table_text *out, const gradin_comparison *c) {
    open_table(out, "What each layout offers");
    put_head(out, "figure", false);
    for (int i = 0; i < c->n_layout; i++) put_layout_head(out, c, i);
    if (c->n_layout == 2) put_head(out, "B less A", true);
    begin_rows(out);
    table_compare_totals(c, &(table_compare_rows){put_total, out});
    put_last_totals(out, c);
    close_table(out);
}

static void put_block(table_text *out, const gradin_comparison *c, const gradin_compared_pair *pair,
                      int block) {
    const gradin_change_sums *sum = block < 0 ? &pair->all : &pair->block[block];
    const gradin_compared_layout *side[2] = {&c->layout[pair->first], &c->layout[pair->second]};
    const int *noise = sum->n_effect[GRADIN_FIGURE_LAMAX];
    const gradin_seat_sums *own[2];
    for (int of = 0; of < 2; of++) own[of] = block < 0 ? &side[of]->all : &side[of]->block[block];
    if (own[0]->n_seat + own[1]->n_seat == 0) return;
    put_name(out, block < 0 ? "all" : c->block_name[block]);
    for (int of = 0; of < 2; of++) put_count(out, own[of]->n_seat);
    for (int of = 0; of < 2; of++) put_count(out, own[of]->n_wheelchair);
    put_count(out, sum->n_better);
    put_count(out, sum->n_same);
    put_count(out, sum->n_worse);
    put_count(out, noise[GRADIN_EFFECT_BETTER]);
    put_count(out, noise[GRADIN_EFFECT_SAME]);
    put_count(out, noise[GRADIN_EFFECT_WORSE]);
    table_put(out, "</tr>\n");
}

static void put_blocks(table_text *out, const gradin_comparison *c,
                       const gradin_compared_pair *pair) {
    static const char *const head[] = {"class better", "class the same", "class worse",
                                       "quieter",      "as loud",        "louder"};
    char text[40];
    open_table(out, "Blocks: seats and wheelchair places of both, matched seats by their class of "
                    "rating and by the level of the overflight");
    put_head(out, "block", false);
    for (int k = 0; k < 4; k++) {
        char letter = table_compare_letter(k % 2 == 0 ? pair->first : pair->second);
        snprintf(text, sizeof text, "%s in %c", k < 2 ? "seats" : "wheelchair places", letter);
        put_head(out, text, true);
    }
    for (size_t k = 0; k < sizeof head / sizeof head[0]; k++) put_head(out, head[k], true);
    begin_rows(out);
    for (int k = 0; k < c->n_block; k++) put_block(out, c, pair, k);
    put_block(out, c, pair, -1);
    close_table(out);
}

static void put_figures(table_text *out, const gradin_comparison *c,
                        const gradin_compared_pair *pair) {
    const char *units = c->layout[0].assessment->model->units;
    open_table(out, "Matched seats by each figure alone");
    put_head(out, "figure", false);
    put_head(out, "better", true);
    put_head(out, "no difference", true);
    put_head(out, "worse", true);
    put_head(out, "told from", true);
    begin_rows(out);
    for (int k = 0; k < GRADIN_N_FIGURE; k++) {
        const int *n = pair->all.n_effect[k];
        double tells = table_compare_tells(pair, (gradin_figure)k);
        if (!isfinite(tells)) continue;
        put_name(out, table_figure_name((gradin_figure)k));
        put_count(out, n[GRADIN_EFFECT_BETTER]);
        put_count(out, n[GRADIN_EFFECT_SAME]);
        put_count(out, n[GRADIN_EFFECT_WORSE]);
        table_put(out, "<td class=\"n\">");
        table_put_length(out, tells, table_figure_unit((gradin_figure)k, units));
        table_put(out, "</td></tr>\n");
    }
    close_table(out);
}

static void put_cell(table_text *out, const char *text) {
    table_put(out, "<td>");
    html_put(out, text);
    table_put(out, "</td>");
}

/* "heads +53.9", in points. */
static void put_hidden(table_text *out, const gradin_seat_change *change) {
    double points = 100.0 * change->hidden_change;
    table_put(out, "<td>");
    if (table_compare_reason(change) == GRADIN_FIGURE_VISIBLE && fabs(points) >= 0.05) {
        html_put(out, gradin_cause_name(change->hidden));
        table_put(out, points > 0.0 ? " +" : " ");
        table_put_number(out, TABLE_PERCENT, points);
    }
    table_put(out, "</td></tr>\n");
}

static void put_change(table_text *out, const gradin_comparison *c,
                       const gradin_compared_pair *pair, const gradin_seat_change *change) {
    const gradin_assessment *side[2] = {c->layout[pair->first].assessment,
                                        c->layout[pair->second].assessment};
    gradin_figure figure = table_compare_reason(change);
    length_unit unit = table_figure_unit(figure, side[0]->model->units);
    put_name(out, side[0]->model->seats.id[change->seat[0]]);
    put_cell(out, side[1]->model->seats.id[change->seat[1]]);
    for (int of = 0; of < 2; of++)
        put_cell(out, gradin_rating_name(side[of]->sight.rating[change->seat[of]]));
    table_put(out, "<td>");
    html_put(out, table_figure_name(figure));
    table_print(out, ", %s</td>", unit.name);
    for (int of = 0; of < 2; of++) put_length(out, change->value[of][figure], unit);
    put_hidden(out, change);
}

static void put_largest(table_text *out, const gradin_comparison *c,
                        const gradin_compared_pair *pair) {
    static const char *const head[] = {"seat in", "class in", "in"};
    char text[40];
    if (pair->n_largest == 0) return;
    open_table(out, "The largest changes: the figure that moved the class, and what hides more or "
                    "less of the focus, in points");
    for (int k = 0; k < 7; k++) {
        char letter =
            table_compare_letter((k < 4 ? k : k - 1) % 2 == 0 ? pair->first : pair->second);
        snprintf(text, sizeof text, "%s %c", head[k < 2 ? 0 : k < 4 ? 1 : 2], letter);
        put_head(out, k == 4 ? "figure" : text, k > 4);
    }
    put_head(out, "hides more or less", false);
    begin_rows(out);
    for (int k = 0; k < pair->n_largest; k++)
        put_change(out, c, pair, &pair->change[pair->largest[k]]);
    close_table(out);
}

static void put_pair(table_text *out, const gradin_comparison *c,
                     const gradin_compared_pair *pair) {
    table_text match = {.arena = out->arena}, causes = match;
    table_print(out, "<h3>%c, ", table_compare_letter(pair->second));
    html_put(out, table_compare_name(c, pair->second));
    table_print(out, ", beside %c, ", table_compare_letter(pair->first));
    html_put(out, table_compare_name(c, pair->first));
    table_put(out, "</h3>\n");
    table_compare_match(&match, pair);
    put_paragraph(out, &match);
    put_blocks(out, c, pair);
    table_compare_causes(&causes, pair);
    put_paragraph(out, &causes);
    put_figures(out, c, pair);
    put_largest(out, c, pair);
}

static void put_ways(table_text *out, const gradin_comparison *c) {
    int n = c->n_layout;
    open_table(out, "Changeovers");
    put_head(out, "from", false);
    put_head(out, "to", false);
    put_head(out, "h:mm", true);
    put_head(out, "person-hours", true);
    begin_rows(out);
    for (int k = 0; k < n * n; k++) {
        const gradin_compared_changeover *way = &c->changeover[k];
        if (k / n == k % n) continue;
        put_name(out, table_compare_name(c, k / n));
        put_cell(out, table_compare_name(c, k % n));
        if (way->is_planned) {
            put_clock(out, way->plan.total_s);
            table_put(out, "<td class=\"n\">");
            table_put_number(out, TABLE_PERCENT, way->plan.person_hours);
        } else {
            table_put(out, "<td colspan=\"2\">none: ");
            html_put(out, way->why_not);
        }
        table_put(out, "</td></tr>\n");
    }
    close_table(out);
}

static void put_limits(table_text *out, const gradin_comparison *c) {
    for (int i = 0; i < c->n_layout; i++) {
        table_text plain = {.arena = out->arena};
        bool is_other = i == 0;
        for (int k = 0; i > 0 && k < GRADIN_N_REASON; k++)
            is_other |= c->pair[i - 1].is_limit_other[k];
        table_print(&plain, "%c: ", table_compare_letter(i));
        if (is_other)
            table_summary_limits_text(&plain, c->layout[i].assessment);
        else
            table_put(&plain, "the limits of A");
        put_paragraph(out, &plain);
    }
}

void html_put_compared(table_text *out, const gradin_comparison *comparison) {
    put_verdicts(out, comparison);
    put_totals(out, comparison);
    for (int p = 0; p + 1 < comparison->n_layout; p++)
        put_pair(out, comparison, &comparison->pair[p]);
    put_ways(out, comparison);
    put_limits(out, comparison);
}
