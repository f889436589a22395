/* Walls, glazing with its shades, doors, vents, and the overflight's arrow at the border. */
#include "render/plan/plan.h"

static const colour wall_ink = {0.20, 0.20, 0.22};
static const colour glass_ink = {0.30, 0.47, 0.62};

#define GLASS_HALF 5.0 /* page units */

static gradin_vec2 along_by(gradin_vec2 from, gradin_vec2 unit, double t) {
    return (gradin_vec2){from.x + t * unit.x, from.y + t * unit.y};
}

/* The band of half width `half` about a-b as the current path. */
static void band_path(canvas *page, gradin_vec2 a, gradin_vec2 b, double half) {
    double length = hypot(b.x - a.x, b.y - a.y);
    if (!(length > 0.0)) return;
    gradin_vec2 side = {-(b.y - a.y) / length * half, (b.x - a.x) / length * half};
    cairo_new_path(page->cr);
    cairo_move_to(page->cr, a.x + side.x, a.y + side.y);
    cairo_line_to(page->cr, b.x + side.x, b.y + side.y);
    cairo_line_to(page->cr, b.x - side.x, b.y - side.y);
    cairo_line_to(page->cr, a.x - side.x, a.y - side.y);
    cairo_close_path(page->cr);
}

void plan_pane_line(canvas *page, gradin_vec2 a, gradin_vec2 b, double shut) {
    band_path(page, a, b, GLASS_HALF);
    canvas_fill_keep(page, (colour){0.90, 0.94, 0.97});
    canvas_stroke(page, glass_ink, 1.8);
    if (!(shut > 0.0)) return;
    gradin_vec2 end = {a.x + shut * (b.x - a.x), a.y + shut * (b.y - a.y)};
    band_path(page, a, end, GLASS_HALF);
    canvas_fill_keep(page, (colour){0.80, 0.80, 0.82});
    canvas_hatch(page, COLOUR_INK, 1.6, 6.0);
    canvas_stroke(page, COLOUR_INK, 1.4);
}

void plan_door_line(canvas *page, gradin_vec2 a, gradin_vec2 b, gradin_vec2 out, double open) {
    double width = hypot(b.x - a.x, b.y - a.y);
    if (!(width > 0.0)) return;
    gradin_vec2 along = {(b.x - a.x) / width, (b.y - a.y) / width};
    double swing = fmin(fmax(open, 0.0), 1.0) * 0.5 * GRADIN_PI;
    gradin_vec2 leaf = along_by(along_by(a, along, width * cos(swing)), out, width * sin(swing));
    band_path(page, a, b, GLASS_HALF);
    canvas_fill(page, COLOUR_WHITE);
    canvas_line(page, along_by(a, out, -GLASS_HALF), along_by(a, out, GLASS_HALF), wall_ink, 2.0);
    canvas_line(page, along_by(b, out, -GLASS_HALF), along_by(b, out, GLASS_HALF), wall_ink, 2.0);
    canvas_line(page, a, leaf, wall_ink, 3.0);
    if (swing <= 0.0) return;
    double start = atan2(along.y, along.x), end = atan2(leaf.y - a.y, leaf.x - a.x);
    if (along.x * out.y - along.y * out.x > 0.0)
        cairo_arc(page->cr, a.x, a.y, width, start, end);
    else
        cairo_arc_negative(page->cr, a.x, a.y, width, start, end);
    canvas_stroke(page, COLOUR_QUIET, 0.9);
}

void plan_vent_mark(canvas *page, gradin_vec2 centre) {
    const double h = 6.0;
    cairo_rectangle(page->cr, centre.x - h, centre.y - h, 2.0 * h, 2.0 * h);
    canvas_fill_keep(page, COLOUR_WHITE);
    canvas_stroke(page, wall_ink, 1.4);
    canvas_line(page, (gradin_vec2){centre.x - h, centre.y - h},
                (gradin_vec2){centre.x + h, centre.y + h}, wall_ink, 1.2);
    canvas_line(page, (gradin_vec2){centre.x - h, centre.y + h},
                (gradin_vec2){centre.x + h, centre.y - h}, wall_ink, 1.2);
}

static double shut_of(const plan *p, const gradin_element *element) {
    if (element->shade < 0) return 0.0;
    if (p->shades == GRADIN_SHADES_OPEN) return 0.0;
    if (p->shades == GRADIN_SHADES_SHUT) return 1.0;
    return fmin(fmax(p->model->shade[element->shade].closed, 0.0), 1.0);
}

/* The square that an open door's leaf sweeps. */
static void take_swing(const plan *p, gradin_vec2 a, gradin_vec2 b, gradin_vec2 out) {
    double half = 0.5 * hypot(b.x - a.x, b.y - a.y);
    gradin_vec2 middle = {0.5 * (a.x + b.x), 0.5 * (a.y + b.y)};
    labels_take(p->grid, along_by(middle, out, half), half, half,
                gradin_bearing_deg(out.x, -out.y));
}

/* An element on the page: its ends and the unit vector outwards. */
typedef struct stretch {
    gradin_vec2 a, b, out;
} stretch;

static stretch stretch_of(const plan *p, const gradin_element *element) {
    gradin_vec2 from = {element->corner_m.x, element->corner_m.y}, along = element->along;
    return (stretch){
        view_point(p->v, from.x, from.y),
        view_point(p->v, from.x + element->width_m * along.x, from.y + element->width_m * along.y),
        {element->outward.x, -element->outward.y}};
}

static void draw_element(const plan *p, const gradin_element *element) {
    stretch s = stretch_of(p, element);
    if (element->kind == GRADIN_ELEMENT_PANE)
        plan_pane_line(p->page, s.a, s.b, shut_of(p, element));
    if (element->kind == GRADIN_ELEMENT_DOOR)
        plan_door_line(p->page, s.a, s.b, s.out, element->open);
    if (element->kind == GRADIN_ELEMENT_VENT)
        plan_vent_mark(p->page, (gradin_vec2){0.5 * (s.a.x + s.b.x), 0.5 * (s.a.y + s.b.y)});
}

static void take_element(const plan *p, const gradin_element *element) {
    stretch s = stretch_of(p, element);
    labels_take_line(p->grid, s.a, s.b, GLASS_HALF + 2.0);
    if (element->kind == GRADIN_ELEMENT_DOOR && element->open > 0.0) take_swing(p, s.a, s.b, s.out);
}

static bool is_upright(const gradin_element *element) {
    return element->tilt_deg <= 45.0;
}

static void take_wall(const plan *p, gradin_vec2 from_m, gradin_vec2 to_m) {
    labels_take_line(p->grid, view_point(p->v, from_m.x, from_m.y),
                     view_point(p->v, to_m.x, to_m.y), 5.0);
}

void plan_take_facade(const plan *p) {
    gradin_polygon wall = p->model->footprint;
    for (int i = 0; i < wall.n_corner; i++)
        take_wall(p, wall.corner_m[i], wall.corner_m[(i + 1) % wall.n_corner]);
    for (int i = 0; i < p->model->n_element; i++)
        if (is_upright(&p->model->element[i])) take_element(p, &p->model->element[i]);
}

void plan_draw_facade(const plan *p) {
    plan_path(p, p->model->footprint);
    canvas_stroke(p->page, wall_ink, 5.0);
    for (int kind = GRADIN_ELEMENT_PANE; kind <= (int)GRADIN_ELEMENT_VENT; kind++)
        for (int i = 0; i < p->model->n_element; i++)
            if ((int)p->model->element[i].kind == kind && is_upright(&p->model->element[i]))
                draw_element(p, &p->model->element[i]);
}

static gradin_vec2 room_centre(const view *v) {
    return (gradin_vec2){0.5 * (v->room.x_min_m + v->room.x_max_m),
                         0.5 * (v->room.y_min_m + v->room.y_max_m)};
}

/* Where the line from the room's centre along a unit vector is `beyond` outside the room's box. */
static gradin_vec2 border_point(const view *v, gradin_vec2 towards, double beyond) {
    double half_w = 0.5 * (v->room.x_max_m - v->room.x_min_m) + beyond;
    double half_h = 0.5 * (v->room.y_max_m - v->room.y_min_m) + beyond;
    double reach = fmin(fabs(towards.x) > 0.0 ? half_w / fabs(towards.x) : INFINITY,
                        fabs(towards.y) > 0.0 ? half_h / fabs(towards.y) : INFINITY);
    return along_by(room_centre(v), towards, reach);
}

/* Page unit vector from the room's centre to the nearest point of the track; against the flight
 * when the track passes over the centre. */
static gradin_vec2 towards_track(const plan *p, gradin_vec2 flight) {
    const gradin_pass *pass = p->model->pass;
    gradin_vec2 centre = room_centre(p->v);
    gradin_vec2 point = view_point(p->v, pass->point_m.x, pass->point_m.y);
    double side = (point.y - centre.y) * flight.x - (point.x - centre.x) * flight.y;
    if (fabs(side) < p->v->unit_per_m) return (gradin_vec2){-flight.x, -flight.y};
    double sign = side > 0.0 ? 1.0 : -1.0;
    return (gradin_vec2){-flight.y * sign, flight.x * sign};
}

/* "overflight" along the arrow, on its side away from the room, never upside down. */
static void write_along(const plan *p, gradin_vec2 at, gradin_vec2 flight, gradin_vec2 towards) {
    double turn = atan2(flight.y, flight.x);
    if (fabs(turn) > 0.5 * GRADIN_PI + 1e-9) turn += turn > 0.0 ? -GRADIN_PI : GRADIN_PI;
    gradin_vec2 up = {sin(turn), -cos(turn)};
    bool is_above = up.x * towards.x + up.y * towards.y > -1e-9;
    gradin_vec2 base = along_by(at, up, is_above ? 9.0 : -20.0);
    text_style style = {.size = 15.0, .align = TEXT_CENTRE, .ink = COLOUR_INK, .turn_rad = turn};
    canvas_text(p->page, style, base.x, base.y, "overflight");
}

/* The arrow of the overflight at the border. */
typedef struct track {
    gradin_vec2 flight, towards, at, tail, tip;
} track;

static track track_of(const plan *p) {
    gradin_vec2 bearing = gradin_bearing_unit(p->model->pass->bearing_deg);
    track t = {.flight = {bearing.x, -bearing.y}};
    t.towards = towards_track(p, t.flight);
    t.at = border_point(p->v, t.towards, 0.62 * PLAN_BORDER);
    t.tail = along_by(t.at, t.flight, -42.0);
    t.tip = along_by(t.at, t.flight, 42.0);
    return t;
}

void plan_take_flight(const plan *p) {
    if (!p->model->pass) return;
    track t = track_of(p);
    labels_take_line(p->grid, t.tail, t.tip, 22.0);
}

void plan_draw_flight(const plan *p) {
    if (!p->model->pass) return;
    track t = track_of(p);
    canvas_arrow(p->page, t.tail, t.tip, COLOUR_INK, 4.0);
    write_along(p, t.at, t.flight, t.towards);
}
