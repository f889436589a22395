/* The colour bar with its class boundaries, and the counts. */
#include "render/maps/legend.h"

#include <stdio.h>

#define BAR_LEFT (PAGE_MARGIN + 26.0)
#define BAR_WIDTH 680.0
#define BAR_HEIGHT 34.0
#define BAR_TOP 110.0 /* below the legend's top: three rows of boundary labels stand above it */
#define POINT 22.0    /* length of a pointed end */
#define ROW 29.0

static const text_style plain = {.size = 18.5, .ink = {0.12, 0.12, 0.14}};
static const text_style heading = {.size = 21.0, .is_bold = true, .ink = {0.12, 0.12, 0.14}};

typedef struct panel {
    canvas *page;
    const quantity *q;
    int sheet;
    double top;
} panel;

static double bar_x(const quantity *q, double value) {
    double share = (value - q->low) / (q->high - q->low);
    return BAR_LEFT + fmin(fmax(share, 0.0), 1.0) * BAR_WIDTH;
}

static void draw_point(const panel *p, bool is_high, double y) {
    double x = is_high ? BAR_LEFT + BAR_WIDTH : BAR_LEFT, out = is_high ? POINT : -POINT;
    cairo_move_to(p->page->cr, x, y);
    cairo_line_to(p->page->cr, x + out, y + 0.5 * BAR_HEIGHT);
    cairo_line_to(p->page->cr, x, y + BAR_HEIGHT);
    cairo_close_path(p->page->cr);
    canvas_fill_keep(p->page, quantity_colour_along(p->q, is_high ? 1.0 : 0.0));
    canvas_stroke(p->page, COLOUR_INK, 1.0);
}

/* A box of one colour per step, with a line between. */
static void draw_steps(const panel *p, double y) {
    const quantity *q = p->q;
    for (int k = 0; k + 1 < q->n_edge; k++) {
        double from = bar_x(q, q->edge[k]), to = bar_x(q, q->edge[k + 1]);
        cairo_rectangle(p->page->cr, from, y, to - from, BAR_HEIGHT);
        canvas_fill_keep(p->page, quantity_colour(q, 0.5 * (q->edge[k] + q->edge[k + 1])));
        canvas_stroke(p->page, COLOUR_INK, 1.0);
    }
}

static void draw_shades(const panel *p, double y) {
    double step = BAR_WIDTH / COLOUR_SHADES;
    for (int i = 0; i < COLOUR_SHADES; i++) {
        double along = (double)i / (COLOUR_SHADES - 1);
        cairo_rectangle(p->page->cr, BAR_LEFT + i * step, y, BAR_WIDTH - i * step, BAR_HEIGHT);
        canvas_fill(p->page, quantity_colour_along(p->q, along));
    }
}

static void draw_bar(const panel *p) {
    double y = p->top + BAR_TOP;
    if (p->q->n_edge > 0)
        draw_steps(p, y);
    else
        draw_shades(p, y);
    cairo_rectangle(p->page->cr, BAR_LEFT, y, BAR_WIDTH, BAR_HEIGHT);
    canvas_stroke(p->page, COLOUR_INK, 1.0);
    if (p->q->opens_low) draw_point(p, false, y);
    if (p->q->opens_high) draw_point(p, true, y);
}

static void draw_tick(const panel *p, double shown) {
    char text[16];
    int decimals = fabs(shown - round(shown)) < 0.05 ? 0 : 1;
    double value = shown / p->q->shown_per_si, x = bar_x(p->q, value);
    double y = p->top + BAR_TOP + BAR_HEIGHT;
    text_style style = plain;
    style.align = TEXT_CENTRE;
    canvas_line(p->page, (gradin_vec2){x, y}, (gradin_vec2){x, y + 7.0}, COLOUR_INK, 1.2);
    if (p->q->n_edge > 0)
        gradin_format_fixed(text, sizeof text, shown,
                            p->q->tick_decimals > 1 ? p->q->tick_decimals : decimals);
    else
        quantity_tick_text(p->q, shown, text);
    canvas_text(p->page, style, x, y + 27.0, text);
}

static void draw_ticks(const panel *p) {
    const quantity *q = p->q;
    double slack = 1e-9 * q->tick_shown;
    double first = ceil(q->low * q->shown_per_si / q->tick_shown - 1e-9);
    double last = floor((q->high * q->shown_per_si + slack) / q->tick_shown);
    for (int k = 0; k < q->n_edge; k++) draw_tick(p, q->edge[k] * q->shown_per_si);
    for (double k = first; q->n_edge == 0 && k <= last; k += 1.0) draw_tick(p, k * q->tick_shown);
    text_style style = plain;
    canvas_text(p->page, style, BAR_LEFT + BAR_WIDTH + POINT + 8.0,
                p->top + BAR_TOP + 0.5 * BAR_HEIGHT + 7.0, q->unit);
}

/* The line of a class boundary runs through the bar up to its own row of labels, so that close ones
 * never collide. */
static void draw_boundary(const panel *p, double limit, int row, bool is_left, const char *name) {
    if (!isfinite(limit) || limit < p->q->low || limit > p->q->high) return;
    char number[16], text[64];
    double x = bar_x(p->q, limit), bar_y = p->top + BAR_TOP, y = bar_y - 10.0 - 24.0 * row;
    snprintf(text, sizeof text, "%s %s", name, quantity_limit_text(p->q, limit, number));
    text_style style = plain;
    style.align = is_left ? TEXT_RIGHT : TEXT_LEFT;
    canvas_line(p->page, (gradin_vec2){x, bar_y}, (gradin_vec2){x, bar_y + BAR_HEIGHT},
                COLOUR_WHITE, 4.0);
    canvas_line(p->page, (gradin_vec2){x, y - 13.0}, (gradin_vec2){x, bar_y + BAR_HEIGHT},
                COLOUR_INK, 1.6);
    canvas_text(p->page, style, x + (is_left ? -6.0 : 6.0), y, text);
}

/* All labels lie on the same side of their lines. The line that the other labels would cross is
 * the shortest. */
static void draw_boundaries(const panel *p) {
    static const char *const from[3] = {"clear from", "good from", "fair from"};
    static const char *const to[3] = {"clear to", "good to", "fair to"};
    const quantity *q = p->q;
    if (!q->limit) {
        if (!q->is_criterion_hidden) draw_boundary(p, q->criterion, 0, true, "limit");
        return;
    }
    double lowest = fmin(fmin(q->limit[0], q->limit[1]), q->limit[2]);
    bool is_left = bar_x(q, lowest) > BAR_LEFT + 120.0;
    for (int i = 0; i < 3; i++) {
        int rank = q->is_high_good ? 2 - i : i; /* from the left */
        draw_boundary(p, q->limit[i], is_left ? rank : 2 - rank, is_left,
                      q->is_high_good ? from[i] : to[i]);
    }
}

typedef struct class_count {
    int n[GRADIN_N_RATING], n_none;
} class_count;

/* How many seats have each class on one sheet, or on all (sheet -1). */
static class_count count_classes(const panel *p, int sheet) {
    class_count count = {0};
    const gradin_seats *seats = &p->q->model->seats;
    for (int i = 0; i < seats->n_seat; i++) {
        if (sheet >= 0 && seats->sheet[i] != sheet) continue;
        int rating = quantity_class(p->q, i);
        if (rating < 0)
            count.n_none++;
        else
            count.n[rating]++;
    }
    return count;
}

typedef struct table_row {
    const char *label;
    double quality; /* swatch colour; NAN draws none */
    const char *mark;
    int here, all; /* below 0: nothing to count */
} table_row;

static void draw_swatch(const panel *p, double y, double quality, const char *mark) {
    colour fill = colour_at(quality);
    cairo_rectangle(p->page->cr, PAGE_MARGIN + 4.0, y - 19.0, 30.0, 24.0);
    canvas_fill_keep(p->page, fill);
    canvas_stroke(p->page, COLOUR_INK, 1.0);
    text_style style = {
        .size = 16.0, .align = TEXT_CENTRE, .ink = colour_text_on(fill), .is_bold = true};
    canvas_text(p->page, style, PAGE_MARGIN + 19.0, y - 1.0, mark);
}

/* A dash where nothing is counted. */
static char *count_text(int n, char text[24]) {
    if (n < 0)
        snprintf(text, 24, "\xE2\x80\x93");
    else
        snprintf(text, 24, "%d", n);
    return text;
}

static void draw_row(const panel *p, double y, const table_row *row) {
    char text[24];
    bool has_sheets = p->q->model->seats.n_sheet > 1;
    double left = PAGE_MARGIN + 4.0;
    if (!isnan(row->quality)) {
        draw_swatch(p, y, row->quality, row->mark);
        left += 44.0;
    }
    text_style number = plain;
    number.align = TEXT_RIGHT;
    canvas_text_within(p->page, plain, left, y, PAGE_MARGIN + 530.0 - left, 14.0, row->label);
    if (has_sheets)
        canvas_text(p->page, number, PAGE_MARGIN + 640.0, y, count_text(row->here, text));
    canvas_text(p->page, number, PAGE_MARGIN + 766.0, y, count_text(row->all, text));
}

static void draw_table_head(const panel *p, double y, const char *title) {
    text_style right = plain;
    right.align = TEXT_RIGHT;
    right.ink = COLOUR_QUIET;
    text_style left = right;
    left.align = TEXT_LEFT;
    bool has_sheets = p->q->model->seats.n_sheet > 1;
    canvas_text_within(p->page, left, PAGE_MARGIN + 4.0, y, 520.0, 14.0, title);
    if (has_sheets) canvas_text(p->page, right, PAGE_MARGIN + 640.0, y, "this sheet");
    canvas_text(p->page, right, PAGE_MARGIN + 766.0, y, has_sheets ? "all sheets" : "seats");
    canvas_line(p->page, (gradin_vec2){PAGE_MARGIN, y + 8.0},
                (gradin_vec2){PAGE_MARGIN + 770.0, y + 8.0}, COLOUR_FAINT, 1.0);
}

static void class_label(const quantity *q, int rating, char *text, size_t size) {
    const char *name = quantity_class_name((gradin_rating)rating);
    char number[16];
    int bound = rating < 3 ? rating : 2;
    if (isnan(q->limit[bound])) {
        snprintf(text, size, "%s (no limit set)", name);
        return;
    }
    quantity_limit_text(q, q->limit[bound], number);
    const char *word =
        q->is_high_good ? (rating < 3 ? "at least" : "below") : (rating < 3 ? "at most" : "over");
    snprintf(text, size, "%s: %s %s %s", name, word, number, q->unit);
}

static void draw_classes(const panel *p, double y) {
    class_count here = count_classes(p, p->sheet), all = count_classes(p, -1);
    const char *head = p->q->class_head[0] ? p->q->class_head
                       : p->q->value       ? "classes by this figure alone, unrounded"
                                           : "rating";
    draw_table_head(p, y, head);
    for (int i = 0; i < GRADIN_N_RATING; i++) {
        char text[96];
        table_row row = {.label = text, .quality = NAN, .here = here.n[i], .all = all.n[i]};
        if (p->q->value)
            class_label(p->q, i, text, sizeof text);
        else {
            row.quality = quantity_class_quality((gradin_rating)i);
            row.mark = quantity_class_mark((gradin_rating)i);
            snprintf(text, sizeof text, "%s", quantity_class_name((gradin_rating)i));
        }
        draw_row(p, y + ROW * (i + 1), &row);
    }
    if (all.n_none > 0)
        draw_row(p, y + ROW * 5.0,
                 &(table_row){p->q->none_text ? p->q->none_text : "does not apply", NAN, NULL,
                              here.n_none, all.n_none});
}

/* The rows of a change; the y below them. */
static double draw_effects(const panel *p, double y) {
    class_count here = count_classes(p, p->sheet), all = count_classes(p, -1);
    const quantity *q = p->q;
    draw_table_head(p, y, q->criterion_head);
    draw_row(p, y += ROW, &(table_row){q->within, NAN, NULL, here.n[0], all.n[0]});
    draw_row(p, y += ROW, &(table_row){"no difference", NAN, NULL, here.n[1], all.n[1]});
    draw_row(p, y += ROW, &(table_row){q->over, NAN, NULL, here.n[3], all.n[3]});
    if (all.n_none > 0)
        draw_row(p, y += ROW, &(table_row){q->none_text, NAN, NULL, here.n_none, all.n_none});
    return y + ROW;
}

/* The rows of the one limit; the y below them. */
static double draw_criterion(const panel *p, double y) {
    class_count here = count_classes(p, p->sheet), all = count_classes(p, -1);
    const char *none = p->q->none_text ? p->q->none_text : "does not apply";
    char near[64], sure[16];
    gradin_format_fixed(sure, sizeof sure, 100.0 * p->q->doubt.confidence, 0);
    snprintf(near, sizeof near, "too near to tell at a confidence of %s %%", sure);
    draw_table_head(p, y, p->q->criterion_head);
    draw_row(p, y + ROW, &(table_row){p->q->within, NAN, NULL, here.n[0], all.n[0]});
    y += ROW;
    if (p->q->verdict)
        draw_row(
            p, y += ROW,
            &(table_row){near, NAN, NULL, here.n[GRADIN_RATING_FAIR], all.n[GRADIN_RATING_FAIR]});
    draw_row(p, y += ROW, &(table_row){p->q->over, NAN, NULL, here.n[3], all.n[3]});
    if (all.n_none > 0)
        draw_row(p, y += ROW, &(table_row){none, NAN, NULL, here.n_none, all.n_none});
    return y + ROW;
}

static void draw_note(const panel *p, double y) {
    if (p->q->note[0] == '\0') return;
    canvas_text_wrapped(p->page, plain, PAGE_MARGIN + 4.0, y, 786.0, p->q->note);
}

static void draw_spread(const panel *p, double y) {
    const gradin_spread *spread = p->q->spread;
    if (!spread || isnan(spread->median)) return;
    char least[16], p10[16], median[16], p90[16], most[16], text[200];
    snprintf(text, sizeof text,
             "All seats: least %s, 10th percentile %s, median %s, 90th percentile %s, most %s %s",
             quantity_text(p->q, spread->least, least), quantity_text(p->q, spread->p10, p10),
             quantity_text(p->q, spread->median, median), quantity_text(p->q, spread->p90, p90),
             quantity_text(p->q, spread->most, most), p->q->unit);
    canvas_text_within(p->page, plain, PAGE_MARGIN + 4.0, y, 786.0, 13.0, text);
}

static int count_reason(const panel *p, gradin_reason reason, int sheet) {
    const gradin_seats *seats = &p->q->model->seats;
    int n = 0;
    for (int i = 0; i < seats->n_seat; i++)
        n += (sheet < 0 || seats->sheet[i] == sheet) && p->q->reason[i] == reason;
    return n;
}

/* Each figure with its limits; one that does not count has no number of seats. */
static void draw_reasons(const panel *p, double y) {
    const char *brief = p->q->model->limits.brief;
    char head[120], text[120];
    snprintf(head, sizeof head, "what sets it (clear / good / fair%s%.40s)",
             brief ? "; brief " : "; no brief stated", brief ? brief : "");
    draw_table_head(p, y, head);
    for (int i = GRADIN_REASON_VISIBLE; i < (int)GRADIN_N_REASON; i++) {
        gradin_reason reason = (gradin_reason)i;
        bool counts = legend_limit(p->q, reason, text, sizeof text);
        draw_row(p, y + ROW * i,
                 &(table_row){text, NAN, NULL, counts ? count_reason(p, reason, p->sheet) : -1,
                              counts ? count_reason(p, reason, -1) : -1});
    }
}

/* The rating has no bar: its classes are the scale. */
static void draw_rating(const panel *p) {
    draw_classes(p, p->top + 52.0);
    if (p->q->reason) draw_reasons(p, p->top + 52.0 + ROW * 6.4);
}

void legend_draw_scale(canvas *page, const view *v, const quantity *q, int sheet) {
    panel p = {page, q, sheet, v->legend_top};
    char title[160];
    quantity_heading(q, title, sizeof title);
    canvas_text_within(page, heading, PAGE_MARGIN, p.top + 14.0, 790.0, 14.0, title);
    if (!q->value) {
        draw_rating(&p);
        return;
    }
    draw_bar(&p);
    draw_ticks(&p);
    draw_boundaries(&p);
    double y = p.top + BAR_TOP + BAR_HEIGHT + 70.0;
    draw_spread(&p, y);
    y += 38.0;
    if (q->effect)
        y = draw_effects(&p, y) + 6.0;
    else if (q->limit)
        draw_classes(&p, y);
    else if (q->criterion_head)
        y = draw_criterion(&p, y) + 6.0;
    draw_note(&p, y);
}
