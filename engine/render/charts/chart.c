/* Axes, curves and markers of a chart over third octaves. */
#include "render/charts/chart.h"

#include <stdio.h>

#define MARKER_SIZE 8.5
#define NUMBER_SIZE 20.0

double chart_x(const chart *c, int band) {
    double step = (c->box.x_max_m - c->box.x_min_m) / GRADIN_N_BAND;
    return c->box.x_min_m + (band + 0.5) * step;
}

double chart_y(const chart *c, double db) {
    double share = (db - c->low_db) / (c->high_db - c->low_db);
    return c->box.y_max_m + share * (c->box.y_min_m - c->box.y_max_m);
}

static void draw_levels(const chart *c, double step_db) {
    text_style number = {.size = NUMBER_SIZE, .align = TEXT_RIGHT, .ink = COLOUR_INK};
    char text[32];
    for (double db = c->low_db; db <= c->high_db + 1e-9; db += step_db) {
        double y = chart_y(c, db);
        bool is_ten = fabs(db - 10.0 * round(db / 10.0)) < 1e-9;
        canvas_line(c->page, (gradin_vec2){c->box.x_min_m, y}, (gradin_vec2){c->box.x_max_m, y},
                    COLOUR_FAINT, is_ten ? 1.6 : 0.6);
        gradin_format_fixed(text, sizeof text, db, 0);
        canvas_text(c->page, number, c->box.x_min_m - 12.0, y + 0.35 * NUMBER_SIZE, text);
    }
}

static void draw_bands(const chart *c, bool has_bands) {
    text_style number = {.size = NUMBER_SIZE, .align = TEXT_CENTRE, .ink = COLOUR_INK};
    char text[16];
    for (int band = 0; band < GRADIN_N_BAND; band++) {
        double x = chart_x(c, band);
        bool is_octave = band % 3 == 1;
        canvas_line(c->page, (gradin_vec2){x, c->box.y_min_m}, (gradin_vec2){x, c->box.y_max_m},
                    COLOUR_FAINT, is_octave ? 1.6 : 0.6);
        if (!has_bands) continue;
        snprintf(text, sizeof text, "%d", gradin_band_nominal_hz(band));
        number.is_bold = is_octave;
        canvas_text(c->page, number, x, c->box.y_max_m + 28.0, text);
    }
}

void chart_axes(const chart *c, double step_db, const char *label, bool has_bands) {
    double width = c->box.x_max_m - c->box.x_min_m, height = c->box.y_max_m - c->box.y_min_m;
    text_style name = {.size = 22.0, .align = TEXT_CENTRE, .ink = COLOUR_INK};
    draw_levels(c, step_db);
    draw_bands(c, has_bands);
    cairo_rectangle(c->page->cr, c->box.x_min_m, c->box.y_min_m, width, height);
    canvas_stroke(c->page, COLOUR_INK, 1.8);
    if (has_bands)
        canvas_text(c->page, name, c->box.x_min_m + 0.5 * width, c->box.y_max_m + 62.0,
                    "one-third octave band, Hz");
    name.turn_rad = -0.5 * GRADIN_PI;
    canvas_text(c->page, name, c->box.x_min_m - 66.0, c->box.y_min_m + 0.5 * height, label);
}

/* A regular polygon of n corners; the first lies at the given angle from straight up. */
static void trace_polygon(cairo_t *cr, double x, double y, double radius, int corners,
                          double turn) {
    for (int i = 0; i < corners; i++) {
        double angle = turn + 2.0 * GRADIN_PI * i / corners;
        cairo_line_to(cr, x + radius * sin(angle), y - radius * cos(angle));
    }
    cairo_close_path(cr);
}

static void trace_marker(cairo_t *cr, int shape, double x, double y) {
    static const struct {
        int corners;
        double radius, turn;
    } polygon[CHART_N_SHAPE] = {{0, 1.0, 0.0},        {4, 1.3, GRADIN_PI / 4.0},
                                {3, 1.45, 0.0},       {4, 1.4, 0.0},
                                {3, 1.45, GRADIN_PI}, {6, 1.25, GRADIN_PI / 6.0}};
    cairo_new_path(cr);
    double radius = MARKER_SIZE * polygon[shape].radius;
    if (polygon[shape].corners == 0)
        cairo_arc(cr, x, y, radius, 0.0, 2.0 * GRADIN_PI);
    else
        trace_polygon(cr, x, y, radius, polygon[shape].corners, polygon[shape].turn);
}

static void draw_marker(canvas *page, chart_style style, double x, double y) {
    trace_marker(page->cr, style.shape, x, y);
    canvas_fill_keep(page, style.is_filled ? style.ink : COLOUR_WHITE);
    canvas_stroke(page, style.ink, 2.4);
}

static void set_dash(canvas *page, int dash) {
    static const double pattern[CHART_N_DASH][4] = {
        {0}, {16.0, 8.0, 16.0, 8.0}, {18.0, 7.0, 3.0, 7.0}, {3.0, 6.0, 3.0, 6.0}};
    cairo_set_dash(page->cr, pattern[dash], dash ? 4 : 0, 0.0);
}

void chart_curve(const chart *c, chart_style style, const double *db) {
    cairo_new_path(c->page->cr);
    for (int band = 0; band < GRADIN_N_BAND; band++)
        if (isfinite(db[band])) cairo_line_to(c->page->cr, chart_x(c, band), chart_y(c, db[band]));
    set_dash(c->page, style.dash);
    canvas_stroke(c->page, style.ink, style.width);
    set_dash(c->page, 0);
    for (int band = 0; band < GRADIN_N_BAND; band++)
        if (isfinite(db[band])) draw_marker(c->page, style, chart_x(c, band), chart_y(c, db[band]));
}

void chart_sample(canvas *page, chart_style style, double x, double y, double width) {
    set_dash(page, style.dash);
    canvas_line(page, (gradin_vec2){x, y}, (gradin_vec2){x + width, y}, style.ink, style.width);
    set_dash(page, 0);
    draw_marker(page, style, x + 0.5 * width, y);
}
