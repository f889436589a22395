/* The whole document: one HTML file with its style, script, plans and data inside, so that it opens
 * from a disk or a mail and asks nothing of a network. Without its script it still has the plans by
 * rating, the tables and the texts. It holds no date: same input, same bytes. Sources: HTML Living
 * Standard; WCAG 2.2 (landmarks, headings in order, names, focus), from memory. */
#include "base/lengths.h"
#include "base/use.h"
#include "studies/shared/complete.h"
#include "table/report/html.h"
#include "table/shared/cautions.h"

#include "gradin/studies/compare_write.h"
#include "gradin/studies/view.h"

#include <string.h>

typedef struct page {
    gradin_arena *arena;
    const gradin_report *report;
    table_text out;
    gradin_status status;
    gradin_error *error;
} page;

static void put_title(page *p) {
    const gradin_report *r = p->report;
    for (int i = 0; i < r->n; i++) {
        if (i > 0) table_put(&p->out, i + 1 < r->n ? ", " : " and ");
        html_put(&p->out, r->assessment[i]->model->layout_name);
    }
}

static void put_head(page *p) {
    table_put(&p->out, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                       "<meta name=\"viewport\" content=\"width=device-width, "
                       "initial-scale=1\">\n<title>");
    put_title(p);
    table_put(&p->out, "</title>\n<link rel=\"icon\" href=\"data:,\">\n<style>\n");
    table_put(&p->out, (const char *)report_page_css);
    table_put(&p->out, "</style>\n</head>\n<body>\n<a class=\"skip\" href=\"#main\">Skip to the "
                       "content</a>\n");
}

static void put_cautions(page *p) {
    table_put(&p->out, "<div class=\"caution\"><strong>Predictions, no approval</strong><ul>");
    for (int i = 0; i < TABLE_N_CAUTION; i++) {
        table_put(&p->out, "<li>");
        html_put(&p->out, table_caution[i]);
        table_put(&p->out, "</li>");
    }
    table_put(&p->out, "</ul></div>\n");
}

/* Of all layouts, each name once where they follow each other. */
static void put_venues(page *p) {
    const char *last = NULL;
    for (int i = 0; i < p->report->n; i++) {
        const char *name = p->report->assessment[i]->model->venue_name;
        if (last && strcmp(last, name) == 0) continue;
        if (last) table_put(&p->out, ", ");
        html_put(&p->out, name);
        last = name;
    }
}

static bool has_section(const gradin_report *r, const char *id) {
    if (strcmp(id, "compared") == 0) return r->comparison != NULL;
    if (strcmp(id, "choice") == 0) return r->choice != NULL;
    if (strcmp(id, "views") == 0) return html_has_views(r);
    return strcmp(id, "time") != 0 || html_has_passing(r);
}

static void put_top(page *p) {
    static const char *const link[][2] = {{"short", "In short"},
                                          {"plans", "Plans"},
                                          {"views", "Views"},
                                          {"time", "Noise"},
                                          {"seats", "Seats"},
                                          {"worst", "Worst"},
                                          {"compared", "Compared"},
                                          {"choice", "Choices"},
                                          {"checks", "Checks and limits"},
                                          {"trust", "How far to trust it"}};
    table_put(&p->out, "<header><h1>");
    put_title(p);
    table_put(&p->out, "</h1><p>");
    put_venues(p);
    table_put(&p->out, "</p></header>\n<nav aria-label=\"Sections\"><ul>");
    for (size_t i = 0; i < sizeof link / sizeof link[0]; i++)
        if (has_section(p->report, link[i][0]))
            table_print(&p->out, "<li><a href=\"#%s\">%s</a></li>", link[i][0], link[i][1]);
    table_put(&p->out, "</ul></nav>\n<main id=\"main\">\n");
}

static void open_section(page *p, const char *id, const char *head) {
    table_print(&p->out,
                "<section id=\"%s\" aria-labelledby=\"%s-head\"><h2 id=\"%s-head\">%s</h2>\n", id,
                id, id, head);
}

static void close_section(page *p) {
    table_put(&p->out, "</section>\n");
}

static void put_plans(page *p) {
    open_section(p, "plans", "Plans");
    table_put(&p->out,
              "<div class=\"controls needs-script\" hidden><label>Figure<select "
              "id=\"figure\"></select></label><label>Level<select id=\"level\"><option "
              "value=\"\">all, the upper ones on top</option></select></label><label>Layout<select "
              "id=\"layout\"></select></label><label>Beside it<select id=\"beside\"><option "
              "value=\"-1\">nothing</option></select></label></div>\n<div class=\"plans\">\n");
    for (int i = 0; i < p->report->n; i++) html_put_plan(&p->out, p->report, i);
    table_put(&p->out, "</div>\n<div id=\"detail\" class=\"detail needs-script\" role=\"region\" "
                       "aria-label=\"The seat that is picked\" aria-live=\"polite\" "
                       "hidden></div>\n");
    close_section(p);
}

static void put_views(page *p) {
    if (!html_has_views(p->report)) return;
    const length_unit unit = length_unit_of(p->report->assessment[0]->model->units);
    open_section(p, "views", "Views from chosen seats");
    table_put(&p->out, "<p>Drawn by the same rays as the figures. Hatched: hides part of the "
                       "focus. Figures of ");
    table_put_length(&p->out, GRADIN_VIEW_FIGURE_M, unit);
    table_put(&p->out, " and squares of ");
    table_put_length(&p->out, GRADIN_VIEW_SQUARE_M, unit);
    table_put(&p->out, " show the size; light, faces and materials are not shown. The seats are "
                       "chosen by what all seats see.</p>\n");
    html_put_views(&p->out, p->report);
    close_section(p);
}

static void put_passing(page *p) {
    if (!html_has_passing(p->report)) return;
    open_section(p, "time", "The overflight, level against time");
    table_put(&p->out,
              "<p>At the seats with the highest, the median and the lowest maximum of the layout, "
              "shades as set. Time is 0 at the closest approach. The hall's own noise is not in "
              "it.</p>\n");
    html_put_passing(&p->out, p->report);
    close_section(p);
}

static void put_list(page *p) {
    open_section(p, "seats", "Seats");
    table_put(&p->out,
              "<noscript><p>The list of seats needs the page's script. The same figures stand in "
              "seats.csv, which gradin assess writes.</p></noscript>\n<div "
              "class=\"needs-script\" hidden><div class=\"controls\"><label>Seat, level, kind or "
              "what hides<input id=\"filter\" type=\"search\" autocomplete=\"off\"></label>"
              "<label>Rating<select id=\"only\"><option value=\"\">all</option>");
    for (int k = 0; k < GRADIN_N_RATING; k++)
        table_print(&p->out, "<option value=\"%d\">%s</option>", k,
                    gradin_rating_name((gradin_rating)k));
    table_put(&p->out, "</select></label></div>\n<p id=\"count\" role=\"status\"></p><div "
                       "class=\"wide\"><table><thead><tr>");
    html_put_heads(&p->out, p->report);
    table_put(&p->out,
              "</tr></thead><tbody id=\"rows\"></tbody></table></div><button class=\"more\" "
              "id=\"more\" type=\"button\">Show more seats</button></div>\n");
    close_section(p);
}

static void put_text(page *p, const char *head, const char *layout, const char *text) {
    table_print(&p->out, "<details%s><summary>%s", p->report->n == 1 ? " open" : "", head);
    if (layout) table_put(&p->out, ": ");
    html_put(&p->out, layout);
    table_put(&p->out, "</summary><pre tabindex=\"0\">");
    html_put(&p->out, text);
    table_put(&p->out, "</pre></details>\n");
}

static void put_comparison(page *p) {
    if (!p->report->comparison || p->status != GRADIN_OK) return;
    p->status = comparison_complete(p->report->comparison, p->error);
    if (p->status != GRADIN_OK) return;
    open_section(p, "compared", "Compared");
    html_put_compared(&p->out, p->report->comparison);
    close_section(p);
}

static void put_choice(page *p) {
    if (!p->report->choice) return;
    open_section(p, "choice", "Choices");
    html_put_choice(&p->out, p->report->choice);
    close_section(p);
}

static void put_checks(page *p) {
    open_section(p, "checks", "Checks and limits in force");
    for (int i = 0; i < p->report->n && p->status == GRADIN_OK; i++) {
        const gradin_assessment *a = p->report->assessment[i];
        const gradin_fit *fit = p->report->fit ? p->report->fit[i] : NULL;
        char *summary = NULL, *checks = NULL;
        p->status = gradin_summary_text(p->arena, a, &summary, p->error);
        if (p->status == GRADIN_OK && fit)
            p->status = gradin_fit_text(p->arena, fit, &checks, p->error);
        if (p->status != GRADIN_OK) return;
        put_text(p, "Summary", a->model->layout_name, summary);
        if (checks) put_text(p, "Rough checks", a->model->layout_name, checks);
    }
    close_section(p);
}

static void put_trust(page *p) {
    open_section(p, "trust", "How far to trust it");
    table_put(
        &p->out,
        "<p>What a seat sees is counted with rays from the eye of a seated person to points of the "
        "focus areas, past heads, rails and structure. The summary says how many. The C-value is "
        "the height by which the sightline passes over the head in front. Levels are those of the "
        "maximum of one overflight, by third octave, through the envelope into the room. A seat is "
        "too near to tell when the limit lies within the stated confidence of its level.</p>\n"
        "<p>Ratings hold for the limits printed with each summary, and for nothing else. Rough "
        "checks hold a layout against the rules that the venue states.</p>\n<ul>\n");
    for (int i = 0; i < p->report->n; i++) {
        table_put(&p->out, "<li>Input of ");
        html_put(&p->out, p->report->assessment[i]->model->layout_name);
        table_print(&p->out, ": <code>%s</code></li>\n", p->report->assessment[i]->model->digest);
    }
    table_put(&p->out, "</ul>\n");
    put_cautions(p);
    close_section(p);
}

static void put_end(page *p) {
    table_print(&p->out, "</main>\n<footer><p>Made by gradin %s.</p></footer>\n", GRADIN_VERSION);
    table_put(&p->out, "<script type=\"application/json\" id=\"data\">");
    if (!html_put_data(&p->out, p->report)) p->out.failed = true;
    table_put(&p->out, "</script>\n<script>\n");
    table_put(&p->out, (const char *)report_page_js);
    table_put(&p->out, "</script>\n</body>\n</html>\n");
}

gradin_status report_complete(const gradin_report *r, gradin_error *error) {
    if (!r || r->n < 1 || r->n > GRADIN_MAX_COMPARED || !r->assessment)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "the report has no assessment");
    for (int i = 0; i < r->n; i++)
        if (assessment_tables_complete(r->assessment[i], error) != GRADIN_OK) return GRADIN_BAD_USE;
    for (int i = 0; r->image && r->n_image && i < r->n; i++)
        for (int k = 0; k < r->n_image[i]; k++) {
            const gradin_report_image *v = r->image[i] ? &r->image[i][k] : NULL;
            if (!v || !v->png || !v->title || v->seat < 0 ||
                v->seat >= r->assessment[i]->model->seats.n_seat)
                return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a view is not whole");
        }
    return r->choice ? choice_complete(r->choice, error) : GRADIN_OK;
}

gradin_status gradin_report_html(gradin_arena *arena, const gradin_report *report, char **text,
                                 size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK || report_complete(report, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    page p = {.arena = arena, .report = report, .out = {.arena = arena}, .error = error};
    put_head(&p);
    put_top(&p);
    open_section(&p, "short", "In short");
    html_put_sums(&p.out, report);
    put_cautions(&p);
    close_section(&p);
    put_plans(&p);
    put_views(&p);
    put_passing(&p);
    put_list(&p);
    open_section(&p, "worst", "Worst seats");
    html_put_worst(&p.out, report);
    close_section(&p);
    put_comparison(&p);
    put_choice(&p);
    put_checks(&p);
    put_trust(&p);
    put_end(&p);
    if (p.status != GRADIN_OK) return p.status;
    if (p.out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the report");
    *text = p.out.bytes;
    *size = p.out.size;
    return GRADIN_OK;
}
