/* One figure of a study over two of its keys: a cell for every two values, coloured from bad to
 * good as the maps are, with its figure in it. A border tells what the needs say of it without
 * colour: none, dashed (too near to tell), thick (kept). A point that cannot stand is hatched. */
#include "base/use.h"
#include "gradin/studies/sweep_plot.h"
#include "render/draw/encode.h"
#include "render/studies/study_picture.h"
#include "studies/shared/complete.h"

#include <stdio.h>
#include <string.h>

enum { MOST_LABEL = 24 };

static const double page_margin = 60.0, plot_left = 300.0, plot_top = 230.0, cell_most = 150.0,
                    plot_width = 1380.0;

typedef struct response {
    const gradin_sweep_result *r;
    canvas *page;
    const gradin_varied *across, *up;
    int key[2], column, base; /* base: row whose other values stand */
    double low, high;         /* of the figure in the cells */
    double cell_w, cell_h, height;
} response;

static int base_row(const gradin_sweep_result *r) {
    if (r->best_sure >= 0) return r->best_sure;
    if (r->best_stated >= 0) return r->best_stated;
    return r->nearest >= 0 ? r->nearest : 0;
}

static const char *value_at(const gradin_sweep_result *r, int row, int key) {
    return r->value[row * r->study->n_varied + key];
}

static bool is_good_key(const gradin_study *s, int key) {
    return key >= 0 && key < s->n_varied && s->varied[key].n_value > 0 && s->varied[key].value;
}

bool gradin_sweep_plot_applies(const gradin_sweep_result *result) {
    if (sweep_complete(result, NULL) != GRADIN_OK) return false;
    const gradin_study *s = result->study;
    return s->n_design == 0 && !s->chosen && is_good_key(s, s->picture[0]) &&
           is_good_key(s, s->picture[1]) && s->picture[0] != s->picture[1] &&
           s->picture_figure >= 0;
}

/* The row of a cell; -1. */
static int find_row(const response *p, int across, int up) {
    const gradin_sweep_result *r = p->r;
    for (int i = 0; i < r->n_row; i++) {
        bool is_it = true;
        for (int k = 0; k < r->study->n_varied && is_it; k++) {
            const char *wanted = k == p->key[0]   ? p->across->value[across]
                                 : k == p->key[1] ? p->up->value[up]
                                                  : value_at(r, p->base, k);
            is_it = strcmp(value_at(r, i, k), wanted) == 0;
        }
        if (is_it) return i;
    }
    return -1;
}

static double figure_of(const response *p, int row) {
    if (row < 0 || p->r->row[row].refused) return NAN;
    return p->r->row[row].figure[p->column].value;
}

static void find_range(response *p) {
    p->low = INFINITY;
    p->high = -INFINITY;
    for (int x = 0; x < p->across->n_value; x++)
        for (int y = 0; y < p->up->n_value; y++) {
            double value = figure_of(p, find_row(p, x, y));
            if (!isfinite(value)) continue;
            p->low = fmin(p->low, value);
            p->high = fmax(p->high, value);
        }
}

static const gradin_study_figure_form *form_of(const response *p) {
    return gradin_study_figure_of(p->r->study->figure[p->column]);
}

static colour fill_of(const response *p, double value) {
    double share = p->high > p->low ? (value - p->low) / (p->high - p->low) : 1.0;
    return colour_at(form_of(p)->is_more_better ? share : 1.0 - share);
}

static void cell_path(response *p, double x, double y, double inset) {
    cairo_rectangle(p->page->cr, x + inset, y + inset, p->cell_w - 2.0 * inset,
                    p->cell_h - 2.0 * inset);
}

static void draw_number(response *p, double x, double y, double value, colour fill) {
    char text[32];
    gradin_format_fixed(text, sizeof text, value, form_of(p)->decimals);
    canvas_text_within(
        p->page, (text_style){.size = 26.0, .align = TEXT_CENTRE, .ink = colour_text_on(fill)},
        x + 0.5 * p->cell_w, y + 0.5 * p->cell_h + 9.0, p->cell_w - 8.0, LEAST_TEXT, text);
}

static void draw_border(response *p, double x, double y, gradin_verdict verdict, colour fill) {
    if (p->r->study->n_bound == 0 || verdict == GRADIN_VERDICT_OVER) return;
    cell_path(p, x, y, 6.0);
    if (verdict == GRADIN_VERDICT_NEAR) canvas_dashed(p->page, 10.0, 8.0);
    canvas_stroke(p->page, colour_text_on(fill), verdict == GRADIN_VERDICT_WITHIN ? 6.0 : 3.0);
    canvas_dashed(p->page, 0.0, 0.0);
}

static void draw_cell(response *p, int across, int up) {
    double x = plot_left + across * p->cell_w, y = plot_top + (p->up->n_value - 1 - up) * p->cell_h;
    int row = find_row(p, across, up);
    double value = figure_of(p, row);
    cell_path(p, x, y, 0.0);
    if (isfinite(value)) {
        colour fill = fill_of(p, value);
        canvas_fill(p->page, fill);
        draw_number(p, x, y, value, fill);
        draw_border(p, x, y, p->r->verdict[row], fill);
    } else {
        canvas_hatch(p->page, COLOUR_FAINT, 2.0, 14.0);
    }
    cairo_new_path(p->page->cr);
    cell_path(p, x, y, 0.0);
    canvas_stroke(p->page, COLOUR_WHITE, 3.0);
}

/* A key of a file bears its unit at its end, which holds in every file; lengths are in the file's
 * own and bear none. */
static const char *unit_of_key(const char *path) {
    static const char *const known[][2] = {
        {"_mm", "mm"},       {"_deg", "deg"}, {"_db", "dB"},    {"_dba", "dB(A)"},
        {"_ms", "m/s"},      {"_s", "s"},     {"_hz", "Hz"},    {"_kg", "kg"},
        {"_kgm3", "kg/m3"},  {"_kn", "kN"},   {"_kw", "kW"},    {"_m2", "m2"},
        {"_kpa", "kPa"},     {"_mpa", "MPa"}, {"_gpa", "GPa"},  {"_pct", "%"},
        {"_minutes", "min"}, {"_hours", "h"}, {"_ms2", "m/s2"}, {"_kgm2", "kg/m2"},
        {"_c", "deg C"}};
    const char *end = strrchr(path, '_');
    for (size_t i = 0; end && i < sizeof known / sizeof *known; i++)
        if (strcmp(end, known[i][0]) == 0) return known[i][1];
    return "";
}

/* "gap, mm"; the name alone where its keys bear no unit, or several. */
static const char *axis_title(const gradin_varied *v, char text[TEXT_CHARS]) {
    const char *unit = v->n_path > 0 && v->path ? unit_of_key(v->path[0]) : "";
    for (int i = 1; i < v->n_path; i++)
        if (strcmp(unit_of_key(v->path[i]), unit) != 0) unit = "";
    snprintf(text, TEXT_CHARS, "%.200s%s%s", v->name, unit[0] ? ", " : "", unit);
    return text;
}

static int every(int n) {
    return (n + MOST_LABEL - 1) / MOST_LABEL;
}

static void draw_labels(response *p) {
    char title[TEXT_CHARS];
    text_style style = {.size = 24.0, .align = TEXT_CENTRE, .ink = COLOUR_INK};
    double bottom = plot_top + p->up->n_value * p->cell_h;
    for (int x = 0; x < p->across->n_value; x += every(p->across->n_value))
        canvas_text_within(p->page, style, plot_left + (x + 0.5) * p->cell_w, bottom + 36.0,
                           p->cell_w * every(p->across->n_value) - 6.0, LEAST_TEXT,
                           p->across->value[x]);
    style.align = TEXT_RIGHT;
    for (int y = 0; y < p->up->n_value; y += every(p->up->n_value))
        canvas_text_within(p->page, style, plot_left - 14.0,
                           plot_top + (p->up->n_value - 0.5 - y) * p->cell_h + 9.0,
                           plot_left - page_margin - 20.0, LEAST_TEXT, p->up->value[y]);
    style.align = TEXT_CENTRE;
    style.is_bold = true;
    canvas_text(p->page, style, plot_left + 0.5 * p->across->n_value * p->cell_w, bottom + 80.0,
                axis_title(p->across, title));
    style.align = TEXT_LEFT;
    canvas_text(p->page, style, page_margin, plot_top - 20.0, axis_title(p->up, title));
}

static void draw_head(response *p) {
    char text[TEXT_CHARS];
    const gradin_study *s = p->r->study;
    const gradin_study_figure_form *form = form_of(p);
    canvas_text_within(p->page, (text_style){.size = 40.0, .is_bold = true, .ink = COLOUR_INK},
                       page_margin, 80.0, PAGE_WIDTH - 2.0 * page_margin, LEAST_TEXT, s->name);
    snprintf(text, sizeof text, "%s%s%s: %s", form->word, form->unit[0] ? ", " : "", form->unit,
             form->meaning);
    canvas_text_within(p->page, (text_style){.size = 28.0, .ink = COLOUR_INK}, page_margin, 126.0,
                       PAGE_WIDTH - 2.0 * page_margin, LEAST_TEXT, text);
    size_t at = 0;
    text[0] = '\0';
    for (int k = 0; k < s->n_varied && at < sizeof text; k++)
        if (k != p->key[0] && k != p->key[1])
            at += (size_t)snprintf(text + at, sizeof text - at, "%s%s %s", at > 0 ? ", " : "with ",
                                   s->varied[k].name, value_at(p->r, p->base, k));
    canvas_text_within(p->page, (text_style){.size = 28.0, .ink = COLOUR_QUIET}, page_margin, 166.0,
                       PAGE_WIDTH - 2.0 * page_margin, LEAST_TEXT, text);
}

static void draw_foot(response *p) {
    double y = plot_top + p->up->n_value * p->cell_h + 140.0;
    y = canvas_text_wrapped(
        p->page, (text_style){.size = 24.0, .ink = COLOUR_INK}, page_margin, y,
        PAGE_WIDTH - 2.0 * page_margin,
        p->r->study->n_bound > 0
            ? "Brighter is better. Thick border: all that is needed is surely kept; dashed: too "
              "near to tell; none: not kept. Hatched: cannot stand."
            : "Brighter is better. Hatched: cannot stand.");
    canvas_text_wrapped(
        p->page, (text_style){.size = 24.0, .ink = COLOUR_QUIET}, page_margin, y,
        PAGE_WIDTH - 2.0 * page_margin,
        "A plan approves nothing: rails, egress, loads and moving machinery are for "
        "the local code. Predicted levels are no measurement.");
}

static void draw(canvas *page, void *user) {
    response *p = user;
    p->page = page;
    draw_head(p);
    for (int x = 0; x < p->across->n_value; x++)
        for (int y = 0; y < p->up->n_value; y++) draw_cell(p, x, y);
    draw_labels(p);
    draw_foot(p);
}

static response response_of(const gradin_sweep_result *result) {
    const gradin_study *s = result->study;
    response p = {.r = result,
                  .across = &s->varied[s->picture[0]],
                  .up = &s->varied[s->picture[1]],
                  .key = {s->picture[0], s->picture[1]},
                  .base = base_row(result)};
    while (p.column < s->n_figure - 1 && (int)s->figure[p.column] != s->picture_figure) p.column++;
    p.cell_w = fmin(plot_width / p.across->n_value, 2.0 * cell_most);
    p.cell_h = fmin(0.6 * plot_width / p.up->n_value, cell_most);
    p.height = plot_top + p.up->n_value * p.cell_h + 280.0;
    find_range(&p);
    return p;
}

gradin_status gradin_sweep_plot_picture(gradin_arena *arena, const gradin_sweep_result *result,
                                        gradin_picture format, unsigned char **bytes, size_t *size,
                                        gradin_error *error) {
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK ||
        sweep_complete(result, error) != GRADIN_OK || picture_check(format, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (!gradin_sweep_plot_applies(result))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "the study asks for no picture");
    response p = response_of(result);
    return study_picture(arena, result->study, format, p.height, draw, &p, bytes, size, error);
}
