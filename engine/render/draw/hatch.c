/* Slanted lines over a path. Over a convex polygon each line is cut by arithmetic and all are
 * filled at once: clipping in Cairo takes several times as long, and a facade has a hundred panes.
 * Other paths are clipped. */
#include "render/draw/canvas.h"

enum { MOST_CORNERS = 32 };

typedef struct corners {
    gradin_vec2 at[4 * MOST_CORNERS]; /* a cut adds at most one per edge */
    int n;
} corners;

/* The corners of a path that is one closed polygon; false of any other. */
static bool is_polygon(const cairo_path_t *path, corners *c) {
    bool is_closed = false;
    c->n = 0;
    for (int i = 0; i < path->num_data; i += path->data[i].header.length) {
        const cairo_path_data_t *d = path->data + i;
        if (d->header.type == CAIRO_PATH_CLOSE_PATH) {
            is_closed = true;
            continue;
        }
        if (d->header.type == CAIRO_PATH_MOVE_TO && is_closed) continue; /* where it began */
        bool fits = d->header.type == (c->n == 0 ? CAIRO_PATH_MOVE_TO : CAIRO_PATH_LINE_TO);
        if (!fits || is_closed || c->n == MOST_CORNERS) return false;
        c->at[c->n++] = (gradin_vec2){d[1].point.x, d[1].point.y};
    }
    return is_closed && c->n >= 3;
}

static bool is_convex(const corners *c) {
    bool has_left = false, has_right = false;
    for (int i = 0; i < c->n; i++) {
        gradin_vec2 p = c->at[i], q = c->at[(i + 1) % c->n], r = c->at[(i + 2) % c->n];
        double turn = (q.x - p.x) * (r.y - q.y) - (q.y - p.y) * (r.x - q.x);
        has_left |= turn < 0.0;
        has_right |= turn > 0.0;
    }
    return has_left != has_right;
}

/* What of a convex polygon lies at sign (x + y) <= sign bound. */
static corners cut(const corners *c, double sign, double bound) {
    corners out = {.n = 0};
    for (int i = 0; i < c->n; i++) {
        gradin_vec2 p = c->at[i], q = c->at[(i + 1) % c->n];
        double over_p = sign * (p.x + p.y - bound), over_q = sign * (q.x + q.y - bound);
        if (over_p <= 0.0) out.at[out.n++] = p;
        if ((over_p < 0.0 && over_q > 0.0) || (over_p > 0.0 && over_q < 0.0)) {
            double t = over_p / (over_p - over_q);
            out.at[out.n++] = (gradin_vec2){p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)};
        }
    }
    return out;
}

static void add_piece(canvas *page, const corners *c, double middle, double half) {
    corners low = cut(c, 1.0, middle + half), piece = cut(&low, -1.0, middle - half);
    for (int i = 0; i < piece.n; i++) cairo_line_to(page->cr, piece.at[i].x, piece.at[i].y);
    if (piece.n > 0) cairo_close_path(page->cr);
    cairo_new_sub_path(page->cr);
}

static void fill_lines(canvas *page, const corners *c, colour ink, double width, double step,
                       double first, double last) {
    cairo_new_path(page->cr);
    for (double at = first; at < last; at += step) add_piece(page, c, at, width * sqrt(0.5));
    canvas_fill(page, ink);
}

static void stroke_lines(canvas *page, colour ink, double width, double step, double first,
                         gradin_box2 box) {
    double high = box.y_max_m - box.y_min_m;
    cairo_save(page->cr);
    cairo_clip(page->cr);
    for (double x = first; x < box.x_max_m; x += step) {
        cairo_move_to(page->cr, x, box.y_max_m);
        cairo_line_to(page->cr, x + high, box.y_min_m);
    }
    canvas_stroke(page, ink, width);
    cairo_restore(page->cr);
}

void canvas_hatch(canvas *page, colour ink, double width, double step) {
    corners c;
    gradin_box2 box;
    cairo_path_t *outline = cairo_copy_path(page->cr);
    cairo_path_extents(page->cr, &box.x_min_m, &box.y_min_m, &box.x_max_m, &box.y_max_m);
    double first = floor((box.x_min_m - (box.y_max_m - box.y_min_m)) / step) * step;
    if (is_polygon(outline, &c) && is_convex(&c))
        fill_lines(page, &c, ink, width, step, first + box.y_max_m, box.x_max_m + box.y_max_m);
    else
        stroke_lines(page, ink, width, step, first, box);
    cairo_new_path(page->cr);
    cairo_append_path(page->cr, outline);
    cairo_path_destroy(outline);
}
