/* Both axes in the layout's own unit: along the line, and height above the plan origin. */
#include "base/lengths.h"
#include "base/shared/plain.h"
#include "render/section/cut_page.h"

#include <stdio.h>

#define LEAST_STEP 62.0 /* page units between two numbers */

static double step_m(const cut_page *p, double unit_m) {
    static const double step[] = {0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0};
    for (size_t i = 0; i < sizeof step / sizeof *step; i++)
        if (step[i] * unit_m * p->unit_per_m >= LEAST_STEP) return step[i] * unit_m;
    return 200.0 * unit_m;
}

static const text_style number = {.size = 17.0, .align = TEXT_CENTRE, .ink = {0.38, 0.38, 0.41}};

static void put(const cut_page *p, text_style style, double x, double y, double at_m,
                double unit_m) {
    char text[32];
    double value = at_m / unit_m;
    plain_print(text, sizeof text, fabs(value - floor(value + 0.5)) < 1e-6 ? "%.0f" : "%.1f",
                value);
    canvas_text(p->page, style, x, y, text);
}

static void draw_along(const cut_page *p, double unit_m, double step) {
    double y = p->bottom + 22.0;
    canvas_line(p->page, (gradin_vec2){p->left, y},
                (gradin_vec2){cut_point(p, p->cut->length_m, 0.0).x, y}, COLOUR_QUIET, 1.2);
    for (int i = 0; i * step <= p->cut->length_m + 1e-9; i++) {
        double x = cut_point(p, i * step, 0.0).x;
        canvas_line(p->page, (gradin_vec2){x, y - 5.0}, (gradin_vec2){x, y + 5.0}, COLOUR_QUIET,
                    1.2);
        put(p, number, x, y + 26.0, i * step, unit_m);
    }
}

static void draw_up(const cut_page *p, double unit_m, double step) {
    double x = p->left - 26.0;
    text_style style = number;
    style.align = TEXT_RIGHT;
    canvas_line(p->page, (gradin_vec2){x, p->bottom},
                (gradin_vec2){x, cut_point(p, 0.0, p->z_high_m).y}, COLOUR_QUIET, 1.2);
    for (int i = (int)ceil(p->z_low_m / step); i * step <= p->z_high_m + 1e-9; i++) {
        double y = cut_point(p, 0.0, i * step).y;
        canvas_line(p->page, (gradin_vec2){x - 5.0, y}, (gradin_vec2){x + 5.0, y}, COLOUR_QUIET,
                    1.2);
        put(p, style, x - 10.0, y + 6.0, i * step, unit_m);
    }
}

void cut_draw_axes(const cut_page *p) {
    double unit_m = unit_length_m(p->cut->model->units), step = step_m(p, unit_m);
    draw_along(p, unit_m, step);
    draw_up(p, unit_m, step);
}
