/* Plans of one figure, a panel per level, in the arrangement that draws them largest. */
#include "render/maps/legend.h"
#include "render/maps/seats.h"
#include "render/page/parts.h"

#include <stdio.h>

#define LEVEL_NAME 24.0 /* above a panel, where there are several */
#define FREE 14.0       /* round a room */
#define GAP 10.0
#define NUMBER 11.0 /* radius of the ring round a section's number */
#define STUB 30.0   /* of a section's line that is drawn at each end */

static gradin_box2 panel_of(gradin_box2 box, int n, int columns, int i) {
    int rows = (n + columns - 1) / columns;
    double width = (box.x_max_m - box.x_min_m) / columns,
           height = (box.y_max_m - box.y_min_m) / rows;
    double top = box.y_min_m + (i / columns) * height + (n > 1 ? LEVEL_NAME : 0.0);
    double left = box.x_min_m + (i % columns) * width;
    return (gradin_box2){left, top, left + width - (columns > 1 ? GAP : 0.0),
                         box.y_min_m + (i / columns + 1) * height};
}

static int best_columns(const gradin_model *model, gradin_box2 box, int n) {
    int best = 1;
    double most = 0.0;
    for (int columns = 1; columns <= n; columns++) {
        view v;
        if (!view_in_box(model, panel_of(box, n, columns, 0), FREE, &v)) continue;
        if (v.unit_per_m > most * 1.001) best = columns;
        if (v.unit_per_m > most * 1.001) most = v.unit_per_m;
    }
    return best;
}

static void draw_end(canvas *page, gradin_vec2 at, int number) {
    char text[12];
    cairo_new_path(page->cr);
    cairo_arc(page->cr, at.x, at.y, NUMBER, 0.0, 2.0 * GRADIN_PI);
    canvas_fill_keep(page, COLOUR_WHITE);
    canvas_stroke(page, COLOUR_INK, 1.6);
    text_style style = {.size = 14.0, .is_bold = true, .align = TEXT_CENTRE, .ink = COLOUR_INK};
    snprintf(text, sizeof text, "%d", number);
    canvas_text(page, style, at.x, at.y + 5.0, text);
}

/* The ends of the sections so far. */
typedef struct ends {
    gradin_vec2 at[2 * GRADIN_MAX_PAGE_CUT];
    int n;
} ends;

/* Further in along the line where another number stands already. */
static void draw_stub(const plan *p, ends *done, gradin_vec2 wall, gradin_vec2 in, int number) {
    gradin_vec2 at = wall;
    for (int i = 0; i < done->n; i++) {
        if (hypot(at.x - done->at[i].x, at.y - done->at[i].y) >= 2.0 * NUMBER) continue;
        at = (gradin_vec2){at.x + 2.2 * NUMBER * in.x, at.y + 2.2 * NUMBER * in.y};
        i = -1;
    }
    canvas_line(p->page, wall, (gradin_vec2){at.x + STUB * in.x, at.y + STUB * in.y}, COLOUR_INK,
                2.0);
    draw_end(p->page, at, number);
    labels_take(p->grid, at, NUMBER + 2.0, NUMBER + 2.0, 0.0);
    done->at[done->n++] = at;
}

static void draw_cut_lines(const plan *p, const gradin_layout_page *mark) {
    ends done = {.n = 0};
    for (int i = 0; i < mark->n_cut; i++) {
        const gradin_cut *c = &mark->cut[i];
        gradin_vec2 a = view_point(p->v, c->from_m.x, c->from_m.y);
        gradin_vec2 b = view_point(p->v, c->from_m.x + c->length_m * c->unit.x,
                                   c->from_m.y + c->length_m * c->unit.y);
        draw_stub(p, &done, a, (gradin_vec2){c->unit.x, -c->unit.y}, i + 1);
        draw_stub(p, &done, b, (gradin_vec2){-c->unit.x, c->unit.y}, i + 1);
    }
}

static void draw_panel(const plan *p, const board_plan *what) {
    const gradin_seats *seats = &p->model->seats;
    plan_draw_ground(p);
    seats_take(p->grid, p->v, seats, p->sheet);
    if (what->is_named) seats_draw_others(p->page, p->v, seats, p->sheet);
    seats_draw(p->page, p->v, what->q, p->sheet);
    seats_draw_lines(p->page, p->v, seats, p->sheet);
    if (what->is_named) plan_draw_structure(p);
    plan_take_facade(p);
    plan_draw_facade(p);
    if (what->mark) draw_cut_lines(p, what->mark);
    if (!what->is_named) return;
    plan_name_focus(p);
    plan_draw_seat_names(p);
}

static void name_level(board *s, const gradin_model *model, int level, gradin_box2 panel) {
    text_style style = {.size = 16.0, .is_bold = true, .ink = COLOUR_QUIET};
    canvas_text_within(s->page, style, panel.x_min_m + FREE, panel.y_min_m - 6.0,
                       panel.x_max_m - panel.x_min_m - 2.0 * FREE, 12.0, model->sheet_name[level]);
}

double board_draw_plans(board *s, const board_plan *what, gradin_box2 box) {
    const gradin_model *model = what->q->model;
    int n = model->seats.n_sheet, columns = best_columns(model, box, n);
    double scale = 0.0;
    for (int i = 0; i < n; i++) {
        gradin_box2 panel = panel_of(box, n, columns, i);
        label_grid grid;
        view v;
        if (!view_in_box(model, panel, FREE, &v)) return 0.0;
        if (labels_open_box(&grid, s->scratch, panel, NULL) != GRADIN_OK) {
            s->failed = true;
            return 0.0;
        }
        const plan p = {s->page, &v, model, &grid, i, what->q->shades, NULL};
        draw_panel(&p, what);
        if (n > 1) name_level(s, model, i, panel);
        scale = v.unit_per_m;
    }
    return scale;
}
