/* Treads, people, rays and C of a rake in section. */
#include "base/lengths.h"
#include "render/section/rake.h"

#include <stdio.h>

#define STAGE_FILL ((colour){0.80, 0.84, 0.88})
#define BODY_INK ((colour){0.62, 0.62, 0.66})
#define C_INK ((colour){0.00, 0.32, 0.62})
#define SHORT_INK ((colour){0.70, 0.24, 0.00})

double rake_tread_front_m(const gradin_rake *rake, int k) {
    const gradin_rake_row *row = rake->row;
    return row[k].d_m - 0.5 * (k > 0 ? row[k].t_m : row[1].t_m);
}

double rake_tread_back_m(const gradin_rake *rake, int k) {
    const gradin_rake_row *row = rake->row;
    return k + 1 < rake->n_row ? rake_tread_front_m(rake, k + 1) : row[k].d_m + 0.5 * row[k].t_m;
}

bool rake_is_short(const gradin_rake *rake, int k) {
    return rake->row[k].c_m < rake->wanted.c_m - 1e-9;
}

static double eye_m(const gradin_rake *rake, int k) {
    return rake->row[k].floor_m + rake->row[k].eye_height_m;
}

static void rectangle(const rake_view *v, double x0_m, double x1_m, double z_m, colour fill) {
    gradin_vec2 a = rake_point(v, x0_m, z_m), b = rake_point(v, x1_m, z_m);
    cairo_rectangle(v->page->cr, a.x, a.y, b.x - a.x, v->bottom - a.y);
    canvas_fill(v->page, fill);
}

static void draw_stage(const rake_view *v) {
    double z_m = v->rake->focus_z_m;
    text_style style = {.size = 18.0, .align = TEXT_RIGHT, .ink = COLOUR_INK};
    gradin_vec2 a = rake_point(v, v->x_stage_m, z_m), b = rake_point(v, 0.0, z_m);
    rectangle(v, v->x_stage_m, 0.0, z_m, STAGE_FILL);
    canvas_line(v->page, a, b, COLOUR_INK, 3.0);
    canvas_line(v->page, b, (gradin_vec2){b.x, v->bottom}, COLOUR_INK, 1.5);
    canvas_text(v->page, style, b.x - 12.0, b.y + 26.0, "focus area");
    cairo_new_path(v->page->cr);
    cairo_arc(v->page->cr, b.x, b.y, 6.0, 0.0, 2.0 * GRADIN_PI);
    canvas_fill(v->page, COLOUR_INK);
}

static void draw_treads(const rake_view *v) {
    const gradin_rake *rake = v->rake;
    for (int k = 0; k < rake->n_row; k++)
        rectangle(v, rake_tread_front_m(rake, k), rake_tread_back_m(rake, k) + 0.005,
                  rake->row[k].floor_m, RAKE_TREAD_FILL);
    gradin_vec2 at = rake_point(v, rake_tread_front_m(rake, 0), 0.0);
    cairo_move_to(v->page->cr, at.x, v->bottom);
    for (int k = 0; k < rake->n_row; k++) {
        gradin_vec2 a = rake_point(v, rake_tread_front_m(rake, k), rake->row[k].floor_m);
        gradin_vec2 b = rake_point(v, rake_tread_back_m(rake, k), rake->row[k].floor_m);
        cairo_line_to(v->page->cr, a.x, a.y);
        cairo_line_to(v->page->cr, b.x, b.y);
        at = b;
    }
    cairo_line_to(v->page->cr, at.x, v->bottom);
    canvas_stroke(v->page, COLOUR_INK, 2.0);
}

/* The floors as the layout has them, where they move. */
static void draw_before(const rake_view *v) {
    const gradin_rake *rake = v->rake;
    canvas_dashed(v->page, 7.0, 5.0);
    for (int k = 0; k < rake->n_row; k++) {
        double z_m = rake->row[k].floor_before_m;
        if (fabs(z_m - rake->row[k].floor_m) < 1e-6) continue;
        canvas_line(v->page, rake_point(v, rake_tread_front_m(rake, k), z_m),
                    rake_point(v, rake_tread_back_m(rake, k), z_m), COLOUR_QUIET, 1.5);
    }
    canvas_dashed(v->page, 0.0, 0.0);
}

static void limb(const rake_view *v, double x0, double z0, double x1, double z1, double thick_m) {
    cairo_set_line_cap(v->page->cr, CAIRO_LINE_CAP_ROUND);
    canvas_line(v->page, rake_point(v, x0, z0), rake_point(v, x1, z1), BODY_INK,
                fmax(1.0, thick_m * v->unit_per_m));
    cairo_set_line_cap(v->page->cr, CAIRO_LINE_CAP_BUTT);
}

/* A seated figure that looks to the left. Only the head and the eye are to scale. */
static void draw_person(const rake_view *v, int k) {
    const gradin_audience *a = &v->rake->model->audience;
    double x = v->rake->row[k].d_m, z = eye_m(v->rake, k), floor = v->rake->row[k].floor_m;
    double seat = floor + 0.36 * v->rake->row[k].eye_height_m;
    double half_up = 0.5 * a->head_height_m, half_along = 0.5 * a->head_length_m;
    limb(v, x + 0.11, z - 0.24, x + 0.14, seat + 0.08, 0.15);
    limb(v, x + 0.13, seat + 0.06, x - 0.24, seat + 0.06, 0.12);
    limb(v, x - 0.24, seat + 0.04, x - 0.24, floor + 0.05, 0.08);
    gradin_vec2 head = rake_point(v, x + 0.8 * half_along, z + a->crown_m - half_up);
    cairo_save(v->page->cr);
    cairo_translate(v->page->cr, head.x, head.y);
    cairo_scale(v->page->cr, half_along * v->unit_per_m, half_up * v->unit_per_m);
    cairo_arc(v->page->cr, 0.0, 0.0, 1.0, 0.0, 2.0 * GRADIN_PI);
    cairo_restore(v->page->cr);
    canvas_fill_keep(v->page, (colour){0.97, 0.97, 0.97});
    canvas_stroke(v->page, COLOUR_QUIET, 1.4);
    gradin_vec2 eye = rake_point(v, x, z);
    cairo_arc(v->page->cr, eye.x, eye.y, fmin(3.2, 0.03 * v->unit_per_m), 0.0, 2.0 * GRADIN_PI);
    canvas_fill(v->page, COLOUR_INK);
}

static void draw_ray(const rake_view *v, int k) {
    bool is_short = k > 0 && rake_is_short(v->rake, k);
    if (is_short) canvas_dashed(v->page, 10.0, 4.0);
    canvas_line(v->page, rake_point(v, v->rake->row[k].d_m, eye_m(v->rake, k)),
                rake_point(v, 0.0, v->rake->focus_z_m), is_short ? SHORT_INK : C_INK, 0.9);
    canvas_dashed(v->page, 0.0, 0.0);
}

/* C stands over the eye in front: a bar up to the ray (or down, when the ray passes below). */
static void draw_c(const rake_view *v, int k) {
    const gradin_rake *rake = v->rake;
    double x = rake->row[k - 1].d_m, z = eye_m(rake, k - 1), c = rake->row[k].c_m;
    colour ink = rake_is_short(rake, k) ? SHORT_INK : C_INK;
    gradin_vec2 from = rake_point(v, x, z), to = rake_point(v, x, z + c);
    canvas_line(v->page, from, to, ink, 3.5);
    canvas_line(v->page, (gradin_vec2){to.x - 6.0, to.y}, (gradin_vec2){to.x + 6.0, to.y}, ink,
                2.5);
    if (k % v->label_every != 0) return;
    char text[LENGTH_CHARS + 8], number[LENGTH_CHARS];
    length_number(number, c, small_unit_of(rake->model->units));
    snprintf(text, sizeof text, "%s%s%s", k == 1 ? "C " : "", number,
             rake_is_short(rake, k) ? "!" : "");
    text_style style = {.size = 18.0,
                        .is_bold = true,
                        .align = TEXT_CENTRE,
                        .ink = ink,
                        .halo = 5.0,
                        .halo_ink = COLOUR_WHITE};
    double top_m = z + fmax(c, rake->model->audience.crown_m);
    canvas_text(v->page, style, to.x, rake_point(v, x, top_m).y - 10.0, text);
}

void rake_draw_section(const rake_view *v) {
    draw_stage(v);
    draw_treads(v);
    draw_before(v);
    for (int k = 0; k < v->rake->n_row; k++) draw_person(v, k);
    for (int k = 0; k < v->rake->n_row; k++) draw_ray(v, k);
    for (int k = 1; k < v->rake->n_row; k++) draw_c(v, k);
}
