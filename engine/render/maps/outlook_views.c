/* What each point outside sees of the focus: small plans side by side, dark where it is seen. */
#include "base/lengths.h"
#include "render/maps/outlook_page.h"

#include <stdio.h>

enum { PER_ROW = 8, MOST_AREA = 3 };
#define HEAD 52.0
#define CELL_WIDTH ((PAGE_WIDTH - 2.0 * PAGE_MARGIN) / PER_ROW)
#define PICTURE_TOP 46.0
#define PICTURE_WIDTH (CELL_WIDTH - 26.0)
#define PICTURE_HEIGHT 128.0
#define LINE 19.5 /* of text below */

static const colour seen_ink = {0.16, 0.22, 0.36};

typedef struct picture {
    canvas *page;
    const gradin_outlook *o;
    gradin_box2 box; /* of the focus, m */
    double unit_per_m, left, top;
} picture;

static int areas_named(const gradin_outlook *o) {
    return o->n_area < MOST_AREA ? o->n_area : MOST_AREA;
}

static double cell_height(const gradin_outlook *o) {
    return PICTURE_TOP + PICTURE_HEIGHT + LINE * (4.6 + areas_named(o));
}

double outlook_views_height(const gradin_outlook *outlook) {
    return HEAD + cell_height(outlook) * ((outlook->n_point + PER_ROW - 1) / PER_ROW);
}

static void include(gradin_box2 *box, const gradin_vec2 *point_m, int n) {
    for (int i = 0; i < n; i++)
        *box = (gradin_box2){fmin(box->x_min_m, point_m[i].x), fmin(box->y_min_m, point_m[i].y),
                             fmax(box->x_max_m, point_m[i].x), fmax(box->y_max_m, point_m[i].y)};
}

static void include_focus(gradin_box2 *box, const gradin_focus *focus) {
    if (focus->kind == GRADIN_FOCUS_FLOOR)
        include(box, focus->polygon.corner_m, focus->polygon.n_corner);
    if (focus->kind == GRADIN_FOCUS_UPRIGHT) include(box, focus->line_m, focus->n_line);
    if (focus->kind == GRADIN_FOCUS_POINT) include(box, &focus->point_m, 1);
}

static picture picture_of(canvas *page, const gradin_outlook *o) {
    picture p = {page, o, {INFINITY, INFINITY, -INFINITY, -INFINITY}, 1.0, 0.0, 0.0};
    for (int a = 0; a < o->n_area; a++) include_focus(&p.box, &o->model->focus[a]);
    double width_m = fmax(p.box.x_max_m - p.box.x_min_m, 0.5);
    double depth_m = fmax(p.box.y_max_m - p.box.y_min_m, 0.5);
    p.unit_per_m = fmin(PICTURE_WIDTH / width_m, PICTURE_HEIGHT / depth_m);
    return p;
}

static gradin_vec2 at_page(const picture *p, double x_m, double y_m) {
    return (gradin_vec2){p->left + (x_m - p->box.x_min_m) * p->unit_per_m,
                         p->top + (p->box.y_max_m - y_m) * p->unit_per_m};
}

static void outline_path(const picture *p, const gradin_focus *focus) {
    const gradin_vec2 *point_m =
        focus->kind == GRADIN_FOCUS_FLOOR ? focus->polygon.corner_m : focus->line_m;
    int n = focus->kind == GRADIN_FOCUS_FLOOR ? focus->polygon.n_corner : focus->n_line;
    cairo_new_path(p->page->cr);
    for (int i = 0; focus->kind != GRADIN_FOCUS_POINT && i < n; i++) {
        gradin_vec2 at = at_page(p, point_m[i].x, point_m[i].y);
        cairo_line_to(p->page->cr, at.x, at.y);
    }
    if (focus->kind == GRADIN_FOCUS_FLOOR) cairo_close_path(p->page->cr);
}

/* Half the distance at which so many samples lie, a little more: they cover the area. */
static double dot_radius(const picture *p, const gradin_focus *focus, int n) {
    gradin_box2 box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
    include_focus(&box, focus);
    if (focus->kind != GRADIN_FOCUS_FLOOR) return 4.0;
    double m2 = (box.x_max_m - box.x_min_m) * (box.y_max_m - box.y_min_m);
    return 0.74 * sqrt(m2 / n) * p->unit_per_m;
}

static void draw_area(const picture *p, int point, int area) {
    const gradin_outlook *o = p->o;
    const gradin_focus *focus = &o->model->focus[area];
    int from = o->first_spot[area], to = o->first_spot[area + 1];
    const bool *is_seen = o->is_spot_seen + (size_t)point * (size_t)o->n_spot;
    double radius = dot_radius(p, focus, to - from);
    cairo_save(p->page->cr);
    outline_path(p, focus);
    if (focus->kind == GRADIN_FOCUS_FLOOR) cairo_clip(p->page->cr);
    for (int i = from; i < to; i++) {
        if (!is_seen[i]) continue;
        gradin_vec2 at = at_page(p, o->spot_m[i].x, o->spot_m[i].y);
        cairo_new_path(p->page->cr);
        cairo_arc(p->page->cr, at.x, at.y, radius, 0.0, 2.0 * GRADIN_PI);
        canvas_fill(p->page, seen_ink);
    }
    cairo_restore(p->page->cr);
    outline_path(p, focus);
    canvas_stroke(p->page, COLOUR_INK, 1.4);
}

static void put_line(const picture *p, double x, double *y, const char *text) {
    text_style style = {.size = 15.5, .ink = COLOUR_INK};
    canvas_text_within(p->page, style, x, *y, CELL_WIDTH - 12.0, 11.0, text);
    *y += LINE;
}

static void write_figures(const picture *p, int point, double x, double y) {
    const gradin_outlook *o = p->o;
    char away[LENGTH_CHARS], up[LENGTH_CHARS], share[24], text[160];
    length_unit unit = length_unit_of(o->model->units);
    unit.decimals = 1;
    snprintf(text, sizeof text, "%.40s from the wall", length_text(away, o->away_m[point], unit));
    put_line(p, x, &y, text);
    snprintf(text, sizeof text, "eye at %.40s",
             length_text(up, o->outside->point[point].eye_m.z, unit));
    put_line(p, x, &y, text);
    for (int a = 0; a < areas_named(o); a++) {
        int at = point * o->n_area + a;
        bool is_floor = o->model->focus[a].kind == GRADIN_FOCUS_FLOOR;
        gradin_format_fixed(share, sizeof share, 100.0 * (is_floor ? o->standing[at] : o->area[at]),
                            0);
        snprintf(text, sizeof text, "%.60s: %s %%", o->model->focus[a].name, share);
        put_line(p, x, &y, text);
    }
    const int *n_seen = &o->n_seen[point * GRADIN_N_SEEN];
    snprintf(text, sizeof text, "seats: %d seen, %d partly", n_seen[GRADIN_SEEN_HEAD],
             n_seen[GRADIN_SEEN_PARTLY]);
    put_line(p, x, &y, text);
}

static void draw_view(picture *p, int point, double x, double y) {
    text_style style = {.size = 17.0, .is_bold = true, .ink = COLOUR_INK};
    outlook_ring(p->page, (gradin_vec2){x + 17.0, y + 18.0}, point + 1);
    canvas_text_within(p->page, style, x + 42.0, y + 24.0, CELL_WIDTH - 54.0, 12.0,
                       p->o->outside->point[point].name);
    p->left = x;
    p->top = y + PICTURE_TOP;
    for (int a = 0; a < p->o->n_area; a++) draw_area(p, point, a);
    write_figures(p, point, x, y + PICTURE_TOP + PICTURE_HEIGHT + 22.0);
}

void outlook_views_draw(canvas *page, double top, const gradin_outlook *outlook) {
    picture p = picture_of(page, outlook);
    text_style heading = {.size = 21.0, .is_bold = true, .ink = COLOUR_INK};
    canvas_text_within(
        page, heading, PAGE_MARGIN, top + 22.0, PAGE_WIDTH - 2.0 * PAGE_MARGIN, 14.0,
        "What each point outside sees of the focus: dark where somebody who stands there "
        "is seen (an upright or a point: itself)");
    for (int i = 0; i < outlook->n_point; i++)
        draw_view(&p, i, PAGE_MARGIN + CELL_WIDTH * (i % PER_ROW),
                  top + HEAD + cell_height(outlook) * (i / PER_ROW));
}
