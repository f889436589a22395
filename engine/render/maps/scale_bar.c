/* Length bar in steps of 1, 2 or 5, and the north arrow. */
#include "render/maps/legend.h"

#include <stdio.h>

#define BAR_LEAST 200.0 /* page units */

/* The smallest 1-2-5 number whose length on the page is at least BAR_LEAST. */
static double bar_length(double unit_per_step) {
    for (double decade = 0.01; decade < 1e6; decade *= 10.0) {
        if (decade * unit_per_step >= BAR_LEAST) return decade;
        if (2.0 * decade * unit_per_step >= BAR_LEAST) return 2.0 * decade;
        if (5.0 * decade * unit_per_step >= BAR_LEAST) return 5.0 * decade;
    }
    return 1e6;
}

static void bar_number(canvas *page, double x, double y, double value, double length,
                       const char *unit) {
    char number[32], text[48];
    int decimals = length < 0.1 ? 3 : length < 1.0 ? 2 : length < 10.0 ? 1 : 0;
    if (fabs(value - round(value)) < 1e-9) decimals = 0;
    gradin_format_fixed(number, sizeof number, value, decimals);
    snprintf(text, sizeof text, "%s%s%s", number, unit ? " " : "", unit ? unit : "");
    text_style style = {.size = 18.0, .align = unit ? TEXT_LEFT : TEXT_CENTRE, .ink = COLOUR_INK};
    double shift = unit ? -0.5 * canvas_text_width(page, style, number) : 0.0;
    canvas_text(page, style, x + shift, y, text);
}

double legend_draw_length(canvas *page, double left, double top, double unit_per_m, bool feet) {
    double unit = unit_per_m * (feet ? GRADIN_FOOT_M : 1.0);
    double length = bar_length(unit), width = length * unit;
    for (int i = 0; i < 4; i++) {
        cairo_rectangle(page->cr, left + 0.25 * i * width, top, 0.25 * width, 9.0);
        canvas_fill_keep(page, i % 2 ? COLOUR_WHITE : COLOUR_INK);
        canvas_stroke(page, COLOUR_INK, 1.2);
    }
    bar_number(page, left, top + 30.0, 0.0, length, NULL);
    bar_number(page, left + 0.5 * width, top + 30.0, 0.5 * length, length, NULL);
    bar_number(page, left + width, top + 30.0, length, length, feet ? "ft" : "m");
    return width;
}

void legend_draw_north(canvas *page, double x, double top) {
    cairo_move_to(page->cr, x, top - 6.0);
    cairo_line_to(page->cr, x + 11.0, top + 34.0);
    cairo_line_to(page->cr, x, top + 26.0);
    cairo_line_to(page->cr, x - 11.0, top + 34.0);
    cairo_close_path(page->cr);
    canvas_stroke(page, COLOUR_INK, 1.5);
    cairo_move_to(page->cr, x, top - 6.0);
    cairo_line_to(page->cr, x, top + 26.0);
    cairo_line_to(page->cr, x - 11.0, top + 34.0);
    cairo_close_path(page->cr);
    canvas_fill(page, COLOUR_INK);
    text_style style = {.size = 22.0, .is_bold = true, .align = TEXT_RIGHT, .ink = COLOUR_INK};
    canvas_text(page, style, x - 18.0, top + 24.0, "N");
}

void legend_draw_scale_strip(canvas *page, const view *v, const gradin_model *model) {
    double top = v->plan_bottom + 6.0;
    legend_draw_length(page, PAGE_MARGIN + 6.0, top, v->unit_per_m, plan_is_imperial(model));
    legend_draw_north(page, PAGE_WIDTH - PAGE_MARGIN - 14.0, top);
}
