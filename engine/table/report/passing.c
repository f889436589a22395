/* The layout's overflight at three seats, level against time, as inline SVG with its figures in
 * words beside it. */
#include "table/report/html.h"

#include <math.h>

#define WIDE 640.0
#define HIGH 300.0
#define LEFT 46.0
#define BOTTOM 34.0
#define TOP 10.0
#define RIGHT 10.0

static const char *const which[GRADIN_N_PASSING_SEAT] = {"loudest", "median", "quietest"};

typedef struct axes {
    double from_s, to_s, low_db, high_db;
} axes;

static double x_of(const axes *a, double time_s) {
    return LEFT + (time_s - a->from_s) / (a->to_s - a->from_s) * (WIDE - LEFT - RIGHT);
}

static double y_of(const axes *a, double level_db) {
    return HIGH - BOTTOM -
           (level_db - a->low_db) / (a->high_db - a->low_db) * (HIGH - BOTTOM - TOP);
}

static void put_decimal(table_text *out, double value, int decimals) {
    char number[32];
    table_put(out, gradin_format_fixed(number, sizeof number, value, decimals));
}

static void put_at(table_text *out, const char *name, double value) {
    table_print(out, " %s=\"", name);
    put_decimal(out, value, 1);
    table_put(out, "\"");
}

static int peak_of(const gradin_event_levels *l, int seat) {
    const double *level_db = l->seat_db + (size_t)seat * (size_t)l->n_time;
    int best = 0;
    for (int t = 1; t < l->n_time; t++)
        if (level_db[t] > level_db[best]) best = t;
    return best;
}

static double peak_db(const gradin_event_levels *l, int seat) {
    return l->seat_db[(size_t)seat * (size_t)l->n_time + (size_t)peak_of(l, seat)];
}

static bool is_any_above(const gradin_event_levels *l, int time, double level_db) {
    for (int k = 0; k < GRADIN_N_PASSING_SEAT; k++)
        if (l->seat_db[(size_t)k * (size_t)l->n_time + (size_t)time] > level_db) return true;
    return false;
}

/* Whole tens over the top and the limit, four of them, and the time in which a curve is there. */
static axes axes_of(const gradin_event_levels *l, double limit_db) {
    double most = peak_db(l, 0);
    if (isfinite(limit_db)) most = fmax(most, limit_db);
    axes a = {.high_db = 10.0 * ceil(most / 10.0 + 0.1)};
    int first = 0, last = l->n_time - 1;
    a.low_db = fmin(a.high_db - 40.0, 10.0 * floor(peak_db(l, GRADIN_N_PASSING_SEAT - 1) / 10.0));
    while (first < last - 1 && !is_any_above(l, first + 1, a.low_db)) first++;
    while (last > first + 1 && !is_any_above(l, last - 1, a.low_db)) last--;
    a.from_s = l->time_s[first];
    a.to_s = l->time_s[last];
    return a;
}

static void put_line(table_text *out, const char *kind, double x1, double y1, double x2,
                     double y2) {
    table_print(out, "<line class=\"%s\"", kind);
    put_at(out, "x1", x1);
    put_at(out, "y1", y1);
    put_at(out, "x2", x2);
    put_at(out, "y2", y2);
    table_put(out, "/>");
}

static void put_mark(table_text *out, const char *anchor, double x, double y, double value) {
    table_print(out, "<text text-anchor=\"%s\"", anchor);
    put_at(out, "x", x);
    put_at(out, "y", y);
    table_put(out, ">");
    put_decimal(out, value, 0);
    table_put(out, "</text>");
}

static double step_of(double length_s) {
    double step = 5.0;
    while (length_s / step > 9.0) step *= 2.0;
    return step;
}

static void put_axes(table_text *out, const axes *a) {
    for (double db = a->low_db; db <= a->high_db; db += 10.0) {
        put_line(out, "grid", LEFT, y_of(a, db), WIDE - RIGHT, y_of(a, db));
        put_mark(out, "end", LEFT - 6.0, y_of(a, db) + 4.0, db);
    }
    double step = step_of(a->to_s - a->from_s);
    for (double s = step * ceil(a->from_s / step); s <= a->to_s; s += step) {
        put_line(out, "grid", x_of(a, s), TOP, x_of(a, s), HIGH - BOTTOM);
        put_mark(out, "middle", x_of(a, s), HIGH - BOTTOM + 16.0, s);
    }
    table_print(out, "<text x=\"%d\" y=\"%d\" text-anchor=\"end\">s</text>", (int)(WIDE - RIGHT),
                (int)HIGH - 4);
    table_print(out, "<text x=\"4\" y=\"%d\">dB(A)</text>", (int)HIGH - 4);
}

/* Nothing is drawn beyond the axes; `id` of the layout. */
static void put_clip(table_text *out, int id) {
    table_print(out,
                "<clipPath id=\"time-%d\"><rect x=\"%d\" y=\"%d\" width=\"%d\" "
                "height=\"%d\"/></clipPath><g clip-path=\"url(#time-%d)\">",
                id, (int)LEFT, (int)TOP, (int)(WIDE - LEFT - RIGHT), (int)(HIGH - TOP - BOTTOM),
                id);
}

static void put_curve(table_text *out, const axes *a, const gradin_event_levels *l, int seat) {
    const double *level_db = l->seat_db + (size_t)seat * (size_t)l->n_time;
    table_print(out, "<polyline class=\"curve s%d\" points=\"", seat);
    for (int t = 0; t < l->n_time; t++) {
        if (t > 0) table_put(out, " ");
        put_decimal(out, x_of(a, l->time_s[t]), 1);
        table_put(out, ",");
        put_decimal(out, y_of(a, level_db[t]), 1);
    }
    table_put(out, "\"/>");
}

static void put_words(table_text *out, const gradin_assessment *a, const gradin_passing *p) {
    double limit_db = a->model->criterion.lamax_dba;
    table_put(out, "<ul class=\"legend\">");
    for (int k = 0; k < GRADIN_N_PASSING_SEAT; k++) {
        table_print(out,
                    "<li><svg viewBox=\"0 0 18 18\" aria-hidden=\"true\"><line class=\"curve "
                    "s%d\" x1=\"0\" y1=\"9\" x2=\"18\" y2=\"9\"/></svg>%s, ",
                    k, which[k]);
        html_put(out, a->model->seats.id[p->seat[k]]);
        table_put(out, ": ");
        put_decimal(out, peak_db(&p->levels, k), 1);
        table_put(out, " dB(A) at ");
        put_decimal(out, p->levels.time_s[peak_of(&p->levels, k)], 1);
        table_put(out, "\xc2\xa0s</li>");
    }
    if (isfinite(limit_db)) {
        table_put(out, "<li><svg viewBox=\"0 0 18 18\" aria-hidden=\"true\"><line class=\"limit\" "
                       "x1=\"0\" y1=\"9\" x2=\"18\" y2=\"9\"/></svg>limit: ");
        put_decimal(out, limit_db, 1);
        table_put(out, " dB(A)</li>");
    }
    table_put(out, "</ul>");
}

static void put_passing(table_text *out, const gradin_assessment *a, const gradin_passing *p,
                        int id) {
    double limit_db = a->model->criterion.lamax_dba;
    axes on = axes_of(&p->levels, limit_db);
    table_put(out, "<figure class=\"passing\"><figcaption>");
    html_put(out, a->model->layout_name);
    table_print(out,
                "</figcaption>\n<svg class=\"times\" viewBox=\"0 0 %d %d\" role=\"img\" "
                "aria-label=\"Level against time at three seats; their maxima stand below\">",
                (int)WIDE, (int)HIGH);
    put_axes(out, &on);
    if (isfinite(limit_db))
        put_line(out, "limit", LEFT, y_of(&on, limit_db), WIDE - RIGHT, y_of(&on, limit_db));
    put_clip(out, id);
    for (int k = GRADIN_N_PASSING_SEAT - 1; k >= 0; k--) put_curve(out, &on, &p->levels, k);
    table_put(out, "</g></svg>\n");
    put_words(out, a, p);
    table_put(out, "</figure>\n");
}

/* A source that stays has one moment and no curve. */
static bool has_curve(const gradin_report *report, int index) {
    return report->passing && report->passing[index].levels.n_time > 1;
}

bool html_has_passing(const gradin_report *report) {
    for (int i = 0; i < report->n; i++)
        if (has_curve(report, i)) return true;
    return false;
}

void html_put_passing(table_text *out, const gradin_report *report) {
    table_put(out, "<div class=\"plans\">\n");
    for (int i = 0; i < report->n; i++)
        if (has_curve(report, i)) put_passing(out, report->assessment[i], &report->passing[i], i);
    table_put(out, "</div>\n");
}
