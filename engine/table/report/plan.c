/* A layout's plan as SVG, in centimetres: what stands there, the focus, and each seat as a square
 * that a script can pick and colour. Seats carry the mark of their class, so that classes are told
 * apart in grey. Source: SVG 2 (path data, transforms), from memory. */
#include "table/report/html.h"

#include <math.h>

typedef struct frame {
    table_text *out;
    double x_m, y_m; /* the corner at the top left */
} frame;

static long right_cm(const frame *f, double x_m) {
    return lround(100.0 * (x_m - f->x_m));
}
static long down_cm(const frame *f, double y_m) {
    return lround(100.0 * (f->y_m - y_m));
}

static void put_point(const frame *f, char command, gradin_vec2 at_m) {
    table_print(f->out, "%c%ld %ld", command, right_cm(f, at_m.x), down_cm(f, at_m.y));
}

static void put_path(const frame *f, const char *style, const gradin_vec2 *corner_m, int n,
                     const char *name) {
    if (n < 2) return;
    table_print(f->out, "<path class=\"%s\" d=\"", style);
    for (int i = 0; i < n; i++) put_point(f, i == 0 ? 'M' : 'L', corner_m[i]);
    table_put(f->out, n > 2 ? "z\">" : "\">");
    if (name) {
        table_put(f->out, "<title>");
        html_put(f->out, name);
        table_put(f->out, "</title>");
    }
    table_put(f->out, "</path>\n");
}

static void put_polygon(const frame *f, const char *style, const gradin_polygon *p,
                        const char *name) {
    put_path(f, style, p->corner_m, p->n_corner, name);
}

static void put_structure(const frame *f, const gradin_model *m) {
    for (int i = 0; i < m->n_floor; i++)
        put_polygon(f, "section", &m->floor[i].polygon, m->floor[i].name);
    for (int i = 0; i < m->n_section; i++) put_path(f, "section", m->section[i].corner_m, 4, NULL);
    for (int i = 0; i < m->n_aisle; i++)
        put_polygon(f, "aisle", &m->aisle[i].polygon, m->aisle[i].name);
    for (int i = 0; i < m->n_solid; i++) {
        const gradin_solid *s = &m->solid[i];
        bool is_overhead = s->kind == GRADIN_SOLID_SLAB || s->is_of_tower;
        put_polygon(f, is_overhead ? "slab" : "solid", &s->polygon, s->name);
    }
}

static void put_rail(const frame *f, const gradin_rail *rail) {
    table_put(f->out, "<path class=\"rail\" d=\"");
    for (int i = 0; i < rail->n_point; i++)
        put_point(f, i == 0 ? 'M' : 'L', (gradin_vec2){rail->point_m[i].x, rail->point_m[i].y});
    table_put(f->out, "\"><title>");
    html_put(f->out, rail->name);
    table_put(f->out, "</title></path>\n");
}

static void put_floor_name(const frame *f, const gradin_focus *focus) {
    gradin_vec2 middle = {0.0, 0.0};
    const gradin_polygon *floor = &focus->polygon;
    for (int i = 0; i < floor->n_corner; i++) {
        middle.x += floor->corner_m[i].x / floor->n_corner;
        middle.y += floor->corner_m[i].y / floor->n_corner;
    }
    table_print(f->out, "<text class=\"name\" x=\"%ld\" y=\"%ld\">", right_cm(f, middle.x),
                down_cm(f, middle.y));
    html_put(f->out, focus->name);
    table_put(f->out, "</text>\n");
}

/* Floors bear their name; a line or a point tells it to whoever rests on it. */
static void put_focus(const frame *f, const gradin_focus *focus) {
    if (focus->kind == GRADIN_FOCUS_FLOOR) {
        put_polygon(f, "focus", &focus->polygon, focus->name);
        put_floor_name(f, focus);
    } else if (focus->kind == GRADIN_FOCUS_UPRIGHT) {
        put_path(f, "focus", focus->line_m, focus->n_line, focus->name);
    } else {
        table_print(f->out, "<circle class=\"point\" r=\"18\" cx=\"%ld\" cy=\"%ld\"><title>",
                    right_cm(f, focus->point_m.x), down_cm(f, focus->point_m.y));
        html_put(f->out, focus->name);
        table_put(f->out, "</title></circle>\n");
    }
}

/* Its label is what a reader without the picture hears. */
static void put_seat(const frame *f, const gradin_assessment *a, int i) {
    static const char *const mark[GRADIN_N_RATING] = {"", "M-12 0H12", "M-12 12L12 -12",
                                                      "M-12 -12L12 12M-12 12L12 -12"};
    const gradin_seats *s = &a->model->seats;
    long half_w = lround(46.0 * s->width_m[i]), half_d = lround(46.0 * fmin(s->depth_m[i], 0.6));
    table_print(f->out, "<g class=\"seat k%d\" role=\"button\" tabindex=\"-1\" aria-label=\"",
                (int)a->sight.rating[i]);
    html_put(f->out, s->id[i]);
    table_print(f->out, ", %s, ", gradin_rating_name(a->sight.rating[i]));
    table_put_number(f->out, TABLE_PERCENT, 100.0 * a->sight.visible[i]);
    table_print(f->out, " %% seen\" transform=\"translate(%ld %ld)rotate(%ld)\">",
                right_cm(f, s->floor_m[i].x), down_cm(f, s->floor_m[i].y),
                lround(s->facing_deg[i]));
    table_print(f->out, "<rect x=\"%ld\" y=\"%ld\" width=\"%ld\" height=\"%ld\"/>", -half_w,
                -half_d, 2 * half_w, 2 * half_d);
    table_print(f->out, "<path d=\"%s\"/>", mark[a->sight.rating[i]]);
    table_put(f->out, "</g>\n");
}

static frame open_frame(table_text *out, const gradin_model *m) {
    enum { MARGIN_CM = 60 };
    double x_min = INFINITY, x_max = -INFINITY, y_min = INFINITY, y_max = -INFINITY;
    for (int i = 0; i < m->footprint.n_corner; i++) {
        gradin_vec2 p = m->footprint.corner_m[i];
        x_min = fmin(x_min, p.x), x_max = fmax(x_max, p.x);
        y_min = fmin(y_min, p.y), y_max = fmax(y_max, p.y);
    }
    table_print(out,
                "<svg viewBox=\"-%d -%d %ld %ld\" role=\"group\" aria-label=\"Plan of the seats; "
                "arrow keys go from seat to seat\">\n",
                MARGIN_CM, MARGIN_CM, lround(100.0 * (x_max - x_min)) + 2 * MARGIN_CM,
                lround(100.0 * (y_max - y_min)) + 2 * MARGIN_CM);
    return (frame){out, x_min, y_max};
}

static void put_layout_name(table_text *out, const gradin_report *report, int index) {
    table_put(out, "<figcaption>");
    html_put(out, report->assessment[index]->model->layout_name);
    table_put(out, ": <span class=\"shown\">rating</span></figcaption>\n");
}

void html_put_plan(table_text *out, const gradin_report *report, int index) {
    const gradin_assessment *a = report->assessment[index];
    const gradin_model *m = a->model;
    table_print(out, "<figure class=\"plan\" id=\"plan-%d\">\n", index);
    put_layout_name(out, report, index);
    frame f = open_frame(out, m);
    put_polygon(&f, "hall", &m->footprint, NULL);
    for (int i = 0; i < m->n_focus; i++) put_focus(&f, &m->focus[i]);
    put_structure(&f, m);
    for (int i = 0; i < m->n_rail; i++) put_rail(&f, &m->rail[i]);
    for (int i = 0; i < a->sight.n_seat; i++) put_seat(&f, a, i);
    table_put(out, "</svg>\n<ul class=\"legend\">");
    for (int k = 0; k < GRADIN_N_RATING; k++)
        table_print(out, "<li>%s: %d</li>", gradin_rating_name((gradin_rating)k),
                    a->sight.n_rating[k]);
    table_put(out, "</ul>\n</figure>\n");
}
