/* What a search tried: the figure of its first aim over the points in the order in which they were
 * tried, the best so far as a line. What the needs say of a point is told by its mark, without
 * colour: filled (kept), ring (too near to tell), cross (not kept), tick at the foot (cannot
 * stand). */
#include "base/use.h"
#include "gradin/studies/sweep_plot.h"
#include "render/draw/encode.h"
#include "render/studies/study_picture.h"
#include "studies/shared/complete.h"

#include <stdio.h>

static const double left = 200.0, right = 1740.0, top = 220.0, bottom = 940.0, page_height = 1260.0,
                    page_margin = 60.0;
static const colour kept_ink = {0.05, 0.28, 0.52};

typedef struct search {
    const gradin_sweep_result *r;
    const gradin_study_figure_form *form;
    canvas *page;
    int column, best;
    double low, high, step, written; /* written: of the files as they are; NAN */
} search;

bool gradin_seek_plot_applies(const gradin_sweep_result *result) {
    return sweep_complete(result, NULL) == GRADIN_OK && result->sought && result->study->chosen &&
           result->study->n_aim > 0;
}

static double value_of(const search *s, const gradin_sweep_row *row) {
    return row->refused || !row->figure ? NAN : row->figure[s->column].value;
}

static void widen(search *s, double value) {
    if (!isfinite(value)) return;
    s->low = fmin(s->low, value);
    s->high = fmax(s->high, value);
}

/* Of 1, 2 and 5 times a power of ten the least that gives at most eight steps. */
static double even_step(double span) {
    double ten = pow(10.0, floor(log10(span / 8.0)));
    double times = span / 8.0 / ten;
    return ten * (times <= 1.0 ? 1.0 : times <= 2.0 ? 2.0 : times <= 5.0 ? 5.0 : 10.0);
}

static void find_range(search *s) {
    s->low = INFINITY;
    s->high = -INFINITY;
    for (int i = 0; i < s->r->n_row; i++) widen(s, value_of(s, &s->r->row[i]));
    widen(s, s->written);
    if (!(s->high >= s->low)) s->low = s->high = 0.0;
    double least = pow(10.0, -s->form->decimals);
    s->step = even_step(fmax(s->high - s->low, 4.0 * least));
    s->low = s->step * floor(s->low / s->step - 0.2);
    s->high = s->step * ceil(s->high / s->step + 0.2);
}

static double x_of(const search *s, double point) {
    return left + (right - left) * (point + 0.5) / s->r->n_row;
}

static double y_of(const search *s, double value) {
    return bottom - (bottom - top) * (value - s->low) / (s->high - s->low);
}

static void draw_grid(search *s) {
    text_style style = {.size = 24.0, .align = TEXT_RIGHT, .ink = COLOUR_INK};
    char text[64];
    int n = (int)lround((s->high - s->low) / s->step);
    int decimals = s->step >= 1.0 ? 0 : (int)ceil(-log10(s->step) - 1e-9);
    for (int i = 0; i <= n; i++) {
        double y = y_of(s, s->low + i * s->step);
        canvas_line(s->page, (gradin_vec2){left, y}, (gradin_vec2){right, y}, COLOUR_FAINT, 1.5);
        gradin_format_fixed(text, sizeof text, s->low + i * s->step, decimals);
        canvas_text(s->page, style, left - 14.0, y + 9.0, text);
    }
    style.align = TEXT_CENTRE;
    int every = (int)fmax(even_step(s->r->n_row), 1.0);
    for (int i = 0; i < s->r->n_row; i += every) {
        snprintf(text, sizeof text, "%d", i);
        canvas_text(s->page, style, x_of(s, i), bottom + 36.0, text);
    }
    style.is_bold = true;
    canvas_text(s->page, style, 0.5 * (left + right), bottom + 80.0, "points, as they were tried");
}

static void draw_written(search *s) {
    if (!isfinite(s->written)) return;
    double y = y_of(s, s->written);
    canvas_dashed(s->page, 16.0, 10.0);
    canvas_line(s->page, (gradin_vec2){left, y}, (gradin_vec2){right, y}, COLOUR_INK, 2.0);
    canvas_dashed(s->page, 0.0, 0.0);
}

static void draw_cross(search *s, gradin_vec2 at, double half, colour ink) {
    canvas_line(s->page, (gradin_vec2){at.x - half, at.y - half},
                (gradin_vec2){at.x + half, at.y + half}, ink, 2.0);
    canvas_line(s->page, (gradin_vec2){at.x - half, at.y + half},
                (gradin_vec2){at.x + half, at.y - half}, ink, 2.0);
}

static void draw_mark(search *s, gradin_vec2 at, gradin_verdict verdict) {
    if (verdict == GRADIN_VERDICT_OVER) {
        draw_cross(s, at, 6.0, COLOUR_QUIET);
        return;
    }
    cairo_new_path(s->page->cr);
    cairo_arc(s->page->cr, at.x, at.y, 7.0, 0.0, 2.0 * GRADIN_PI);
    canvas_fill_keep(s->page, verdict == GRADIN_VERDICT_WITHIN ? kept_ink : COLOUR_WHITE);
    canvas_stroke(s->page, kept_ink, 2.5);
}

static void draw_point(search *s, int i) {
    double value = value_of(s, &s->r->row[i]), x = x_of(s, i);
    if (isfinite(value))
        draw_mark(s, (gradin_vec2){x, y_of(s, value)}, s->r->verdict[i]);
    else
        canvas_line(s->page, (gradin_vec2){x, bottom}, (gradin_vec2){x, bottom - 14.0}, COLOUR_INK,
                    2.5);
}

static bool is_better(const search *s, double a, double b) {
    return s->r->study->aim[0].wants_most ? a > b : a < b;
}

/* The best so far of those that surely keep what is needed. */
static void draw_best_so_far(search *s) {
    double best = NAN;
    for (int i = 0; i < s->r->n_row; i++) {
        double value = value_of(s, &s->r->row[i]), before = best;
        if (s->r->verdict[i] == GRADIN_VERDICT_WITHIN && isfinite(value) &&
            (isnan(best) || is_better(s, value, best)))
            best = value;
        if (isnan(best)) continue;
        gradin_vec2 at = {x_of(s, i), y_of(s, best)}, next = {x_of(s, i + 1), at.y};
        if (i + 1 == s->r->n_row) next.x = right;
        if (isfinite(before))
            canvas_line(s->page, (gradin_vec2){at.x, y_of(s, before)}, at, kept_ink, 3.0);
        canvas_line(s->page, at, next, kept_ink, 3.0);
    }
}

/* Which values the best point has. */
static const char *best_text(const search *s, char text[TEXT_CHARS]) {
    char value[64];
    const gradin_sweep_result *r = s->r;
    if (s->best < 0) return "No point that was tried surely keeps what is needed.";
    gradin_format_fixed(value, sizeof value, value_of(s, &r->row[s->best]), s->form->decimals);
    size_t at = (size_t)snprintf(text, TEXT_CHARS, "Best: point %d with %s%s%s", s->best, value,
                                 s->form->unit[0] ? " " : "", s->form->unit);
    for (int k = 0; k < r->study->n_varied && at < TEXT_CHARS; k++)
        at +=
            (size_t)snprintf(text + at, TEXT_CHARS - at, "%s%s %s", k == 0 ? ": " : ", ",
                             r->study->varied[k].name, r->value[s->best * r->study->n_varied + k]);
    return text;
}

static void draw_ring(search *s) {
    double value = s->best >= 0 ? value_of(s, &s->r->row[s->best]) : NAN;
    if (!isfinite(value)) return;
    cairo_new_path(s->page->cr);
    cairo_arc(s->page->cr, x_of(s, s->best), y_of(s, value), 15.0, 0.0, 2.0 * GRADIN_PI);
    canvas_stroke(s->page, COLOUR_INK, 3.0);
}

static void draw_texts(search *s) {
    char text[TEXT_CHARS];
    const double width = PAGE_WIDTH - 2.0 * page_margin;
    canvas_text_within(s->page, (text_style){.size = 40.0, .is_bold = true, .ink = COLOUR_INK},
                       page_margin, 80.0, width, LEAST_TEXT, s->r->study->name);
    snprintf(text, sizeof text, "%s%s%s: %s", s->form->word, s->form->unit[0] ? ", " : "",
             s->form->unit, s->form->meaning);
    text_style style = {.size = 28.0, .ink = COLOUR_INK};
    canvas_text_within(s->page, style, page_margin, 126.0, width, LEAST_TEXT, text);
    canvas_text_within(s->page, style, page_margin, 166.0, width, LEAST_TEXT, best_text(s, text));
    style.size = 24.0;
    double y = canvas_text_wrapped(s->page, style, page_margin, bottom + 140.0, width,
                                   "Filled: all that is needed is surely kept; ring: too near to "
                                   "tell; cross: not kept; tick at "
                                   "the foot: cannot stand. Solid line: the best so far; dashed: "
                                   "the files as they are written. "
                                   "A circle is about the best. Values are in "
                                   "the units of the varied files.");
    style.ink = COLOUR_QUIET;
    canvas_text_wrapped(s->page, style, page_margin, y, width,
                        "A search approves nothing: rails, egress, loads and moving machinery are "
                        "for the local code. Predicted levels are no measurement.");
}

static void draw(canvas *page, void *user) {
    search *s = user;
    s->page = page;
    draw_grid(s);
    draw_written(s);
    draw_best_so_far(s);
    for (int i = 0; i < s->r->n_row; i++) draw_point(s, i);
    draw_ring(s);
    draw_texts(s);
}

static search search_of(const gradin_sweep_result *result) {
    const gradin_study *study = result->study;
    search s = {.r = result, .best = result->best_sure};
    s.form = gradin_study_figure_of(study->aim[0].figure);
    while (s.column < study->n_figure - 1 && study->figure[s.column] != study->aim[0].figure)
        s.column++;
    s.written = value_of(&s, &result->sought->as_written);
    find_range(&s);
    return s;
}

gradin_status gradin_seek_plot_picture(gradin_arena *arena, const gradin_sweep_result *result,
                                       gradin_picture format, unsigned char **bytes, size_t *size,
                                       gradin_error *error) {
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK ||
        sweep_complete(result, error) != GRADIN_OK || picture_check(format, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (!gradin_seek_plot_applies(result))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "no search with an aim");
    search s = search_of(result);
    return study_picture(arena, result->study, format, page_height, draw, &s, bytes, size, error);
}
