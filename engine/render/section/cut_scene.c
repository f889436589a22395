/* What a cut meets, people of the rows beside it, and the rays. */
#include "render/section/cut_page.h"

#define SOLID_FILL ((colour){0.84, 0.84, 0.86})
#define ARCH_FILL ((colour){0.62, 0.63, 0.70})
#define RAIL_FILL ((colour){0.50, 0.13, 0.12})
#define FOCUS_INK ((colour){0.80, 0.52, 0.00})
#define BODY_INK ((colour){0.62, 0.62, 0.66})
#define RAY_INK ((colour){0.00, 0.32, 0.62})

static void draw_room(const cut_page *p) {
    const gradin_cut *c = p->cut;
    double end_m = c->length_m;
    gradin_vec2 a = cut_point(p, 0.0, c->model->ceiling_m);
    gradin_vec2 b = cut_point(p, end_m, fmin(c->floor_low_m, 0.0));
    cairo_rectangle(p->page->cr, a.x, a.y, b.x - a.x, b.y - a.y);
    canvas_fill(p->page, (colour){0.985, 0.985, 0.98});
    canvas_line(p->page, cut_point(p, 0.0, 0.0), cut_point(p, end_m, 0.0), COLOUR_INK, 2.0);
    canvas_line(p->page, a, cut_point(p, end_m, c->model->ceiling_m), COLOUR_INK, 2.0);
    for (int i = 0; i < 2; i++) {
        double x_m = i ? end_m : 0.0;
        if (!c->is_wall[i]) canvas_dashed(p->page, 3.0, 7.0);
        canvas_line(p->page, cut_point(p, x_m, c->model->ceiling_m), cut_point(p, x_m, p->z_low_m),
                    COLOUR_INK, c->is_wall[i] ? 3.0 : 1.2);
        canvas_dashed(p->page, 0.0, 0.0);
    }
}

static void draw_part(const cut_page *p, const gradin_cut_part *part) {
    static const colour fill[GRADIN_N_CUT_KIND] = {[GRADIN_CUT_TREAD] = {0.84, 0.84, 0.86},
                                                   [GRADIN_CUT_RAIL] = {0.50, 0.13, 0.12},
                                                   [GRADIN_CUT_ARCH] = {0.62, 0.63, 0.70}};
    double low_m = fmax(part->z_m[0], p->z_low_m);
    gradin_vec2 a = cut_point(p, part->x_m[0], part->z_m[1]);
    gradin_vec2 b = cut_point(p, part->x_m[1], low_m);
    cairo_rectangle(p->page->cr, a.x, a.y, b.x - a.x, b.y - a.y);
    canvas_fill_keep(p->page, fill[part->kind]);
    double line = part->kind == GRADIN_CUT_RAIL ? 0.8 : 1.3;
    canvas_stroke(p->page, COLOUR_INK, fmin(line, 0.1 * p->unit_per_m));
}

static void draw_rails(const cut_page *p) {
    for (int i = 0; i < p->cut->n_ring; i++) {
        gradin_vec2 at = cut_point(p, p->cut->ring[i].at_m.x, p->cut->ring[i].at_m.y);
        cairo_new_path(p->page->cr);
        cairo_arc(p->page->cr, at.x, at.y, fmax(2.2, p->cut->ring[i].radius_m * p->unit_per_m), 0.0,
                  2.0 * GRADIN_PI);
        canvas_fill(p->page, RAIL_FILL);
    }
    for (int i = 0; i < p->cut->n_trace; i++) {
        const gradin_vec2 *end = p->cut->trace[i].end_m;
        canvas_line(p->page, cut_point(p, end[0].x, end[0].y), cut_point(p, end[1].x, end[1].y),
                    COLOUR_INK, 1.3);
    }
}

static void draw_focus(const cut_page *p) {
    cairo_set_line_cap(p->page->cr, CAIRO_LINE_CAP_ROUND);
    for (int i = 0; i < p->cut->n_focus; i++) {
        const gradin_vec2 *end = p->cut->focus[i].end_m;
        double from_m = fmax(end[0].x, 0.0), to_m = fmin(end[1].x, p->cut->length_m);
        canvas_line(p->page, cut_point(p, from_m, end[0].y), cut_point(p, to_m, end[1].y),
                    FOCUS_INK, 7.0);
    }
    cairo_set_line_cap(p->page->cr, CAIRO_LINE_CAP_BUTT);
}

static void limb(const cut_page *p, double x0, double z0, double x1, double z1, double thick_m) {
    cairo_set_line_cap(p->page->cr, CAIRO_LINE_CAP_ROUND);
    canvas_line(p->page, cut_point(p, x0, z0), cut_point(p, x1, z1), BODY_INK,
                fmax(1.0, thick_m * p->unit_per_m));
    cairo_set_line_cap(p->page->cr, CAIRO_LINE_CAP_BUTT);
}

/* Only the head and the eye are to scale; who looks across the cut shows the head alone. */
static void draw_person(const cut_page *p, const gradin_cut_row *row) {
    const gradin_seats *s = &p->cut->model->seats;
    const gradin_audience *who = &p->cut->model->audience;
    double x = row->x_m, z = s->eye_m[row->seat].z, floor = s->floor_m[row->seat].z;
    double way = row->along, seat = floor + 0.36 * (z - floor);
    double half_up = 0.5 * who->head_height_m;
    double half_along = 0.5 * hypot(who->head_length_m * way,
                                    who->head_breadth_m * sqrt(fmax(1.0 - way * way, 0.0)));
    limb(p, x - 0.11 * way, z - 0.24, x - 0.14 * way, seat + 0.08, 0.15);
    limb(p, x - 0.13 * way, seat + 0.06, x + 0.24 * way, seat + 0.06, 0.12);
    limb(p, x + 0.24 * way, seat + 0.04, x + 0.24 * way, floor + 0.05, 0.08);
    gradin_vec2 head = cut_point(p, x - 0.4 * who->head_length_m * way, z + who->crown_m - half_up);
    cairo_save(p->page->cr);
    cairo_translate(p->page->cr, head.x, head.y);
    cairo_scale(p->page->cr, half_along * p->unit_per_m, half_up * p->unit_per_m);
    cairo_arc(p->page->cr, 0.0, 0.0, 1.0, 0.0, 2.0 * GRADIN_PI);
    cairo_restore(p->page->cr);
    bool is_own = row->seat == p->cut->seat;
    canvas_fill_keep(p->page, is_own ? (colour){0.75, 0.86, 0.97} : (colour){0.97, 0.97, 0.97});
    canvas_stroke(p->page, is_own ? RAY_INK : COLOUR_QUIET, is_own ? 2.2 : 1.4);
    gradin_vec2 eye = cut_point(p, x, z);
    cairo_new_path(p->page->cr);
    cairo_arc(p->page->cr, eye.x, eye.y, fmin(3.2, 0.03 * p->unit_per_m), 0.0, 2.0 * GRADIN_PI);
    canvas_fill(p->page, COLOUR_INK);
}

/* Whole as far as it is clear, dashed beyond what blocks it. */
static void draw_ray(const cut_page *p, gradin_vec2 eye_m, const gradin_cut_ray *ray) {
    if (isnan(ray->to_m.x)) return;
    gradin_vec2 from = cut_point(p, eye_m.x, eye_m.y), to = cut_point(p, ray->to_m.x, ray->to_m.y);
    gradin_vec2 till = {from.x + ray->clear * (to.x - from.x),
                        from.y + ray->clear * (to.y - from.y)};
    canvas_line(p->page, from, till, RAY_INK, 1.8);
    if (!ray->blocked) return;
    canvas_dashed(p->page, 8.0, 6.0);
    canvas_line(p->page, till, to, RAY_INK, 1.4);
    canvas_dashed(p->page, 0.0, 0.0);
    canvas_line(p->page, (gradin_vec2){till.x - 6.0, till.y - 6.0},
                (gradin_vec2){till.x + 6.0, till.y + 6.0}, RAIL_FILL, 2.4);
    canvas_line(p->page, (gradin_vec2){till.x - 6.0, till.y + 6.0},
                (gradin_vec2){till.x + 6.0, till.y - 6.0}, RAIL_FILL, 2.4);
}

static void draw_rays(const cut_page *p) {
    const gradin_cut *c = p->cut;
    for (int i = 0; i < c->n_row; i++)
        if (c->row[i].seat == c->seat) {
            gradin_vec2 eye = {c->row[i].x_m, c->model->seats.eye_m[c->seat].z};
            draw_ray(p, eye, &c->near_edge);
            draw_ray(p, eye, &c->far_edge);
        }
}

void cut_draw_scene(const cut_page *p) {
    draw_room(p);
    for (int i = 0; i < p->cut->n_part; i++)
        if (p->cut->part[i].z_m[1] > p->z_low_m) draw_part(p, &p->cut->part[i]);
    draw_focus(p);
    for (int i = 0; i < p->cut->n_row; i++) draw_person(p, &p->cut->row[i]);
    draw_rails(p);
    draw_rays(p);
}
