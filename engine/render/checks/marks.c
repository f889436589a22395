/* The marks of the rough checks. */
#include "render/checks/marks.h"
#include "base/lengths.h"

#include <stdio.h>
#include <string.h>

static const colour route_ink = {0.05, 0.28, 0.52};
static const colour chair_ink = {0.45, 0.18, 0.45};
static const colour edge_ink = {0.70, 0.15, 0.05};
static const colour load_ink = {0.55, 0.35, 0.05};

#define BAND 9.0
#define WALL_OFF 40.0 /* of an exit's mark from the wall */

void marks_route_line(canvas *page, gradin_vec2 a, gradin_vec2 b, bool is_wheelchair) {
    if (is_wheelchair) canvas_dashed(page, 9.0, 5.0);
    canvas_line(page, a, b, is_wheelchair ? chair_ink : route_ink, is_wheelchair ? 2.4 : 2.0);
    canvas_dashed(page, 0.0, 0.0);
}

void marks_route_end(canvas *page, gradin_vec2 from, gradin_vec2 to) {
    canvas_arrow(page, from, to, route_ink, 2.0);
}

/* A broad band with a broken white core, so that it is not taken for a rail and its ticks; the edge
 * of a stage has a dashed line of its own. */
void marks_edge_line(canvas *page, gradin_vec2 a, gradin_vec2 b, bool is_stage) {
    if (is_stage) canvas_dashed(page, 3.0, 5.0);
    canvas_line(page, a, b, edge_ink, is_stage ? 2.4 : BAND);
    if (!is_stage) {
        canvas_dashed(page, 7.0, 5.0);
        canvas_line(page, a, b, COLOUR_WHITE, 0.4 * BAND);
    }
    canvas_dashed(page, 0.0, 0.0);
}

void marks_dead_end(canvas *page, gradin_vec2 at) {
    cairo_new_path(page->cr);
    cairo_arc(page->cr, at.x, at.y, 12.0, 0.0, 2.0 * GRADIN_PI);
    canvas_fill_keep(page, COLOUR_WHITE);
    canvas_stroke(page, COLOUR_INK, 3.0);
    canvas_line(page, (gradin_vec2){at.x - 7.0, at.y}, (gradin_vec2){at.x + 7.0, at.y}, COLOUR_INK,
                4.5);
}

void marks_narrow(canvas *page, gradin_vec2 at) {
    cairo_new_path(page->cr);
    for (int k = 0; k < 4; k++) {
        double angle = 0.5 * GRADIN_PI * k;
        cairo_line_to(page->cr, at.x + 9.0 * cos(angle), at.y + 9.0 * sin(angle));
    }
    cairo_close_path(page->cr);
    canvas_fill_keep(page, COLOUR_WHITE);
    canvas_stroke(page, COLOUR_INK, 2.4);
}

void marks_exit(canvas *page, gradin_vec2 at, gradin_vec2 out, bool is_free) {
    const double h = 11.0;
    gradin_vec2 side = {-out.y, out.x};
    if (is_free) {
        cairo_new_path(page->cr);
        cairo_move_to(page->cr, at.x + 1.4 * h * out.x, at.y + 1.4 * h * out.y);
        cairo_line_to(page->cr, at.x - h * out.x + h * side.x, at.y - h * out.y + h * side.y);
        cairo_line_to(page->cr, at.x - h * out.x - h * side.x, at.y - h * out.y - h * side.y);
        cairo_close_path(page->cr);
        canvas_fill(page, COLOUR_INK);
        return;
    }
    canvas_line(page, (gradin_vec2){at.x - h, at.y - h}, (gradin_vec2){at.x + h, at.y + h},
                COLOUR_INK, 5.0);
    canvas_line(page, (gradin_vec2){at.x - h, at.y + h}, (gradin_vec2){at.x + h, at.y - h},
                COLOUR_INK, 5.0);
}

void marks_overload_path(canvas *page) {
    canvas_hatch(page, load_ink, 2.6, 11.0);
    canvas_stroke(page, load_ink, 2.6);
}

void marks_find_overloads(const gradin_fit *fit, bool *is_over) {
    const gradin_model *m = fit->model;
    for (int i = 0; i < m->n_section; i++)
        for (int k = 0; k < fit->n_overload; k++)
            is_over[i] |= strcmp(m->section[i].name, fit->overload[k].where) == 0;
}

void marks_draw_ground(const plan *p) {
    for (int i = 0; i < p->model->n_section; i++) {
        if (!p->is_hatched[i]) continue;
        plan_path(p, (gradin_polygon){p->model->section[i].corner_m, 4});
        marks_overload_path(p->page);
    }
}

static gradin_vec2 point_of(const plan *p, gradin_vec2 at_m) {
    return view_point(p->v, at_m.x, at_m.y);
}

/* Route lines take room, so that no name lies over one. */
static void draw_route(const plan *p, const gradin_route *route) {
    for (int i = 0; i + 1 < route->n_point; i++) {
        gradin_vec2 a = point_of(p, route->point_m[i]), b = point_of(p, route->point_m[i + 1]);
        marks_route_line(p->page, a, b, route->is_wheelchair);
        labels_take_line(p->grid, a, b, 3.0);
    }
    if (route->n_point > 0) {
        gradin_vec2 at = point_of(p, route->point_m[0]);
        cairo_new_path(p->page->cr);
        cairo_arc(p->page->cr, at.x, at.y, 4.0, 0.0, 2.0 * GRADIN_PI);
        canvas_fill(p->page, route->is_wheelchair ? chair_ink : route_ink);
    }
}

static bool is_shown_narrow(const gradin_fit *fit, const gradin_route *route) {
    double wanted_m =
        route->is_wheelchair ? fit->routes->wheelchair_wanted_m : fit->routes->wanted_m;
    return route->state == GRADIN_WAY_OUT && route->width_m < wanted_m - 0.01;
}

static void label_at(const plan *p, gradin_vec2 at, double half_mark, const char *text) {
    const double reach = 220.0;
    text_style style = {.size = 16.0,
                        .is_bold = true,
                        .align = TEXT_CENTRE,
                        .ink = COLOUR_INK,
                        .halo = 5.0,
                        .halo_ink = COLOUR_WHITE};
    if (labels_put_led(p->grid, p->page, style, at, half_mark, reach, text)) return;
    canvas_text(p->page, style, at.x, at.y - 16.0, text);
}

static char *length_at(const plan *p, double length_m, char text[32]) {
    char length[LENGTH_CHARS];
    snprintf(text, 32, "%.30s", length_text(length, length_m, length_unit_of(p->model->units)));
    return text;
}

/* One mark where several routes are narrow at the same place. */
static void draw_narrow(const plan *p, const gradin_fit *fit, int i) {
    const gradin_route *route = &fit->routes->route[i];
    char text[32];
    if (!is_shown_narrow(fit, route)) return;
    for (int k = 0; k < i; k++) {
        const gradin_route *other = &fit->routes->route[k];
        if (is_shown_narrow(fit, other) && hypot(other->narrowest_m.x - route->narrowest_m.x,
                                                 other->narrowest_m.y - route->narrowest_m.y) < 1.5)
            return;
    }
    gradin_vec2 at = point_of(p, route->narrowest_m);
    marks_narrow(p->page, at);
    labels_take(p->grid, at, 9.0, 9.0, 0.0);
    label_at(p, at, 9.0, length_at(p, route->width_m, text));
}

static bool is_blocked(const gradin_fit *fit, const char *door) {
    for (int i = 0; i < fit->n_exit_blocked; i++)
        if (strcmp(fit->exit[i].name, door) == 0) return true;
    return false;
}

static void draw_exit(const plan *p, const gradin_fit *fit, const gradin_element *door) {
    gradin_vec2 out = {door->outward.x, -door->outward.y};
    gradin_vec2 at = view_point(p->v, door->corner_m.x + 0.5 * door->width_m * door->along.x,
                                door->corner_m.y + 0.5 * door->width_m * door->along.y);
    at.x += WALL_OFF * out.x;
    at.y += WALL_OFF * out.y;
    marks_exit(p->page, at, out, !is_blocked(fit, door->name));
    labels_take(p->grid, at, 16.0, 16.0, 0.0);
}

static void draw_edge(const plan *p, const gradin_open_edge *edge) {
    for (int i = 0; i + 1 < edge->n_point; i++) {
        gradin_vec2 a = point_of(p, edge->point_m[i]), b = point_of(p, edge->point_m[i + 1]);
        marks_edge_line(p->page, a, b, edge->is_stage);
        labels_take_line(p->grid, a, b, 6.0);
    }
}

void marks_draw(const plan *p, const gradin_fit *fit) {
    const gradin_routes *r = fit->routes;
    char text[32];
    for (int i = 0; i < fit->n_edge; i++) draw_edge(p, &fit->edge[i]);
    for (int i = 0; i < r->n_route; i++) draw_route(p, &r->route[i]);
    for (int i = 0; i < p->model->n_element; i++)
        if (p->model->element[i].kind == GRADIN_ELEMENT_DOOR &&
            p->model->element[i].exit != GRADIN_EXIT_NONE)
            draw_exit(p, fit, &p->model->element[i]);
    for (int i = 0; i < fit->n_exit_vom; i++) draw_exit(p, fit, &fit->exit_vom[i]);
    for (int i = 0; i < r->n_route; i++) draw_narrow(p, fit, i);
    for (int i = 0; i < r->n_dead_end; i++) {
        gradin_vec2 at = point_of(p, r->dead_end[i].end_m);
        marks_dead_end(p->page, at);
        labels_take(p->grid, at, 12.0, 12.0, 0.0);
        label_at(p, at, 12.0, length_at(p, r->dead_end[i].length_m, text));
    }
}
