/* The tables of the HTML report: every layout in a line, and the worst seats of each. */
#include "table/report/html.h"
#include "table/shared/doubt.h"
#include "table/shared/gaps.h"
#include "table/shared/names.h"

#include <math.h>

static void put_cell(table_text *out, const char *text) {
    table_put(out, "<td>");
    html_put(out, text ? text : "\xe2\x80\x93");
    table_put(out, "</td>");
}

static void put_number_cell(table_text *out, table_quantity quantity, double value,
                            const char *unit) {
    table_put(out, "<td class=\"n\">");
    if (isfinite(value)) {
        table_put_number(out, quantity, value);
        table_print(out, " %s", unit);
    } else
        table_put(out, "\xe2\x80\x93");
    table_put(out, "</td>");
}

static void put_count_cell(table_text *out, int n, int of) {
    table_print(out, "<td class=\"n\">%d", n);
    if (of > 0) {
        table_put(out, " (");
        table_put_number(out, TABLE_PERCENT, 100.0 * n / of);
        table_put(out, " %)");
    }
    table_put(out, "</td>");
}

static void put_noise_cells(table_text *out, const gradin_assessment *a) {
    double median = a->has_noise ? a->lamax_db[GRADIN_SHADES_AS_SET].median : NAN;
    put_number_cell(out, TABLE_DECIBEL, median, "dB(A)");
    if (!a->has_noise || isnan(a->model->criterion.lamax_dba)) {
        put_cell(out, a->has_noise ? "no limit" : "no overflight");
        return;
    }
    table_print(out, "<td>%d / %d / %d</td>", a->n_verdict[GRADIN_VERDICT_WITHIN],
                a->n_verdict[GRADIN_VERDICT_NEAR], a->n_verdict[GRADIN_VERDICT_OVER]);
}

static const char *checks_of(const gradin_report *report, int index) {
    const gradin_fit *fit = report->fit ? report->fit[index] : NULL;
    if (!fit) return "not made";
    return fit->is_met ? "what is stated is met" : "not met";
}

static void put_sum(table_text *out, const gradin_report *report, int index) {
    const gradin_assessment *a = report->assessment[index];
    int n = a->sight.n_seat;
    table_put(out, "<tr><th scope=\"row\">");
    html_put(out, a->model->layout_name);
    table_put(out, "</th>");
    put_cell(out, gradin_form_name(a->model->form));
    put_count_cell(out, n, 0);
    put_count_cell(out, a->model->seats.n_wheelchair, 0);
    for (int k = 0; k < GRADIN_N_RATING; k++) put_count_cell(out, a->sight.n_rating[k], n);
    put_number_cell(out, TABLE_PERCENT, 100.0 * a->visible.median, "%");
    put_noise_cells(out, a);
    put_cell(out, checks_of(report, index));
    table_put(out, "</tr>\n");
}

/* What is in none of the levels stands beside them, and which of them nobody will measure. */
static void put_gaps(table_text *out, const gradin_assessment *a) {
    table_text gaps = {.arena = out->arena};
    if (a->has_noise) table_put_quiet(&gaps, a->lamax_db[GRADIN_SHADES_AS_SET].least, NAN);
    if (a->has_noise) table_put_gaps(&gaps, &a->noise.gaps);
    out->failed |= gaps.failed;
    if (gaps.size == 0) return;
    table_put(out, "<p>");
    html_put(out, a->model->layout_name);
    table_put(out, ":</p>\n<pre tabindex=\"0\">");
    html_put(out, gaps.bytes);
    table_put(out, "</pre>\n");
}

void html_put_sums(table_text *out, const gradin_report *report) {
    table_put(out, "<div class=\"wide\"><table><caption>Seats by class of rating; the level of the "
                   "overflight at the median seat, and the seats within its limit, too near to "
                   "tell, over it</caption>\n<thead><tr><th scope=\"col\">layout</th>"
                   "<th scope=\"col\">form</th><th scope=\"col\" class=\"n\">seats</th>"
                   "<th scope=\"col\" class=\"n\">wheelchair places</th>");
    for (int k = 0; k < GRADIN_N_RATING; k++)
        table_print(out, "<th scope=\"col\" class=\"n\">%s</th>",
                    gradin_rating_name((gradin_rating)k));
    table_put(out, "<th scope=\"col\" class=\"n\">focus seen, median</th><th scope=\"col\" "
                   "class=\"n\">level, median</th><th scope=\"col\">within / too near / over</th>"
                   "<th scope=\"col\">rough checks</th></tr></thead>\n<tbody>\n");
    for (int i = 0; i < report->n; i++) put_sum(out, report, i);
    table_put(out, "</tbody></table></div>\n");
    for (int i = 0; i < report->n; i++) put_gaps(out, report->assessment[i]);
}

static void put_worst_seat(table_text *out, const gradin_assessment *a, int seat) {
    const length_unit metre = length_unit_of(a->model->units);
    table_put(out, "<tr><th scope=\"row\">");
    html_put(out, a->model->seats.id[seat]);
    table_put(out, "</th>");
    put_cell(out, a->model->level_name[a->model->seats.level[seat]]);
    put_cell(out, gradin_rating_name(a->sight.rating[seat]));
    put_cell(out, gradin_reason_name(a->sight.reason[seat]));
    put_number_cell(out, TABLE_PERCENT, 100.0 * a->sight.visible[seat], "%");
    put_cell(out, table_worst_occluder(a, seat));
    table_put(out, "<td class=\"n\">");
    table_put_length(out, a->sight.distance_m[seat], metre);
    table_put(out, "</td></tr>\n");
}

void html_put_worst(table_text *out, const gradin_report *report) {
    for (int l = 0; l < report->n; l++) {
        const gradin_assessment *a = report->assessment[l];
        table_put(out, "<h3>");
        html_put(out, a->model->layout_name);
        table_put(out, "</h3>\n<div class=\"wide\"><table><caption>Worst first: by rating, then by "
                       "the share of the focus seen</caption><thead><tr><th scope=\"col\">seat</th>"
                       "<th scope=\"col\">level</th><th scope=\"col\">rating</th><th "
                       "scope=\"col\">set by</th><th scope=\"col\" class=\"n\">focus seen</th><th "
                       "scope=\"col\">most hidden by</th><th scope=\"col\" "
                       "class=\"n\">distance</th></tr></thead>\n<tbody>\n");
        for (int k = 0; k < a->n_worst; k++) put_worst_seat(out, a, a->worst_seat[k]);
        table_put(out, "</tbody></table></div>\n");
    }
}
