/* Dimensions of a rake in section: D and R of the first row, N under each tread's front edge, T in
 * a chain below. */
#include "base/lengths.h"
#include "render/section/rake.h"

#include <stdio.h>

#define CHAIN_DROP 34.0 /* below the section */

static const text_style label = {.size = 17.0,
                                 .align = TEXT_CENTRE,
                                 .ink = {0.12, 0.12, 0.14},
                                 .halo = 5.0,
                                 .halo_ink = {1.0, 1.0, 1.0}};

static length_unit small(const rake_view *v) {
    return small_unit_of(v->rake->model->units);
}

static length_unit large(const rake_view *v) {
    return stated_unit_of(v->rake->model->units);
}

/* A small length as its number alone, any other with its unit. */
static void put_number(char *text, size_t size, const char *before, double length_m,
                       length_unit unit, bool is_named) {
    char number[LENGTH_CHARS];
    if (is_named)
        length_text(number, length_m, unit);
    else
        length_number(number, length_m, unit);
    snprintf(text, size, "%s%s", before, number);
}

static void tick(const rake_view *v, double x, double y) {
    canvas_line(v->page, (gradin_vec2){x - 6.0, y + 6.0}, (gradin_vec2){x + 6.0, y - 6.0},
                COLOUR_INK, 1.8);
    canvas_line(v->page, (gradin_vec2){x, y - 12.0}, (gradin_vec2){x, y + 12.0}, COLOUR_QUIET, 1.0);
}

/* D of the first row and every T, on one line below the section. */
static void draw_chain(const rake_view *v) {
    const gradin_rake *rake = v->rake;
    double y = v->bottom + CHAIN_DROP, from = rake_point(v, 0.0, 0.0).x;
    char text[LENGTH_CHARS + 8];
    tick(v, from, y);
    for (int k = 0; k < rake->n_row; k++) {
        double to = rake_point(v, rake->row[k].d_m, 0.0).x;
        canvas_line(v->page, (gradin_vec2){from, y}, (gradin_vec2){to, y}, COLOUR_INK, 1.2);
        tick(v, to, y);
        if (k == 0)
            put_number(text, sizeof text, "D ", rake->row[0].d_m, large(v), true);
        else
            put_number(text, sizeof text, k == 1 && v->label_every == 1 ? "T " : "",
                       rake->row[k].t_m, small(v), false);
        if (k == 0 || k % v->label_every == 0)
            canvas_text(v->page, label, 0.5 * (from + to), y - 10.0, text);
        from = to;
    }
}

void rake_row_name(const gradin_rake_row *row, char *text, size_t size) {
    if (row->row_label)
        snprintf(text, size, "%.12s", row->row_label);
    else
        snprintf(text, size, "%d", row->row);
}

static void draw_rises(const rake_view *v) {
    const gradin_rake *rake = v->rake;
    char text[LENGTH_CHARS + 8];
    for (int k = 0; k < rake->n_row; k++) {
        gradin_vec2 at = rake_point(v, rake->row[k].d_m, rake->row[k].floor_m);
        text_style style = label;
        style.halo_ink = RAKE_TREAD_FILL;
        if (k % v->label_every != 0) continue;
        rake_row_name(&rake->row[k], text, sizeof text);
        style.is_bold = true;
        canvas_text(v->page, style, at.x, at.y + 22.0, text);
        if (k == 0) continue;
        put_number(text, sizeof text, k == 1 ? "N " : "", rake->row[k].riser_m, small(v), false);
        style.is_bold = false;
        canvas_text(v->page, style, at.x, at.y + 43.0, text);
    }
}

/* R of the first row, at a third of the way to the focus. */
static void draw_first_r(const rake_view *v) {
    const gradin_rake *rake = v->rake;
    double eye_m = rake->row[0].floor_m + rake->row[0].eye_height_m;
    double r_m = eye_m - rake->focus_z_m, x_m = 0.5 * rake->row[0].d_m;
    gradin_vec2 low = rake_point(v, x_m, rake->focus_z_m), high = rake_point(v, x_m, eye_m);
    char text[LENGTH_CHARS + 8];
    canvas_dashed(v->page, 3.0, 4.0);
    canvas_line(v->page, high, rake_point(v, rake->row[0].d_m - 0.05, eye_m), COLOUR_QUIET, 1.0);
    canvas_line(v->page, rake_point(v, 0.0, rake->focus_z_m), low, COLOUR_QUIET, 1.0);
    canvas_dashed(v->page, 0.0, 0.0);
    canvas_line(v->page, low, high, COLOUR_INK, 1.4);
    put_number(text, sizeof text, "R ", r_m, large(v), true);
    canvas_text(v->page, label, low.x, fmin(low.y, high.y) - 12.0, text);
}

void rake_draw_dimensions(const rake_view *v) {
    draw_rises(v);
    draw_chain(v);
    draw_first_r(v);
}
