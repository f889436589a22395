/* Colours of a figure on a strip: its steps or its shades, and below it the limits and the ends, as
 * many as there is room for. */
#include "render/page/parts.h"

#include <stdio.h>
#include <string.h>

#define STRIP 14.0
#define BELOW 17.0
#define NUMBER 14.0

typedef struct strip {
    board *s;
    const quantity *q;
    double left, top, width;
    gradin_box2 taken[2 * SCALE_EDGES];
    int n_taken;
} strip;

static double x_of(const strip *t, double value) {
    double along = (value - t->q->low) / (t->q->high - t->q->low);
    return t->left + fmin(fmax(along, 0.0), 1.0) * t->width;
}

static void fill(const strip *t, double from, double to, colour ink) {
    cairo_rectangle(t->s->page->cr, from, t->top, to - from, STRIP);
    canvas_fill(t->s->page, ink);
}

static void draw_colours(const strip *t) {
    enum { SHADES = 64 };
    const quantity *q = t->q;
    for (int k = 0; q->n_edge > 0 && k + 1 < q->n_edge; k++)
        fill(t, x_of(t, q->edge[k]), x_of(t, q->edge[k + 1]),
             quantity_colour(q, 0.5 * (q->edge[k] + q->edge[k + 1])));
    for (int k = 0; q->n_edge == 0 && k < SHADES; k++)
        fill(t, t->left + k * t->width / SHADES, t->left + t->width,
             quantity_colour_along(q, (k + 0.5) / SHADES));
    cairo_rectangle(t->s->page->cr, t->left, t->top, t->width, STRIP);
    canvas_stroke(t->s->page, COLOUR_INK, 1.0);
    for (int k = 1; k + 1 < q->n_edge; k++)
        canvas_line(t->s->page, (gradin_vec2){x_of(t, q->edge[k]), t->top},
                    (gradin_vec2){x_of(t, q->edge[k]), t->top + STRIP}, COLOUR_INK, 0.8);
}

static bool take(strip *t, double x, double width) {
    gradin_box2 box = {x - 0.5 * width - 4.0, 0.0, x + 0.5 * width + 4.0, 1.0};
    for (int i = 0; i < t->n_taken; i++)
        if (!boxes_are_apart(t->taken[i], box)) return false;
    if (t->n_taken == 2 * SCALE_EDGES) return false;
    t->taken[t->n_taken++] = box;
    return true;
}

static void put_tick(strip *t, double value, const char *word, bool is_limit) {
    char number[16], text[48];
    if (!isfinite(value) || value < t->q->low - 1e-9 || value > t->q->high + 1e-9) return;
    snprintf(text, sizeof text, "%s%s%s", word, word[0] ? " " : "",
             quantity_limit_text(t->q, value, number));
    text_style style = {
        .size = NUMBER, .is_bold = is_limit, .align = TEXT_CENTRE, .ink = COLOUR_INK};
    double x = x_of(t, value), width = canvas_text_width(t->s->page, style, text);
    canvas_line(t->s->page, (gradin_vec2){x, t->top - (is_limit ? 5.0 : 0.0)},
                (gradin_vec2){x, t->top + STRIP + 4.0}, COLOUR_INK, is_limit ? 2.0 : 1.0);
    double at = fmin(fmax(x, t->left + 0.5 * width), t->left + t->width - 0.5 * width);
    if (!take(t, at, width)) return;
    canvas_text(t->s->page, style, at, t->top + STRIP + BELOW, text);
}

/* Limits by their number on the strip, where steps end, and by name below. */
static void put_limits(strip *t) {
    static const char *const name[] = {"clear", "good", "fair"};
    const quantity *q = t->q;
    char number[16], text[160] = "";
    for (int i = 0; q->limit && i < 3; i++) {
        if (isnan(q->limit[i])) continue;
        size_t used = strlen(text);
        put_tick(t, q->limit[i], "", true);
        snprintf(text + used, sizeof text - used, "%s%s %s %s", used ? ", " : "", name[i],
                 q->is_high_good ? "from" : "to", quantity_limit_text(q, q->limit[i], number));
    }
    if (!q->limit && !q->is_criterion_hidden) put_tick(t, q->criterion, "limit", true);
    text_style style = {.size = NUMBER, .ink = COLOUR_INK};
    canvas_text_within(t->s->page, style, t->left, t->top + STRIP + 2.0 * BELOW + 2.0, t->width,
                       LEAST_TEXT, text);
}

static void put_spread(const strip *t) {
    const quantity *q = t->q;
    char least[16], median[16], most[16], text[120];
    if (!q->spread || isnan(q->spread->median)) return;
    snprintf(text, sizeof text, "least %s, median %s, most %s %s",
             quantity_text(q, q->spread->least, least), quantity_text(q, q->spread->median, median),
             quantity_text(q, q->spread->most, most), q->unit);
    text_style style = {.size = NUMBER, .ink = COLOUR_QUIET};
    canvas_text_within(t->s->page, style, t->left,
                       t->top + STRIP + (q->limit ? 3.0 : 2.0) * BELOW + 2.0, t->width, LEAST_TEXT,
                       text);
}

void board_draw_scale(board *s, const quantity *q, double left, double top, double width) {
    strip t = {.s = s, .q = q, .left = left, .top = top, .width = width};
    draw_colours(&t);
    put_limits(&t);
    put_tick(&t, q->low, "", false);
    put_tick(&t, q->high, "", false);
    for (int k = 1; k + 1 < q->n_edge; k++) put_tick(&t, q->edge[k], "", false);
    put_spread(&t);
}

void board_draw_classes(board *s, const gradin_seat_sums *sum, double left, double top,
                        double width) {
    for (int k = 0; k < GRADIN_N_RATING; k++) {
        char counted[32], text[64];
        double x = left + k * width / GRADIN_N_RATING;
        colour ink = colour_at(quantity_class_quality((gradin_rating)k));
        cairo_rectangle(s->page->cr, x, top, 30.0, 22.0);
        canvas_fill_keep(s->page, ink);
        canvas_stroke(s->page, COLOUR_INK, 1.0);
        text_style style = {
            .size = 14.0, .is_bold = true, .align = TEXT_CENTRE, .ink = colour_text_on(ink)};
        canvas_text(s->page, style, x + 15.0, top + 16.0, quantity_class_mark((gradin_rating)k));
        snprintf(text, sizeof text, "%s%s %s", quantity_class_name((gradin_rating)k),
                 k == GRADIN_RATING_POOR ? " (slash)" : "",
                 board_counted(sum->n_rating[k], sum->n_seat, counted));
        style = (text_style){.size = 16.0, .ink = COLOUR_INK};
        canvas_text_within(s->page, style, x + 38.0, top + 17.0, width / GRADIN_N_RATING - 46.0,
                           11.0, text);
    }
}
