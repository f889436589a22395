/* A season's two plots: level against time of its loudest event, and events over the limit against
 * the time at which a performance starts. */
#include "gradin/studies/season_plot.h"
#include "base/use.h"
#include "studies/shared/complete.h"

#include "render/draw/doubt.h"
#include "render/draw/encode.h"
#include "render/draw/view.h"

#include <stdio.h>

#define SEASON_LEFT 150.0
#define SEASON_TOP 190.0
#define SEASON_RIGHT (PAGE_WIDTH - PAGE_MARGIN)
#define TRACE_BOTTOM 820.0
#define STARTS_BOTTOM 620.0
#define SEASON_FOOT 210.0
#define TICK_SIZE 20.0
#define TRACE_DEPTH 25.0 /* dB */
#define KEY_ROW 38.0

typedef struct axes {
    canvas *page;
    gradin_box2 box; /* page units; y_min_m is its top */
    double x_low, x_high, y_low, y_high;
} axes;

static double x_of(const axes *a, double x) {
    return a->box.x_min_m +
           (x - a->x_low) / (a->x_high - a->x_low) * (a->box.x_max_m - a->box.x_min_m);
}

static double y_of(const axes *a, double y) {
    return a->box.y_max_m +
           (y - a->y_low) / (a->y_high - a->y_low) * (a->box.y_min_m - a->box.y_max_m);
}

/* The smallest of 1, 2, 5 times a power of ten that leaves at most `most` steps. */
static double tick_step(double range, double most) {
    double decade = pow(10.0, floor(log10(range / most)));
    if (range / decade <= most) return decade;
    if (range / (2.0 * decade) <= most) return 2.0 * decade;
    return range / (5.0 * decade) <= most ? 5.0 * decade : 10.0 * decade;
}

static void draw_y(const axes *a, double step, const char *label) {
    text_style number = {.size = TICK_SIZE, .align = TEXT_RIGHT, .ink = COLOUR_INK};
    text_style name = {
        .size = 22.0, .align = TEXT_CENTRE, .ink = COLOUR_INK, .turn_rad = -0.5 * GRADIN_PI};
    char text[32];
    for (int i = 0; a->y_low + i * step <= a->y_high + 1e-9; i++) {
        double value = a->y_low + i * step, y = y_of(a, value);
        canvas_line(a->page, (gradin_vec2){a->box.x_min_m, y}, (gradin_vec2){a->box.x_max_m, y},
                    COLOUR_FAINT, 1.0);
        gradin_format_fixed(text, sizeof text, value, step < 0.1 ? 2 : step < 1.0 ? 1 : 0);
        canvas_text(a->page, number, a->box.x_min_m - 12.0, y + 0.35 * TICK_SIZE, text);
    }
    canvas_text(a->page, name, PAGE_MARGIN + 16.0, 0.5 * (a->box.y_min_m + a->box.y_max_m), label);
}

static void draw_frame(const axes *a, const char *label) {
    text_style name = {.size = 22.0, .align = TEXT_CENTRE, .ink = COLOUR_INK};
    cairo_rectangle(a->page->cr, a->box.x_min_m, a->box.y_min_m, a->box.x_max_m - a->box.x_min_m,
                    a->box.y_max_m - a->box.y_min_m);
    canvas_stroke(a->page, COLOUR_INK, 1.8);
    canvas_text(a->page, name, 0.5 * (a->box.x_min_m + a->box.x_max_m), a->box.y_max_m + 66.0,
                label);
}

static void draw_head(canvas *page, const gradin_season *s, const char *heading) {
    char text[TEXT_CHARS];
    double width = PAGE_WIDTH - 2.0 * PAGE_MARGIN;
    text_style style = {.size = 36.0, .is_bold = true, .ink = COLOUR_INK};
    canvas_text_within(page, style, PAGE_MARGIN, 72.0, width, 22.0, heading);
    style = (text_style){.size = 25.0, .ink = COLOUR_INK};
    snprintf(text, sizeof text, "%.150s \xC2\xB7 %.150s \xC2\xB7 %.150s", s->model->layout_name,
             s->model->venue_name, s->traffic->name);
    canvas_text_within(page, style, PAGE_MARGIN, 112.0, width, 17.0, text);
}

static void draw_season_foot(canvas *page, const gradin_season *s, double top) {
    char text[TEXT_CHARS];
    double width = PAGE_WIDTH - 2.0 * PAGE_MARGIN;
    canvas_line(page, (gradin_vec2){PAGE_MARGIN, top}, (gradin_vec2){PAGE_MARGIN + width, top},
                COLOUR_FAINT, 1.2);
    doubt_text(s->systematic_spread.median, s->uncertainty.scatter_db, text, sizeof text);
    text_style style = {.size = 18.5, .ink = COLOUR_INK};
    double y = canvas_text_wrapped(page, style, PAGE_MARGIN, top + 28.0, width, text);
    style = (text_style){.size = 16.0, .ink = COLOUR_QUIET};
    snprintf(text, sizeof text,
             "gradin " GRADIN_VERSION " \xC2\xB7 input digest %.32s \xC2\xB7 traffic digest %.32s",
             s->model->digest, s->traffic->digest);
    canvas_text_within(page, style, PAGE_MARGIN, y + 4.0, width, 13.0, text);
}

typedef struct trace_style {
    double width, on, off;
} trace_style;

static const trace_style trace_styles[GRADIN_MAX_TRACE + 1] = {
    {4.0, 0.0, 0.0},  {3.0, 0.0, 0.0}, {3.0, 18.0, 8.0}, {3.0, 5.0, 6.0},
    {3.0, 34.0, 6.0}, {1.5, 0.0, 0.0}, {5.0, 2.0, 12.0}};

/* Curve 0 is outside; then the seats. */
static double trace_db(const gradin_season *s, int curve, int time) {
    if (curve == 0) return s->trace.outside_db[time];
    return s->trace.seat_db[(size_t)(curve - 1) * (size_t)s->trace.n_time + (size_t)time];
}

static double trace_time(const gradin_season *s, int time) {
    const gradin_event_levels *trace = &s->trace;
    int loudest = 0;
    for (int t = 1; t < trace->n_time; t++)
        if (trace->outside_db[t] > trace->outside_db[loudest]) loudest = t;
    return trace->time_s[time] - trace->time_s[loudest];
}

/* The moments within TRACE_DEPTH of the maximum outside. */
static void trace_span(const gradin_season *s, int *first, int *last) {
    double least_db =
        s->flight[s->trace_flight].outside_lamax_db + s->trace_offset_db - TRACE_DEPTH;
    *first = 0;
    *last = s->trace.n_time - 1;
    while (s->trace.outside_db[*first] < least_db) ++*first;
    while (s->trace.outside_db[*last] < least_db) --*last;
}

static void set_range(const gradin_season *s, axes *a) {
    int first, last;
    trace_span(s, &first, &last);
    double low = INFINITY, high = -INFINITY;
    for (int c = 0; c <= s->n_trace; c++)
        for (int t = first; t <= last; t++) {
            low = fmin(low, trace_db(s, c, t));
            high = fmax(high, trace_db(s, c, t));
        }
    a->y_low = 10.0 * floor((low - 1.0) / 10.0);
    a->y_high = 10.0 * ceil((high + 1.0) / 10.0);
    a->x_low = trace_time(s, first);
    a->x_high = trace_time(s, last);
    if (!(a->x_high > a->x_low)) { /* a source that stays */
        a->x_low = 0.0;
        a->x_high = fmax(s->flight[s->trace_flight].length_s, 1.0);
    }
}

static void draw_seconds(const axes *a) {
    text_style number = {.size = TICK_SIZE, .align = TEXT_CENTRE, .ink = COLOUR_INK};
    double step = tick_step(a->x_high - a->x_low, 14.0);
    char text[32];
    for (double at = step * ceil(a->x_low / step); at <= a->x_high + 1e-9; at += step) {
        double x = x_of(a, at);
        canvas_line(a->page, (gradin_vec2){x, a->box.y_min_m}, (gradin_vec2){x, a->box.y_max_m},
                    COLOUR_FAINT, 1.0);
        gradin_format_fixed(text, sizeof text, at, step < 1.0 ? 1 : 0);
        canvas_text(a->page, number, x, a->box.y_max_m + 30.0, text);
    }
}

static void draw_trace(const axes *a, const gradin_season *s, int curve) {
    int first, last;
    const trace_style *style = &trace_styles[curve];
    trace_span(s, &first, &last);
    for (int t = first; t <= last; t++) {
        double x = last > first ? trace_time(s, t) : a->x_low;
        (t == first ? cairo_move_to : cairo_line_to)(a->page->cr, x_of(a, x),
                                                     y_of(a, trace_db(s, curve, t)));
    }
    if (last == first)
        cairo_line_to(a->page->cr, a->box.x_max_m, y_of(a, trace_db(s, curve, first)));
    canvas_dashed(a->page, style->on, style->off);
    canvas_stroke(a->page, curve == 0 ? COLOUR_QUIET : COLOUR_INK, style->width);
    canvas_dashed(a->page, 0.0, 0.0);
}

static void draw_limit(const axes *a, const gradin_season *s) {
    if (isnan(s->limit_dba) || s->limit_dba < a->y_low || s->limit_dba > a->y_high) return;
    char text[64], level[24];
    double y = y_of(a, s->limit_dba);
    text_style style = {.size = 19.0,
                        .is_bold = true,
                        .align = TEXT_RIGHT,
                        .ink = COLOUR_INK,
                        .halo = 6.0,
                        .halo_ink = COLOUR_WHITE};
    canvas_line(a->page, (gradin_vec2){a->box.x_min_m, y}, (gradin_vec2){a->box.x_max_m, y},
                COLOUR_INK, 1.6);
    gradin_format_fixed(level, sizeof level, s->limit_dba, 1);
    snprintf(text, sizeof text, "limit %s dB", level);
    canvas_text(a->page, style, a->box.x_max_m - 10.0, y - 8.0, text);
}

static void trace_name(const gradin_season *s, int curve, char *text, size_t size) {
    static const char *const typical[3] = {"loudest seat, ", "median seat, ", "quietest seat, "};
    const gradin_flight *f = &s->flight[s->trace_flight];
    char level[24];
    int seat = curve > 0 ? s->trace_seat[curve - 1] : -1;
    double own_db = seat < 0 ? f->outside_lamax_db : f->lamax_db[seat];
    gradin_format_fixed(level, sizeof level, own_db + s->trace_offset_db, 1);
    if (seat < 0)
        snprintf(text, size, "outside, free field at the hall's nearest point: %s dB", level);
    else
        snprintf(text, size, "%s%.200s: %s dB", s->is_trace_chosen ? "seat " : typical[curve - 1],
                 s->model->seats.id[seat], level);
}

static void draw_trace_key(canvas *page, const gradin_season *s, double top) {
    text_style style = {.size = 21.0, .ink = COLOUR_INK};
    for (int c = 0; c <= s->n_trace; c++) {
        char text[TEXT_CHARS];
        double x = SEASON_LEFT + (c % 2) * 780.0, y = top + (c / 2) * KEY_ROW;
        canvas_dashed(page, trace_styles[c].on, trace_styles[c].off);
        canvas_line(page, (gradin_vec2){x, y - 7.0}, (gradin_vec2){x + 90.0, y - 7.0},
                    c == 0 ? COLOUR_QUIET : COLOUR_INK, trace_styles[c].width);
        canvas_dashed(page, 0.0, 0.0);
        trace_name(s, c, text, sizeof text);
        canvas_text_within(page, style, x + 104.0, y, 660.0, 14.0, text);
    }
}

static double draw_trace_page(canvas *page, const gradin_season *s) {
    const gradin_flight *f = &s->flight[s->trace_flight];
    axes a = {.page = page, .box = {SEASON_LEFT, SEASON_TOP, SEASON_RIGHT, TRACE_BOTTOM}};
    char text[TEXT_CHARS], offset[24];
    set_range(s, &a);
    draw_head(page, s, "Level against time of the loudest event, dB(A)");
    gradin_format_fixed(offset, sizeof offset, fabs(s->trace_offset_db), 1);
    snprintf(text, sizeof text,
             "%.150s on track %.150s, the loudest of its %d events: %s dB %s its class",
             s->traffic->class_of[f->class_index].name, s->traffic->track[f->track].name,
             s->trace_event, offset, s->trace_offset_db < 0.0 ? "below" : "above");
    text_style style = {.size = 20.0, .ink = COLOUR_QUIET};
    canvas_text_within(page, style, PAGE_MARGIN, 146.0, PAGE_WIDTH - 2.0 * PAGE_MARGIN, 15.0, text);
    draw_y(&a, 10.0, "A-weighted level, dB");
    draw_seconds(&a);
    draw_frame(&a, "seconds from the maximum outside");
    for (int c = 0; c <= s->n_trace; c++) draw_trace(&a, s, c);
    draw_limit(&a, s);
    draw_trace_key(page, s, TRACE_BOTTOM + 116.0);
    return TRACE_BOTTOM + 116.0 + KEY_ROW * (s->n_trace / 2 + 1);
}

static void draw_hours(const axes *a) {
    text_style number = {.size = TICK_SIZE, .align = TEXT_CENTRE, .ink = COLOUR_INK};
    char text[16];
    for (int hour = 0; hour <= 24; hour += 2) {
        double x = x_of(a, hour);
        canvas_line(a->page, (gradin_vec2){x, a->box.y_max_m},
                    (gradin_vec2){x, a->box.y_max_m + 8.0}, COLOUR_INK, 1.4);
        snprintf(text, sizeof text, "%02d:00", hour);
        canvas_text(a->page, number, x, a->box.y_max_m + 30.0, text);
    }
}

static void draw_bars(const axes *a, const gradin_season *s) {
    for (int k = 0; k < GRADIN_N_START; k++) {
        double left = x_of(a, 24.0 * k / GRADIN_N_START);
        double right = x_of(a, 24.0 * (k + 1) / GRADIN_N_START), top = y_of(a, s->start_over[k]);
        bool is_stated = k == s->traffic->start_s / GRADIN_START_STEP_S;
        cairo_rectangle(a->page->cr, left + 1.5, top, right - left - 3.0, a->box.y_max_m - top);
        canvas_fill(a->page, is_stated ? COLOUR_INK : COLOUR_FAINT);
    }
}

static double draw_starts_page(canvas *page, const gradin_season *s) {
    axes a = {.page = page,
              .box = {SEASON_LEFT, SEASON_TOP, SEASON_RIGHT, STARTS_BOTTOM},
              .x_high = 24.0};
    char text[TEXT_CHARS], limit[24];
    double most = 0.0;
    for (int k = 0; k < GRADIN_N_START; k++) most = fmax(most, s->start_over[k]);
    double step = tick_step(fmax(most, 0.1), 6.0);
    a.y_high = step * ceil(fmax(most, 0.1) / step);
    gradin_format_fixed(limit, sizeof limit, s->limit_dba, 1);
    draw_head(page, s, "Events over the limit per performance, by its start");
    snprintf(text, sizeof text,
             "Events over %s %s dB at a seat, mean of %d seats and %d days; a performance lasts "
             "%d min; black: the stated start",
             gradin_maximum_name(s->traffic->weighting), limit, s->model->seats.n_seat, s->n_day,
             s->traffic->length_s / 60);
    text_style style = {.size = 20.0, .ink = COLOUR_QUIET};
    canvas_text_within(page, style, PAGE_MARGIN, 146.0, PAGE_WIDTH - 2.0 * PAGE_MARGIN, 15.0, text);
    draw_y(&a, step, "events per performance");
    draw_bars(&a, s);
    draw_hours(&a);
    draw_frame(&a, "start of the performance");
    return STARTS_BOTTOM + 90.0;
}

typedef double drawer(canvas *page, const gradin_season *season);

static gradin_status draw_and_encode(gradin_arena *arena, gradin_arena *scratch,
                                     const gradin_season *s, drawer *draw, double height,
                                     gradin_picture format, const char *quantity,
                                     unsigned char **bytes, size_t *size, gradin_error *error) {
    canvas page;
    gradin_status status = canvas_open_as(&page, scratch, format, PAGE_WIDTH, height, 1.0, error);
    if (status == GRADIN_OK) {
        draw_season_foot(&page, s, draw(&page, s));
        status = canvas_status(&page, error);
    }
    char title[TEXT_CHARS];
    snprintf(title, sizeof title, "%s: %.200s", quantity, s->model->layout_name);
    const encode_note note[] = {{"Title", title},
                                {"Software", "gradin " GRADIN_VERSION},
                                {"Layout", s->model->layout_name},
                                {"Quantity", quantity},
                                {"Source", s->model->digest},
                                {"Traffic", s->traffic->digest}};
    if (status == GRADIN_OK)
        status = encode_picture(arena, scratch, &page, note, (int)(sizeof note / sizeof note[0]),
                                bytes, size, error);
    canvas_close(&page);
    return status;
}

static gradin_status picture(gradin_arena *arena, const gradin_season *s, drawer *draw,
                             double height, gradin_picture format, const char *quantity,
                             unsigned char **bytes, size_t *size, gradin_error *error) {
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    gradin_status status =
        draw_and_encode(arena, scratch, s, draw, height, format, quantity, bytes, size, error);
    gradin_arena_destroy(scratch);
    return status;
}

gradin_status gradin_season_trace_picture(gradin_arena *arena, const gradin_season *season,
                                          gradin_picture format, unsigned char **bytes,
                                          size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK ||
        season_complete(season, error) != GRADIN_OK || picture_check(format, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    return picture(arena, season, draw_trace_page,
                   TRACE_BOTTOM + SEASON_FOOT + 34.0 + KEY_ROW * (season->n_trace / 2 + 1), format,
                   "level against time, dB(A)", bytes, size, error);
}

gradin_status gradin_season_starts_picture(gradin_arena *arena, const gradin_season *season,
                                           gradin_picture format, unsigned char **bytes,
                                           size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK ||
        season_complete(season, error) != GRADIN_OK || picture_check(format, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (isnan(season->limit_dba))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "there is no limit to count over");
    return picture(arena, season, draw_starts_page, STARTS_BOTTOM + SEASON_FOOT, format,
                   "events over the limit per performance", bytes, size, error);
}
