/* A place is a rectangle of its width by 0.8 of its row depth, turned to its facing, with a rounded
 * back. Its value stands upright in it. */
#include "render/maps/seats.h"

#define DEPTH_SHARE 0.8
#define GAP 1.6           /* page units between neighbours */
#define TEXT_SIZE 14.0    /* at most */
#define DIGIT_HEIGHT 0.73 /* of DejaVu Sans, to its size */
#define CONDENSE 0.86
#define MOST_CONDENSE 0.74
#define ROOMY 1.6       /* the smallest letters are not crammed into less */
#define TINY 5.0        /* page units below which a seat has no outline */
#define TINY_SHARE 0.86 /* of it that is coloured */
#define TINY_STROKE 0.16

/* Strokes get finer where the seats are small on the page. */
static double fine_of(const seat_mark *mark) {
    return fmin(1.0, fmin(mark->width, mark->depth) / 26.0);
}

/* Local axes: +x to the right, +y backwards. */
static void seat_path(cairo_t *cr, double half_w, double half_d, double round) {
    cairo_new_path(cr);
    cairo_move_to(cr, -half_w, -half_d);
    cairo_line_to(cr, half_w, -half_d);
    cairo_arc(cr, half_w - round, half_d - round, round, 0.0, 0.5 * GRADIN_PI);
    cairo_arc(cr, -half_w + round, half_d - round, round, 0.5 * GRADIN_PI, GRADIN_PI);
    cairo_close_path(cr);
}

/* The back rest: a heavier line along the rounded rear edge. */
static void draw_back(canvas *page, double half_w, double half_d, double round, double fine) {
    cairo_new_path(page->cr);
    cairo_arc(page->cr, half_w - round, half_d - round, round, 0.15 * GRADIN_PI, 0.5 * GRADIN_PI);
    cairo_arc(page->cr, -half_w + round, half_d - round, round, 0.5 * GRADIN_PI, 0.85 * GRADIN_PI);
    canvas_stroke(page, COLOUR_INK, 2.6 * fine);
}

/* Of the two diagonals the steeper one on the page: a level stroke before a value would read as a
 * minus sign. */
static void draw_slash(canvas *page, const seat_mark *mark, double half_w, double half_d) {
    double s = sin(gradin_rad(mark->facing_deg)), c = cos(gradin_rad(mark->facing_deg));
    double side = fabs(half_w * s + half_d * c) >= fabs(half_w * s - half_d * c) ? 1.0 : -1.0;
    cairo_save(page->cr);
    seat_path(page->cr, half_w, half_d, 0.3 * fmin(half_w, half_d));
    cairo_clip(page->cr);
    canvas_line(page, (gradin_vec2){-half_w * side, -half_d}, (gradin_vec2){half_w * side, half_d},
                colour_text_on(mark->fill), 1.8 * fine_of(mark));
    cairo_restore(page->cr);
}

/* A filled corner in front. */
static void draw_corner(canvas *page, const seat_mark *mark, double half_w, double half_d) {
    double leg = 0.6 * fmin(half_w, half_d);
    cairo_new_path(page->cr);
    cairo_move_to(page->cr, -half_w, -half_d);
    cairo_line_to(page->cr, -half_w + leg, -half_d);
    cairo_line_to(page->cr, -half_w, -half_d + leg);
    cairo_close_path(page->cr);
    canvas_fill(page, colour_text_on(mark->fill));
}

static void draw_dot(canvas *page, double y, double fine) {
    cairo_arc(page->cr, 0.0, y + 4.5 * fine, 2.6 * fine, 0.0, 2.0 * GRADIN_PI);
    canvas_fill_keep(page, COLOUR_WHITE);
    canvas_stroke(page, COLOUR_INK, fine);
}

/* The shape of a place in its own axes; `inner` of a wheelchair's. */
typedef struct shape {
    double half_w, half_d, round, inner_w, inner_d, inner_round, fine;
} shape;

static shape shape_of(const seat_mark *mark) {
    double fine = fine_of(mark);
    shape s = {.half_w = 0.5 * (mark->width - GAP * fine),
               .half_d = 0.5 * (mark->depth - GAP * fine),
               .fine = fine};
    double border = mark->kind == GRADIN_SEAT_WHEELCHAIR ? 3.4 * fine : 0.0;
    s.round = 0.55 * fmin(s.half_w, s.half_d);
    s.inner_w = s.half_w - border;
    s.inner_d = s.half_d - border;
    s.inner_round = 0.5 * s.round;
    return s;
}

static void draw_fill(canvas *page, const seat_mark *mark) {
    bool is_wheelchair = mark->kind == GRADIN_SEAT_WHEELCHAIR;
    shape s = shape_of(mark);
    seat_path(page->cr, s.half_w, s.half_d, s.round);
    canvas_fill(page, is_wheelchair ? COLOUR_WHITE : mark->fill);
    if (is_wheelchair) {
        seat_path(page->cr, s.inner_w, s.inner_d, s.inner_round);
        canvas_fill(page, mark->fill);
    }
    if (mark->is_marked) draw_slash(page, mark, s.inner_w, s.inner_d);
    if (mark->is_near) draw_corner(page, mark, s.inner_w, s.inner_d);
}

/* What does not depend on the value. */
static void draw_lines(canvas *page, const seat_mark *mark) {
    bool is_wheelchair = mark->kind == GRADIN_SEAT_WHEELCHAIR;
    shape s = shape_of(mark);
    seat_path(page->cr, s.half_w, s.half_d, s.round);
    canvas_stroke(page, COLOUR_INK, (is_wheelchair ? 1.5 : 0.8) * s.fine);
    draw_back(page, s.half_w, s.half_d, s.round, s.fine);
    if (is_wheelchair) {
        seat_path(page->cr, s.inner_w, s.inner_d, s.inner_round);
        canvas_stroke(page, COLOUR_INK, s.fine);
    }
    if (mark->kind == GRADIN_SEAT_COMPANION) draw_dot(page, -s.half_d, s.fine);
}

static void draw_faint(canvas *page, const seat_mark *mark) {
    shape s = shape_of(mark);
    seat_path(page->cr, s.half_w, s.half_d, s.round);
    canvas_stroke(page, COLOUR_FAINT, 0.7);
}

static void draw_turned(canvas *page, const seat_mark *mark,
                        void (*draw)(canvas *page, const seat_mark *mark)) {
    cairo_save(page->cr);
    cairo_translate(page->cr, mark->centre.x, mark->centre.y);
    cairo_rotate(page->cr, gradin_rad(mark->facing_deg));
    draw(page, mark);
    cairo_restore(page->cr);
}

/* The largest letter size (page units) at which an upright text with this ratio of width to size
 * stays inside the turned rectangle. */
static double size_that_fits(const seat_mark *mark, double width_to_size) {
    double inset = fine_of(mark) * (mark->kind == GRADIN_SEAT_WHEELCHAIR ? 9.0 : 2.0) + GAP;
    double s = fabs(sin(gradin_rad(mark->facing_deg))), c = fabs(cos(gradin_rad(mark->facing_deg)));
    double across = width_to_size * c + DIGIT_HEIGHT * s;
    double along = width_to_size * s + DIGIT_HEIGHT * c;
    double size = fmin((mark->width - inset) / across, (mark->depth - inset) / along);
    /* The same size for one digit as for three, so that no value looks weightier than its
     * neighbour. */
    double most = fmin(TEXT_SIZE, 0.5 * fmin(mark->width, mark->depth));
    bool has_room = fmin(mark->width, mark->depth) >= ROOMY * LEAST_TEXT;
    return fmin(size, has_room ? fmax(most, LEAST_TEXT) : most);
}

/* Letters that are narrower before they would be too small; of size 0 where even those are. */
static text_style value_style(canvas *page, const seat_mark *mark) {
    text_style style = {.size = 10.0, .align = TEXT_CENTRE, .ink = colour_text_on(mark->fill)};
    double natural = canvas_text_width(page, style, mark->text) / 10.0;
    style.condense = CONDENSE;
    style.size = size_that_fits(mark, CONDENSE * natural);
    if (style.size < LEAST_TEXT) {
        style.condense = MOST_CONDENSE;
        style.size = fmin(size_that_fits(mark, MOST_CONDENSE * natural), LEAST_TEXT);
    }
    style.size = style.size < LEAST_TEXT ? 0.0 : fmax(floor(style.size * 2.0) / 2.0, LEAST_TEXT);
    return style;
}

/* The slash stops short of the value. */
static void clear_behind(canvas *page, const seat_mark *mark, text_style style) {
    double half_w = 0.5 * canvas_text_width(page, style, mark->text) + 1.0;
    double half_h = 0.5 * DIGIT_HEIGHT * style.size + 1.5;
    cairo_rectangle(page->cr, mark->centre.x - half_w, mark->centre.y - half_h, 2.0 * half_w,
                    2.0 * half_h);
    canvas_fill(page, mark->fill);
}

static void draw_value(canvas *page, const seat_mark *mark) {
    text_style style = value_style(page, mark);
    if (!(style.size > 0.0)) return;
    if (mark->is_marked) clear_behind(page, mark, style);
    canvas_text(page, style, mark->centre.x, mark->centre.y + 0.5 * DIGIT_HEIGHT * style.size,
                mark->text);
}

/* The fill and what stands on it. */
static void draw_value_of(canvas *page, const seat_mark *mark) {
    draw_turned(page, mark, draw_fill);
    if (mark->text[0] != '\0') draw_value(page, mark);
}

void seat_draw(canvas *page, const seat_mark *mark) {
    if (!mark->text) {
        draw_turned(page, mark, draw_faint);
        return;
    }
    draw_value_of(page, mark);
    draw_turned(page, mark, draw_lines);
}

static seat_mark place_of(const view *v, const gradin_seats *seats, int seat) {
    return (seat_mark){.centre = view_point(v, seats->floor_m[seat].x, seats->floor_m[seat].y),
                       .width = seats->width_m[seat] * v->unit_per_m,
                       .depth = DEPTH_SHARE * seats->depth_m[seat] * v->unit_per_m,
                       .facing_deg = seats->facing_deg[seat],
                       .kind = seats->kind[seat]};
}

/* Seats too small for an outline, of which some ten thousand share a page: one path for all that
 * follow each other in one colour. */
typedef struct run {
    canvas *page;
    colour ink;
    bool is_begun;
} run;

static bool is_tiny(const seat_mark *mark) {
    return fmin(mark->width, mark->depth) < TINY;
}

static void run_end(run *r) {
    if (r->is_begun) canvas_fill(r->page, r->ink);
    r->is_begun = false;
}

static void run_add(run *r, const seat_mark *mark, colour ink) {
    gradin_vec2 ahead = gradin_bearing_unit(mark->facing_deg);
    double half_w = 0.5 * TINY_SHARE * mark->width, half_d = 0.5 * TINY_SHARE * mark->depth;
    gradin_vec2 right = {half_w * ahead.y, half_w * ahead.x};
    gradin_vec2 up = {half_d * ahead.x, -half_d * ahead.y}, at = mark->centre;
    bool is_other = ink.r != r->ink.r || ink.g != r->ink.g || ink.b != r->ink.b;
    if (is_other) run_end(r);
    if (!r->is_begun) cairo_new_path(r->page->cr);
    r->is_begun = true;
    r->ink = ink;
    cairo_move_to(r->page->cr, at.x - right.x + up.x, at.y - right.y + up.y);
    cairo_line_to(r->page->cr, at.x + right.x + up.x, at.y + right.y + up.y);
    cairo_line_to(r->page->cr, at.x + right.x - up.x, at.y + right.y - up.y);
    cairo_line_to(r->page->cr, at.x - right.x - up.x, at.y - right.y - up.y);
    cairo_close_path(r->page->cr);
}

/* The marks of tiny seats: a line from corner to corner, or across a corner in front. */
static void add_tiny_mark(canvas *page, const seat_mark *mark) {
    gradin_vec2 ahead = gradin_bearing_unit(mark->facing_deg), at = mark->centre;
    double half_w = 0.5 * TINY_SHARE * mark->width, half_d = 0.5 * TINY_SHARE * mark->depth;
    gradin_vec2 right = {half_w * ahead.y, half_w * ahead.x};
    gradin_vec2 up = {half_d * ahead.x, -half_d * ahead.y};
    gradin_vec2 to = mark->is_marked ? right : (gradin_vec2){0.0, 0.0};
    gradin_vec2 from = mark->is_marked ? up : (gradin_vec2){0.0, 0.0};
    cairo_move_to(page->cr, at.x - right.x - from.x, at.y - right.y - from.y);
    cairo_line_to(page->cr, at.x + to.x + up.x, at.y + to.y + up.y);
}

/* All that are drawn in one ink, for it stands out on what they are filled with. */
static void mark_tiny(canvas *page, const view *v, const quantity *q, int sheet, colour ink) {
    const gradin_seats *seats = &q->model->seats;
    double least = TINY;
    cairo_new_path(page->cr);
    for (int i = 0; i < seats->n_seat; i++) {
        char text[16];
        seat_mark mark = place_of(v, seats, i);
        mark.is_marked = quantity_is_marked(q, i);
        mark.is_near = quantity_is_near(q, i);
        if (seats->sheet[i] != sheet || !is_tiny(&mark) || (!mark.is_marked && !mark.is_near))
            continue;
        quantity_seat(q, i, text, &mark.fill);
        if (colour_text_on(mark.fill).r != ink.r) continue;
        least = fmin(least, fmin(mark.width, mark.depth));
        add_tiny_mark(page, &mark);
    }
    canvas_stroke(page, ink, TINY_STROKE * least);
}

void seats_draw_others(canvas *page, const view *v, const gradin_seats *seats, int sheet) {
    run others = {.page = page};
    for (int i = 0; i < seats->n_seat; i++) {
        if (seats->sheet[i] == sheet) continue;
        seat_mark mark = place_of(v, seats, i);
        if (is_tiny(&mark)) {
            run_add(&others, &mark, (colour){0.93, 0.93, 0.94});
            continue;
        }
        run_end(&others);
        seat_draw(page, &mark);
    }
    run_end(&others);
}

void seats_draw_plain(canvas *page, const view *v, const gradin_seats *seats, int sheet,
                      const colour *fill, const bool *is_marked) {
    for (int i = 0; i < seats->n_seat; i++) {
        if (seats->sheet[i] != sheet) continue;
        seat_mark mark = place_of(v, seats, i);
        mark.text = "";
        mark.fill = fill[i];
        mark.is_marked = is_marked[i];
        seat_draw(page, &mark);
    }
}

void seats_draw(canvas *page, const view *v, const quantity *q, int sheet) {
    const gradin_seats *seats = &q->model->seats;
    run tiny = {.page = page};
    for (int i = 0; i < seats->n_seat; i++) {
        if (seats->sheet[i] != sheet) continue;
        char text[16];
        seat_mark mark = place_of(v, seats, i);
        quantity_seat(q, i, text, &mark.fill);
        mark.text = text;
        mark.is_marked = quantity_is_marked(q, i);
        mark.is_near = quantity_is_near(q, i);
        if (is_tiny(&mark)) {
            run_add(&tiny, &mark, mark.fill);
            continue;
        }
        run_end(&tiny); /* its path is the page's own */
        draw_value_of(page, &mark);
    }
    run_end(&tiny);
    mark_tiny(page, v, q, sheet, (colour){0.0, 0.0, 0.0});
    mark_tiny(page, v, q, sheet, COLOUR_WHITE);
}

void seats_draw_lines(canvas *page, const view *v, const gradin_seats *seats, int sheet) {
    for (int i = 0; i < seats->n_seat; i++) {
        seat_mark mark = place_of(v, seats, i);
        if (seats->sheet[i] == sheet && !is_tiny(&mark)) draw_turned(page, &mark, draw_lines);
    }
}

bool seats_are_bare(canvas *page, const view *v, const quantity *q, int sheet) {
    const gradin_seats *seats = &q->model->seats;
    char text[16];
    colour fill;
    for (int i = 0; i < seats->n_seat; i++) {
        seat_mark mark = place_of(v, seats, i);
        if (seats->sheet[i] != sheet) continue;
        quantity_seat(q, i, text, &fill);
        mark.text = text;
        if (!(value_style(page, &mark).size > 0.0)) return true;
    }
    return false;
}

void seats_take(label_grid *grid, const view *v, const gradin_seats *seats, int sheet) {
    for (int i = 0; i < seats->n_seat; i++) {
        if (seats->sheet[i] != sheet) continue;
        seat_mark mark = place_of(v, seats, i);
        labels_take(grid, mark.centre, 0.5 * mark.width, 0.5 * mark.depth, mark.facing_deg);
    }
}
