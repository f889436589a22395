/* Points outside on the plan: a number in a ring where the point is, or at the plan's border, with
 * an arrow, when it lies farther off. */
#include "render/maps/outlook_page.h"

#include <stdio.h>

#define RING 17.0                 /* page units */
#define EDGE (0.48 * PLAN_BORDER) /* of the ring's middle from the room's box */
#define ARROW_FROM (RING + 3.0)
#define ARROW_TO (RING + 25.0)
#define APART (2.0 * RING + 7.0)
enum { MOST_STEP = 64 };

typedef struct mark {
    gradin_vec2 at, out; /* out: unit vector to a point beyond the border, else null */
    gradin_vec2 side;    /* along the border */
} mark;

static bool is_within(gradin_box2 box, gradin_vec2 at) {
    return at.x >= box.x_min_m && at.x <= box.x_max_m && at.y >= box.y_min_m && at.y <= box.y_max_m;
}

/* Where the line from the middle of the box to a point outside leaves it. */
static mark at_border(gradin_box2 box, gradin_vec2 point) {
    gradin_vec2 middle = {0.5 * (box.x_min_m + box.x_max_m), 0.5 * (box.y_min_m + box.y_max_m)};
    gradin_vec2 way = {point.x - middle.x, point.y - middle.y};
    double to_x = 0.5 * (box.x_max_m - box.x_min_m) / fabs(way.x);
    double to_y = 0.5 * (box.y_max_m - box.y_min_m) / fabs(way.y);
    double t = fmin(to_x, to_y);
    mark made = {.at = {middle.x + t * way.x, middle.y + t * way.y}};
    made.side = to_x < to_y ? (gradin_vec2){0.0, 1.0} : (gradin_vec2){1.0, 0.0};
    double length = hypot(point.x - made.at.x, point.y - made.at.y);
    made.out = (gradin_vec2){(point.x - made.at.x) / length, (point.y - made.at.y) / length};
    return made;
}

static bool is_free(const mark *made, int n, gradin_vec2 at) {
    for (int i = 0; i < n; i++)
        if (hypot(made[i].at.x - at.x, made[i].at.y - at.y) < APART) return false;
    return true;
}

/* Steps aside along the border, to either side in turn, until the ring stands free. */
static mark stand_free(const mark *made, int n, gradin_box2 box, mark wanted) {
    for (int step = 0; step < MOST_STEP; step++) {
        double by = APART * ((step + 1) / 2) * (step % 2 ? 1.0 : -1.0);
        mark tried = wanted;
        tried.at.x += by * wanted.side.x;
        tried.at.y += by * wanted.side.y;
        if (is_free(made, n, tried.at) && is_within(box, tried.at)) return tried;
    }
    return wanted;
}

void outlook_ring(canvas *page, gradin_vec2 at, int number) {
    char text[16];
    snprintf(text, sizeof text, "%d", number);
    cairo_new_path(page->cr);
    cairo_arc(page->cr, at.x, at.y, RING, 0.0, 2.0 * GRADIN_PI);
    canvas_fill_keep(page, COLOUR_WHITE);
    canvas_stroke(page, COLOUR_INK, 2.4);
    text_style style = {.size = 19.0, .is_bold = true, .align = TEXT_CENTRE, .ink = COLOUR_INK};
    canvas_text(page, style, at.x, at.y + 6.8, text);
}

void plan_draw_outside(const plan *p, const gradin_outside *outside) {
    mark made[GRADIN_MAX_OUTSIDE];
    gradin_box2 box = p->v->room;
    box = (gradin_box2){box.x_min_m - EDGE, box.y_min_m - EDGE, box.x_max_m + EDGE,
                        box.y_max_m + EDGE};
    for (int i = 0; i < outside->n_point && i < GRADIN_MAX_OUTSIDE; i++) {
        gradin_vec3 eye_m = outside->point[i].eye_m;
        gradin_vec2 at = view_point(p->v, eye_m.x, eye_m.y);
        made[i] = is_within(box, at) ? (mark){.at = at, .side = {1.0, 0.0}} : at_border(box, at);
        made[i] = stand_free(made, i, box, made[i]);
        gradin_vec2 m = made[i].at, out = made[i].out;
        outlook_ring(p->page, m, i + 1);
        labels_take(p->grid, m, RING, RING, 0.0);
        if (out.x == 0.0 && out.y == 0.0) continue;
        canvas_arrow(p->page, (gradin_vec2){m.x + ARROW_FROM * out.x, m.y + ARROW_FROM * out.y},
                     (gradin_vec2){m.x + ARROW_TO * out.x, m.y + ARROW_TO * out.y}, COLOUR_INK,
                     2.6);
    }
}
