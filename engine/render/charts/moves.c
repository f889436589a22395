/* Moves of a changeover against time: one row per machine or gang, one bar per move, the critical
 * path in heavy outline, hours in which nobody works across all rows. Kinds differ by fill and
 * hatch, so the picture holds in grey. */
#include "base/use.h"
#include "gradin/render.h"
#include "render/draw/encode.h"
#include "studies/shared/complete.h"

#include <stdio.h>
#include <string.h>

#define CHART_LEFT 300.0
#define CHART_TOP 210.0
#define ROW_HEIGHT 46.0
#define BAR_HEIGHT 30.0
#define CHART_RIGHT (PAGE_WIDTH - 56.0)
#define CHART_MARGIN 56.0
#define COLOUR_STOP ((colour){0.88, 0.88, 0.90})

enum { MAX_LANE = GRADIN_MAX_MOVE };

typedef struct chart {
    canvas *page;
    const gradin_changeover *c;
    const char *lane[MAX_LANE];
    int row[GRADIN_MAX_MOVE]; /* of each move */
    int first_row[MAX_LANE];  /* of each lane */
    int n_lane, n_row;
    double unit_per_s, bottom;
} chart;

static int lane_of(const chart *t, const char *name) {
    for (int i = 0; i < t->n_lane; i++)
        if (strcmp(t->lane[i], name) == 0) return i;
    return -1;
}

static bool is_taken(const chart *t, int move, int row) {
    const gradin_move *m = &t->c->move[move];
    for (int i = 0; i < move; i++) {
        const gradin_move *o = &t->c->move[i];
        bool is_beside = t->row[i] == row && strcmp(o->lane, m->lane) == 0;
        if (is_beside && o->start_s < m->end_s && m->start_s < o->end_s) return true;
    }
    return false;
}

/* Lanes in order of their first move; a lane takes as many rows as it has moves at once. */
static void place_rows(chart *t) {
    for (int i = 0; i < t->c->n_move; i++)
        if (lane_of(t, t->c->move[i].lane) < 0) t->lane[t->n_lane++] = t->c->move[i].lane;
    for (int lane = 0; lane < t->n_lane; lane++) {
        int end = t->n_row + 1;
        t->first_row[lane] = t->n_row;
        for (int i = 0; i < t->c->n_move; i++) {
            if (strcmp(t->c->move[i].lane, t->lane[lane]) != 0) continue;
            t->row[i] = t->n_row;
            while (is_taken(t, i, t->row[i])) t->row[i]++;
            if (t->row[i] + 1 > end) end = t->row[i] + 1;
        }
        t->n_row = end;
    }
}

static double row_y(int row) {
    return CHART_TOP + row * ROW_HEIGHT;
}

static double time_x(const chart *t, double seconds) {
    return CHART_LEFT + seconds * t->unit_per_s;
}

static colour kind_fill(gradin_move_kind kind) {
    static const double quality[] = {[GRADIN_MOVE_STRIKE] = 0.45,
                                     [GRADIN_MOVE_MACHINE] = 0.12,
                                     [GRADIN_MOVE_SET] = 0.85,
                                     [GRADIN_MOVE_STEP] = 0.65};
    return colour_at(quality[kind]);
}

/* Fills and keeps the path. */
static void fill_kind(canvas *page, gradin_move_kind kind) {
    canvas_fill_keep(page, kind_fill(kind));
    if (kind == GRADIN_MOVE_STRIKE) canvas_hatch(page, COLOUR_WHITE, 1.4, 9.0);
}

/* Black with a white line inside, so that it stands out on any fill. */
static void outline_critical(canvas *page, double x, double y, double width) {
    cairo_rectangle(page->cr, x, y, width, BAR_HEIGHT);
    canvas_stroke(page, (colour){0, 0, 0}, 5.0);
    if (width < 26.0) return;
    cairo_rectangle(page->cr, x + 3.5, y + 3.5, width - 7.0, BAR_HEIGHT - 7.0);
    canvas_stroke(page, COLOUR_WHITE, 2.0);
}

static void outline_near(canvas *page, double x, double y, double width) {
    cairo_rectangle(page->cr, x, y, width, BAR_HEIGHT);
    canvas_stroke(page, (colour){0, 0, 0}, 1.6);
}

static bool is_stopped(const gradin_move *m, const gradin_stop *s) {
    return s->from_s < m->end_s && m->start_s < s->to_s;
}

/* The widest stretch of a bar that no gap cuts, from its left end and width. */
static void widest_part(const chart *t, const gradin_move *m, double *x, double *width) {
    double at = *x, end = *x + *width;
    *width = 0.0;
    for (int i = 0; i <= t->c->n_stop; i++) {
        const gradin_stop *s = i < t->c->n_stop ? &t->c->stop[i] : NULL;
        if (s && !is_stopped(m, s)) continue;
        double to = s ? fmin(time_x(t, s->from_s), end) : end;
        if (to - at > *width) {
            *x = at;
            *width = to - at;
        }
        if (s) at = time_x(t, s->to_s);
    }
}

/* Plain background behind a label on a hatched bar. */
static void clear_ground(chart *t, text_style style, const char *text, double x, double y,
                         const gradin_move *m) {
    double width = canvas_text_width(t->page, style, text) + 10.0;
    if (m->kind != GRADIN_MOVE_STRIKE) return;
    cairo_rectangle(t->page->cr, x - width / 2.0, y + 5.0, width, BAR_HEIGHT - 10.0);
    canvas_fill(t->page, kind_fill(m->kind));
}

/* Number, gang and name, number and gang, the number alone, or the number in narrow letters,
 * whichever fits. */
static void label_bar(chart *t, int i, double x, double y, double width) {
    const gradin_move *m = &t->c->move[i];
    char full[TEXT_CHARS], middle[64], number[16];
    text_style style = {.size = 17.0,
                        .is_bold = true,
                        .align = TEXT_CENTRE,
                        .ink = colour_text_on(kind_fill(m->kind))};
    snprintf(full, sizeof full, "%d  %.40s%s%.200s", i + 1, m->gang ? m->gang : "",
             m->gang && m->gang[0] ? ": " : "", m->name);
    snprintf(number, sizeof number, "%d", i + 1);
    snprintf(middle, sizeof middle, "%d  %.40s", i + 1, m->gang ? m->gang : "");
    const char *text = canvas_text_width(t->page, style, full) + 24.0 <= width     ? full
                       : canvas_text_width(t->page, style, middle) + 20.0 <= width ? middle
                                                                                   : number;
    if (text == number && canvas_text_width(t->page, style, number) + 10.0 > width) {
        style.size = 13.0;
        style.condense = 0.8;
        if (canvas_text_width(t->page, style, number) + 6.0 > width) return;
    }
    clear_ground(t, style, text, x + width / 2.0, y, m);
    canvas_text(t->page, style, x + width / 2.0, y + BAR_HEIGHT / 2.0 + 0.36 * style.size, text);
}

static void draw_stops(chart *t) {
    for (int i = 0; i < t->c->n_stop; i++) {
        double x = time_x(t, t->c->stop[i].from_s);
        cairo_rectangle(t->page->cr, x, CHART_TOP, time_x(t, t->c->stop[i].to_s) - x,
                        t->bottom - CHART_TOP);
        canvas_fill(t->page, COLOUR_STOP);
    }
}

/* The gaps of a bar, along which its work rests. */
static void cut_bar(chart *t, const gradin_move *m, double y) {
    for (int i = 0; i < t->c->n_stop; i++) {
        const gradin_stop *s = &t->c->stop[i];
        if (!is_stopped(m, s)) continue;
        double x = time_x(t, s->from_s > m->start_s ? s->from_s : m->start_s);
        double end = time_x(t, s->to_s < m->end_s ? s->to_s : m->end_s);
        cairo_rectangle(t->page->cr, x, y, end - x, BAR_HEIGHT);
        canvas_fill(t->page, COLOUR_STOP);
    }
}

static void draw_bar(chart *t, int i) {
    const gradin_move *m = &t->c->move[i];
    double x = time_x(t, m->start_s), width = fmax((m->end_s - m->start_s) * t->unit_per_s, 3.0);
    double y = row_y(t->row[i]) + (ROW_HEIGHT - BAR_HEIGHT) / 2.0;
    cairo_rectangle(t->page->cr, x, y, width, BAR_HEIGHT);
    fill_kind(t->page, m->kind);
    canvas_stroke(t->page, COLOUR_WHITE, 1.2);
    cut_bar(t, m, y);
    if (m->is_critical) outline_critical(t->page, x, y, width);
    if (m->is_near && !m->is_critical) outline_near(t->page, x, y, width);
    widest_part(t, m, &x, &width);
    label_bar(t, i, x, y, width);
}

/* How far a bar may move to the right. */
static void draw_float(chart *t, int i) {
    const gradin_move *m = &t->c->move[i];
    double from = time_x(t, m->end_s), to = from + m->float_s * t->unit_per_s;
    double y = row_y(t->row[i]) + ROW_HEIGHT / 2.0;
    if (to - from < 2.0) return;
    canvas_line(t->page, (gradin_vec2){from, y}, (gradin_vec2){to, y}, COLOUR_QUIET, 2.5);
    canvas_line(t->page, (gradin_vec2){to, y - 7.0}, (gradin_vec2){to, y + 7.0}, COLOUR_QUIET, 2.5);
}

static int tick_s(int total_s) {
    static const int steps[] = {60, 300, 600, 900, 1800, 3600, 7200, 14400, 28800};
    for (int i = 0; i < 8; i++)
        if (total_s / steps[i] <= 14) return steps[i];
    return steps[8];
}

static void put_tick(chart *t, int at_s, int64_t shown_s) {
    char label[32];
    text_style style = {.size = 18.0, .align = TEXT_CENTRE, .ink = COLOUR_INK};
    double x = time_x(t, at_s);
    canvas_line(t->page, (gradin_vec2){x, CHART_TOP - 8.0}, (gradin_vec2){x, t->bottom},
                COLOUR_FAINT, 1.0);
    snprintf(label, sizeof label, "%d:%02d", (int)(shown_s / 3600), (int)(shown_s / 60 % 60));
    canvas_text(t->page, style, x, CHART_TOP - 16.0, label);
}

/* From the start, or by the clock where the start is known. */
static void draw_times(chart *t) {
    const gradin_changeover *c = t->c;
    int step_s = tick_s(c->total_s), first_s = c->has_start ? (int)(c->start_s % 86400) : 0;
    for (int at_s = (step_s - first_s % step_s) % step_s; at_s <= c->total_s; at_s += step_s)
        put_tick(t, at_s, c->has_start ? (first_s + at_s) % 86400 : at_s);
    text_style style = {.size = 18.0, .ink = COLOUR_INK};
    canvas_text(t->page, style, CHART_MARGIN, CHART_TOP - 16.0,
                c->has_start ? "time of day, local" : "time, h:mm");
    double x = time_x(t, c->total_s);
    canvas_line(t->page, (gradin_vec2){x, CHART_TOP - 8.0}, (gradin_vec2){x, t->bottom + 8.0},
                COLOUR_INK, 2.5);
}

static void draw_lanes(chart *t) {
    text_style style = {.size = 19.0, .ink = COLOUR_INK};
    for (int i = 0; i < t->n_lane; i++) {
        double y = row_y(t->first_row[i]);
        canvas_line(t->page, (gradin_vec2){CHART_MARGIN, y}, (gradin_vec2){CHART_RIGHT, y},
                    COLOUR_FAINT, 1.0);
        canvas_text_within(t->page, style, CHART_MARGIN, y + ROW_HEIGHT / 2.0 + 7.0,
                           CHART_LEFT - CHART_MARGIN - 16.0, 13.0, t->lane[i]);
    }
    canvas_line(t->page, (gradin_vec2){CHART_MARGIN, t->bottom},
                (gradin_vec2){CHART_RIGHT, t->bottom}, COLOUR_QUIET, 1.4);
}

static void clock_text(int seconds, char text[32]) {
    int minutes = (seconds + 59) / 60;
    snprintf(text, 32, "%d:%02d", minutes / 60, minutes % 60);
}

/* The bound is one of working time, so it stands beside that. */
static void put_total(const gradin_changeover *c, char text[160]) {
    char total[32], work[32], bound[32];
    bool is_least = c->work_s == c->lower_bound_s, has_rests = c->work_s != c->total_s;
    clock_text(c->total_s, total);
    clock_text(c->work_s, work);
    clock_text(c->lower_bound_s, bound);
    snprintf(text, 160, "%s h%s%s%s%s%s%s", total, has_rests ? " with breaks, " : "",
             has_rests ? work : "", has_rests ? " h of work" : "",
             is_least ? ", proven least" : ", none can be under ", is_least ? "" : bound,
             is_least ? "" : " h");
}

static void draw_title(chart *t) {
    const gradin_changeover *c = t->c;
    char text[TEXT_CHARS], total[160];
    double width = PAGE_WIDTH - 2.0 * CHART_MARGIN;
    text_style style = {.size = 36.0, .is_bold = true, .ink = COLOUR_INK};
    snprintf(text, sizeof text, "Changeover from %.150s to %.150s", c->from->layout_name,
             c->to->layout_name);
    canvas_text_within(t->page, style, CHART_MARGIN, 72.0, width, 22.0, text);
    put_total(c, total);
    snprintf(text, sizeof text, "%.200s \xC2\xB7 %s \xC2\xB7 crew of %d", c->from->venue_name,
             total, c->crew);
    style = (text_style){.size = 24.0, .ink = COLOUR_INK};
    canvas_text_within(t->page, style, CHART_MARGIN, 112.0, width, 16.0, text);
    style = (text_style){.size = 19.0, .ink = COLOUR_QUIET};
    canvas_text_within(t->page, style, CHART_MARGIN, 144.0, width, 14.0,
                       "One row per machine or gang; numbers are those of the move list, letters "
                       "the gangs that do a move; short moves stand there by their time.");
}

enum { KEY_CRITICAL = -1, KEY_NEAR = -2, KEY_FLOAT = -3, KEY_STOP = -4 };

static void draw_key_mark(chart *t, double x, double y, int kind) {
    if (kind == KEY_FLOAT) {
        canvas_line(t->page, (gradin_vec2){x, y - 6.0}, (gradin_vec2){x + 40.0, y - 6.0},
                    COLOUR_QUIET, 2.5);
        canvas_line(t->page, (gradin_vec2){x + 40.0, y - 13.0}, (gradin_vec2){x + 40.0, y + 1.0},
                    COLOUR_QUIET, 2.5);
        return;
    }
    cairo_rectangle(t->page->cr, x, y - 16.0, 40.0, 20.0);
    if (kind >= 0)
        fill_kind(t->page, (gradin_move_kind)kind);
    else
        canvas_fill_keep(t->page, kind == KEY_STOP ? COLOUR_STOP : COLOUR_WHITE);
    double line = kind == KEY_CRITICAL ? 5.0 : kind == KEY_NEAR ? 1.6 : 1.2;
    bool is_filled = kind >= 0 || kind == KEY_STOP;
    canvas_stroke(t->page, is_filled ? COLOUR_WHITE : (colour){0, 0, 0}, line);
}

static double draw_key_item(chart *t, double x, double y, const char *text, int kind) {
    text_style style = {.size = 18.0, .ink = COLOUR_INK};
    draw_key_mark(t, x, y, kind);
    canvas_text(t->page, style, x + 52.0, y, text);
    return x + 52.0 + canvas_text_width(t->page, style, text) + 44.0;
}

static bool has_steps(const gradin_changeover *c) {
    for (int i = 0; i < c->n_move; i++)
        if (c->move[i].kind == GRADIN_MOVE_STEP) return true;
    return false;
}

static void draw_key(chart *t) {
    double x = CHART_MARGIN, y = t->bottom + 48.0;
    x = draw_key_item(t, x, y, "strike", GRADIN_MOVE_STRIKE);
    x = draw_key_item(t, x, y, "machine moves", GRADIN_MOVE_MACHINE);
    x = draw_key_item(t, x, y, "set", GRADIN_MOVE_SET);
    if (has_steps(t->c)) x = draw_key_item(t, x, y, "step", GRADIN_MOVE_STEP);
    x = draw_key_item(t, x, y, "critical path: a delay here delays the end", KEY_CRITICAL);
    x = draw_key_item(t, x, y, "near it", KEY_NEAR);
    x = draw_key_item(t, x, y, "float", KEY_FLOAT);
    if (t->c->n_stop > 0) draw_key_item(t, x, y, "nobody works", KEY_STOP);
}

static const char caution[] =
    "A plan of times and orders; it controls nothing. Nobody under or on moving machinery. Trained "
    "operators follow the maker's procedure. Loads, rigging and guards of open edges: the local "
    "code and a licensed professional decide.";

static void draw_foot(chart *t) {
    char text[TEXT_CHARS];
    double width = PAGE_WIDTH - 2.0 * CHART_MARGIN, y = t->bottom + 92.0;
    text_style style = {.size = 18.5, .ink = COLOUR_INK};
    y = canvas_text_wrapped(t->page, style, CHART_MARGIN, y, width, caution);
    snprintf(text, sizeof text, "gradin " GRADIN_VERSION " \xC2\xB7 input digests %.32s, %.32s",
             t->c->from->digest, t->c->to->digest);
    style = (text_style){.size = 16.0, .ink = COLOUR_QUIET};
    canvas_text_within(t->page, style, CHART_MARGIN, y + 4.0, width, 13.0, text);
}

static void draw(chart *t) {
    draw_title(t);
    draw_stops(t);
    draw_times(t);
    draw_lanes(t);
    for (int i = 0; i < t->c->n_move; i++) draw_float(t, i);
    for (int i = 0; i < t->c->n_move; i++) draw_bar(t, i);
    draw_key(t);
    draw_foot(t);
}

static gradin_status encode(gradin_arena *arena, gradin_arena *scratch, canvas *page,
                            const gradin_changeover *c, unsigned char **bytes, size_t *size,
                            gradin_error *error) {
    char title[TEXT_CHARS];
    snprintf(title, sizeof title, "Changeover from %.150s to %.150s", c->from->layout_name,
             c->to->layout_name);
    const encode_note note[] = {{"Title", title},
                                {"Warning", caution},
                                {"Software", "gradin " GRADIN_VERSION},
                                {"Source", c->from->digest},
                                {"Source", c->to->digest}};
    return encode_picture(arena, scratch, page, note, (int)(sizeof note / sizeof note[0]), bytes,
                          size, error);
}

static gradin_status render(gradin_arena *arena, gradin_arena *scratch, chart *t,
                            gradin_picture format, unsigned char **bytes, size_t *size,
                            gradin_error *error) {
    canvas page;
    place_rows(t);
    t->bottom = row_y(t->n_row > 0 ? t->n_row : 1);
    t->unit_per_s = (CHART_RIGHT - CHART_LEFT) / fmax(t->c->total_s, 60.0);
    t->page = &page;
    gradin_status status =
        canvas_open_as(&page, scratch, format, PAGE_WIDTH, t->bottom + 176.0, 1.0, error);
    if (status == GRADIN_OK) {
        draw(t);
        status = canvas_status(&page, error);
    }
    if (status == GRADIN_OK) status = encode(arena, scratch, &page, t->c, bytes, size, error);
    canvas_close(&page);
    return status;
}

gradin_status gradin_changeover_picture(gradin_arena *arena, const gradin_changeover *changeover,
                                        gradin_picture format, unsigned char **bytes, size_t *size,
                                        gradin_error *error) {
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK ||
        changeover_complete(changeover, error) != GRADIN_OK ||
        picture_check(format, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    chart t = {.c = changeover};
    gradin_status status = render(arena, scratch, &t, format, bytes, size, error);
    gradin_arena_destroy(scratch);
    return status;
}
